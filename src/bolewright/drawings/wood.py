"""Wood on the sheet: stem and limbs with their taper, near side solid, far side pale, hollows dashed, gone dotted."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Literal

from bolewright.drawings.frame import View
from bolewright.drawings.hatch import hatch
from bolewright.drawings.ink import HEAVY, MEDIUM, THIN
from bolewright.drawings.shapes import Band, band, between, distance, moved, pointed, scatter
from bolewright.drawings.svg import Sheet, Spot
from bolewright.planning.shapes import Outline, Point, Scene

PieceState = Literal["here", "now", "gone"]
FAR_SIDE = 0.3  # share of a limb's length it must run away from the viewer to be drawn pale
TWIG_TIP = 0.12  # a tip thinner than this [m] is drawn with a few twigs


def draw_wood(sheet: Sheet, view: View, scene: Scene, states: Mapping[str, PieceState]) -> None:
    """All wood, what is farther from the viewer first."""
    members = _by_member(scene)
    for runs in members.values():
        for run in runs:
            if states.get(run.piece, "here") == "gone":
                _draw_gone(sheet, band(view, run))
    for member in sorted(members, key=lambda name: _depth(view, members[name])):
        _draw_member(sheet, view, members[member], states, _grows_from_wood(scene, members[member][0]))


def _grows_from_wood(scene: Scene, first: Outline) -> bool:
    """True when a member's base lies inside another member."""
    base = first.points[0]
    for run in scene.wood:
        for a, b, thick in zip(run.points, run.points[1:], run.diameters, strict=False):
            if run.member != first.member and _from_segment(base, a, b) < 0.6 * thick:
                return True
    return False


def _from_segment(p: Point, a: Point, b: Point) -> float:
    """Distance of a point from a straight piece of axis."""
    run = [q - o for o, q in zip(a, b, strict=True)]
    size = sum(c * c for c in run) or 1.0
    t = sum((q - o) * c for o, q, c in zip(a, p, run, strict=True)) / size
    t = min(max(t, 0.0), 1.0)
    return math.dist(p, [o + t * c for o, c in zip(a, run, strict=True)])


def _by_member(scene: Scene) -> dict[str, list[Outline]]:
    members: dict[str, list[Outline]] = {}
    for run in scene.wood:
        if len(run.points) > 1:
            members.setdefault(run.member, []).append(run)
    return members


def _depth(view: View, runs: list[Outline]) -> float:
    """Painter's order: mean nearness to the viewer; a limb in the plane of its stem goes behind it."""
    points = [p for run in runs for p in run.points]
    near = sum(view.towards_viewer(p) for p in points) / len(points)
    return near if runs[0].member == "stem" else near - 0.12


def is_far(view: View, runs: list[Outline]) -> bool:
    """True when a member runs away from the viewer."""
    base, tip = runs[0].points[0], runs[-1].points[-1]
    away = view.towards_viewer(base) - view.towards_viewer(tip)
    return away > FAR_SIDE * math.dist(base, tip)


def _draw_member(sheet: Sheet, view: View, runs: list[Outline], states: Mapping[str, PieceState],
                 attached: bool) -> None:  # fmt: skip
    ink = sheet.ink
    far = is_far(view, runs)
    edge, weight = (ink.quiet, THIN) if far else (ink.ink, MEDIUM)
    fill = ink.wood_far if far else ink.wood
    if states.get(runs[-1].piece, "here") == "here" and runs[-1].diameters[-1] < TWIG_TIP:
        _draw_twigs(sheet, band(view, runs[-1]), edge, len(runs[0].member))
    for group in _joined(runs, states, "here"):
        shape = band(view, group)
        collar = attached and group.points[0] == runs[0].points[0]
        sheet.area(shape.ring, edge, edge, 2 * weight)
        if collar:
            sheet.circle(shape.axis[0], shape.halves[0] + weight, edge)
            sheet.circle(shape.axis[0], shape.halves[0], fill)
        _draw_body(sheet, shape, far)
        if shape.end_on:
            sheet.circle(shape.axis[-1], shape.halves[-1], ink.wood_far, edge, weight)
        _draw_hollow(sheet, view, group)
    for group in _joined(runs, states, "now"):
        _draw_now(sheet, band(view, group))


def _joined(runs: list[Outline], states: Mapping[str, PieceState], state: PieceState) -> list[Outline]:
    """Neighbouring runs in the same state as one, so that no joint shows."""
    groups: list[Outline] = []
    last = None
    for run in runs:
        if states.get(run.piece, "here") == state:
            if groups and last is not None and last.points[-1] == run.points[0]:
                groups[-1] = _appended(groups[-1], run)
            else:
                groups.append(run)
            last = run
    return groups


def _appended(first: Outline, then: Outline) -> Outline:
    hollow = (*_hollow(first), *_hollow(then)[1:])
    return Outline(first.member, first.piece, (*first.points, *then.points[1:]),
                   (*first.diameters, *then.diameters[1:]), hollow)  # fmt: skip


def _hollow(run: Outline) -> tuple[float, ...]:
    return run.hollow_diameters or (0.0,) * len(run.points)


def _draw_body(sheet: Sheet, shape: Band, far: bool) -> None:
    """Fill, the shaded under side, and bark strokes where there is room for them."""
    ink = sheet.ink
    sheet.area(shape.ring, ink.wood_far if far else ink.wood, ink.wood_far if far else ink.wood, 0.3, kind="wood")
    if far:
        return
    under = shape.left if _mean_y(shape.left) >= _mean_y(shape.right) else shape.right
    inner = [between(a, e, 0.36) for a, e in zip(shape.axis, under, strict=True)]
    sheet.area([*under, *reversed(inner)], ink.wood_shade, ink.wood_shade, 0.2)
    sheet.strokes(_bark(shape), THIN, ink.bark)


def _mean_y(edge: tuple[Spot, ...]) -> float:
    return sum(y for _, y in edge) / len(edge)


def _bark(shape: Band) -> list[tuple[Spot, Spot]]:
    """Short strokes along the grain, more on the shaded side."""
    strokes = []
    for k, (a, b) in enumerate(zip(shape.axis, shape.axis[1:], strict=False)):
        run, half = distance(a, b), min(shape.halves[k], shape.halves[k + 1])
        if half < 4 or run < 6:
            continue
        count = int(run * half / 150)
        along, across, spans = scatter(count, 7 * k), scatter(count, 31 + 3 * k), scatter(count, 11 * k)
        d = pointed(a, b)
        n = (-d[1], d[0]) if d[0] >= 0 else (d[1], -d[0])
        for t, s, w in zip(along, across, spans, strict=True):
            level = (0.9 - 1.5 * s * ((s * 13 + t * 7) % 1.0)) * half * 0.94
            long = min(5 + 11 * ((w * 5 + s * 3) % 1.0), run * 0.5)
            start = moved(moved(a, d, t * (run - long)), n, level)
            strokes.append((start, moved(start, d, long)))
    return strokes


def _draw_twigs(sheet: Sheet, shape: Band, colour: str, seed: int) -> None:
    """A hint of small wood at a tip: drawn, not measured."""
    tip = shape.axis[-1]
    d = pointed(shape.axis[-2], tip)
    reach = min(20.0, max(7.0, 0.3 * distance(shape.axis[0], tip)))
    strokes = []
    for k, long in enumerate(scatter(5, seed)):
        turn = math.radians((k - 2) * 21 + 9 * (long - 0.5))
        c, s = math.cos(turn), math.sin(turn)
        start = moved(tip, d, -2.0 - 3.0 * (k % 2))
        strokes.append((start, moved(start, (d[0] * c - d[1] * s, d[0] * s + d[1] * c), reach * (0.6 + 0.5 * long))))
    sheet.strokes(strokes, THIN, colour)


def _draw_hollow(sheet: Sheet, view: View, run: Outline) -> None:
    if not any(d > 0 for d in run.hollow_diameters):
        return
    shape = band(view, run, inside=True)
    for edge in (shape.left, shape.right):
        open_run = [spot for spot, half in zip(edge, shape.halves, strict=True) if half > 0]
        sheet.line(open_run, MEDIUM, sheet.ink.ink, "5 3", kind="hollow")
    ends = [k for k, half in enumerate(shape.halves) if half > 0]
    for k in (ends[0], ends[-1]):
        sheet.line([shape.left[k], shape.right[k]], MEDIUM, sheet.ink.ink, "5 3", kind="hollow")


def _draw_gone(sheet: Sheet, shape: Band) -> None:
    """What is no longer there: a dotted outline, no fill."""
    for edge in (shape.left, shape.right):
        sheet.line(edge, THIN * 1.5, sheet.ink.gone, "1.5 3", kind="gone")


def _draw_now(sheet: Sheet, shape: Band) -> None:
    """What is cut off in this step: heavy outline and cross hatch."""
    ink = sheet.ink
    sheet.area(shape.ring, ink.ink, ink.ink, 2 * HEAVY)
    sheet.area(shape.ring, ink.paper, ink.paper, 0.2, kind="now")
    sheet.strokes(hatch([shape.ring], 5.0, 45) + hatch([shape.ring], 5.0, -45), THIN * 1.2, ink.ink)
