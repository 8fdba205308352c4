"""The side view with a mark on every cut that can be moved: what is dragged on the page What if.

A mark is a kerf line with a grip that points both ways along the wood. What a page needs to move it goes with it as
data: the run of wood on the sheet, with the distance along the member at each of its points.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from bolewright.drawings.callouts import Callout, Words, put_callouts
from bolewright.drawings.forces import as_found, draw_supports, scale_for
from bolewright.drawings.frame import View, scene_points
from bolewright.drawings.ink import HEAVY, MEDIUM, SMALL, inks
from bolewright.drawings.shapes import between, moved, pointed
from bolewright.drawings.stage import Stage, building_callouts, draw_stage
from bolewright.drawings.svg import Sheet, Spot, number
from bolewright.drawings.type_widths import Box
from bolewright.drawings.units import Units
from bolewright.planning.order.movable import MovableCut
from bolewright.planning.results import HoldResult
from bolewright.planning.shapes import Scene

WIDTH, LOWEST, HIGHEST = 760.0, 320.0, 470.0
SIDE, OVER = 34.0, 30.0
LONGEST_ARROW = 50.0
GRIP, FLAT, HALF = 17.0, 4.0, 8.0  # half length along the wood, of its flat part, half width
PROUD, AWAY = 5.0, 13.0  # kerf beyond the bark; grip beyond the kerf


def trial(scene: Scene, hold: HoldResult | None, cuts: Sequence[MovableCut], chosen: str = "",
          tried: float | None = None, units: Units = "us", night: bool = False) -> str:  # fmt: skip
    """The side view as SVG; the mark of the chosen cut is filled, and stands at `tried` [m] where that is given."""
    under = 104.0 if hold else 60.0
    height = _height(scene, under)
    sheet = Sheet(WIDTH, height, inks(night), f"{scene.title}: cuts that can be moved", _words(cuts))
    area = Box(4, 4, WIDTH - 4, height - 4)
    inner = Box(area.x0 + SIDE, area.y0 + OVER, area.x1 - SIDE, area.y1 - under)
    stage = draw_stage(sheet, scene, area, inner, {}, scene.supports)
    for cut in cuts:
        _draw_cut(sheet, stage, cut, cut.piece == chosen, tried if cut.piece == chosen else None)
    scale = scale_for(hold, None, LONGEST_ARROW)
    labels = draw_supports(sheet, stage.view, stage.placer, as_found(scene, hold), scale, units, full=False)
    buildings, things = building_callouts(stage.view, scene, units)
    put_callouts(sheet, stage.placer, [*labels, *buildings, *things, *_names(stage, scene)])
    return sheet.written()


def _height(scene: Scene, under: float) -> float:
    """No higher than the view needs at full width: on a tablet the answer stands under it."""
    points = scene_points(scene)
    xs, zs = [p[0] for p in points] or [0.0], [p[2] for p in points] or [0.0]
    scale = (WIDTH - 2 * SIDE - 8) / max(max(xs) - min(xs), 0.5)
    return min(max(OVER + under + scale * (max(zs) - min(zs)) + 8, LOWEST), HIGHEST)


def _names(stage: Stage, scene: Scene) -> list[Callout]:
    return [Callout((Words(run.piece, SMALL),), (stage.view.at(run.points[len(run.points) // 2]),), reach=120)
            for run in scene.wood]  # fmt: skip


def _draw_cut(sheet: Sheet, stage: Stage, cut: MovableCut, chosen: bool, tried: float | None) -> None:
    """The kerf where the cut is, pale where another place is tried; the grip where it stands now."""
    here = _place(stage.view, cut, cut.at if tried is None else tried)
    if tried is not None:
        middle, along, half = _place(stage.view, cut, cut.at)
        square = _outward(along)
        ends = [moved(middle, square, half + PROUD), moved(middle, square, -half - PROUD)]
        sheet.line(ends, MEDIUM, dash="4 3", kind="kerf was")
    middle, along, half = here
    square = _outward(along)
    top, bottom = moved(middle, square, half + PROUD), moved(middle, square, -half - PROUD)
    sheet.line([top, bottom], HEAVY + 2.6, sheet.ink.paper)
    _mark(sheet, stage.view, cut, [top, bottom], along, cut.at if tried is None else tried, chosen)
    stage.placer.block_run([bottom, moved(top, square, 2 * AWAY)], 4)
    stage.placer.block_run(_grip(moved(top, square, AWAY), along), 3)


def _mark(sheet: Sheet, view: View, cut: MovableCut, ends: list[Spot], along: Spot, shown: float,
          chosen: bool) -> None:  # fmt: skip
    """Kerf and grip, with what it takes to move them."""
    run = " ".join(",".join(number(v) for v in (*view.at(point), 100.0 * s))
                   for s, point in zip(cut.stations, cut.points, strict=True))  # fmt: skip
    line = " ".join(f"{number(x)},{number(y)}" for x, y in ends)
    sheet.add("polyline", {"class": "kerf", "data-kerf": cut.piece, "points": line, "fill": "none",
                           "stroke": sheet.ink.ink, "stroke-width": HEAVY, "stroke-linecap": "round"})  # fmt: skip
    spots = _grip(moved(ends[0], pointed(ends[1], ends[0]), AWAY), along)
    ring = " ".join(f"{number(x)},{number(y)}" for x, y in spots)
    data = {"piece": cut.piece, "member": cut.member, "low": number(100.0 * cut.low), "shown": number(100.0 * shown),
            "high": number(100.0 * cut.high), "run": run}  # fmt: skip
    sheet.add("polygon", {"class": "grip", **{f"data-{name}": value for name, value in data.items()}, "points": ring,
                          "fill": sheet.ink.ink if chosen else sheet.ink.paper, "stroke": sheet.ink.ink,
                          "stroke-width": MEDIUM, "stroke-linejoin": "round"})  # fmt: skip


def _grip(centre: Spot, along: Spot) -> list[Spot]:
    """A flat lozenge, its points along the wood: it goes both ways."""
    square = (-along[1], along[0])
    corners = ((GRIP, 0.0), (FLAT, HALF), (-FLAT, HALF), (-GRIP, 0.0), (-FLAT, -HALF), (FLAT, -HALF))
    return [moved(moved(centre, along, a), square, b) for a, b in corners]


def _outward(along: Spot) -> Spot:
    """Square to the wood, towards the top of the sheet."""
    square = (along[1], -along[0])
    return square if square[1] <= 0 else (-square[0], -square[1])


def _place(view: View, cut: MovableCut, at: float) -> tuple[Spot, Spot, float]:
    """Middle of the kerf on the sheet, direction of the wood there, half its width."""
    spots = view.all_at(cut.points)
    wide = [0.5 * d * view.scale for d in cut.diameters]
    for (s0, a, h0), (s1, b, h1) in pairwise(zip(cut.stations, spots, wide, strict=True)):
        if (s1 > s0 and at <= s1) or s1 == cut.stations[-1]:
            t = min(max((at - s0) / (s1 - s0), 0.0), 1.0) if s1 > s0 else 1.0
            return between(a, b, t), pointed(spots[0], spots[-1]), h0 + t * (h1 - h0)
    return spots[0], (1.0, 0.0), wide[0]


def _words(cuts: Sequence[MovableCut]) -> str:
    """The drawing in words."""
    return f"Side view with a grip on each of {len(cuts)} cuts: {', '.join(cut.piece for cut in cuts)}."
