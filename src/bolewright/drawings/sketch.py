"""The quick drawing beside the tape: side view and plan in one sheet, names and forces in large type.

Labels are put in rows without a search for the best place, so that it is there as soon as a number is entered.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from bolewright.drawings import units as u
from bolewright.drawings.forces import CARRIES, CLEAR, IDLE, ForceScale, arrow_ring, draw_mark
from bolewright.drawings.frame import View, fitted, ground_level, scene_points
from bolewright.drawings.ink import MEDIUM, THIN, inks
from bolewright.drawings.plan_view import draw_dot
from bolewright.drawings.shapes import moved, unit
from bolewright.drawings.structures import (
    LINES,
    draw_building,
    draw_building_from_above,
    draw_ground,
    draw_plate,
    draw_posts,
    draw_protected,
)
from bolewright.drawings.svg import Sheet, Spot
from bolewright.drawings.type_widths import Box, text_width
from bolewright.drawings.units import Units
from bolewright.drawings.wood import draw_wood
from bolewright.planning.results import SupportForce
from bolewright.planning.shapes import Scene

WIDTH, SIDE, TOP = 900.0, 470.0, 330.0
NAME, FORCE = 17.0, 16.0
LONGEST_ARROW, LARGEST_DOT = 64.0, 15.0
ROW = 22.0
ROWS = 3
HEAD = 34.0


def sketch(scene: Scene, forces: Sequence[SupportForce] = (), units: Units = "us", night: bool = False) -> str:
    """Side view with forces above, view from above below, as one SVG."""
    words = "; ".join(f"{f.id} {u.force_range(f.force_N, units)}" for f in forces if f.state == CARRIES)
    sheet = Sheet(WIDTH, SIDE + TOP, inks(night), f"{scene.title}: quick drawing", words or "Geometry as entered.")
    biggest = max((abs(f.force_N.high) for f in forces), default=0.0)
    _side(sheet, scene, forces, biggest, units)
    sheet.line([(0, SIDE), (WIDTH, SIDE)], MEDIUM)
    _from_above(sheet, scene, forces, biggest)
    return sheet.written()


def _side(sheet: Sheet, scene: Scene, forces: Sequence[SupportForce], biggest: float, units: Units) -> None:
    strip = ROWS * 2 * ROW if forces else 0.0
    view = fitted(
        "side", scene_points(scene), Box(50, HEAD + 16, WIDTH - 50, SIDE - 28 - strip - (36 if forces else 0))
    )
    height = ground_level(scene)
    for building in scene.buildings:
        draw_building(sheet, view, building, height(sum(p[0] for p in building.eave_corners) / 4))
    for thing in scene.protected:
        draw_protected(sheet, view, thing)
    draw_ground(sheet, view, scene, 0, WIDTH)
    draw_plate(sheet, view, scene)
    draw_posts(sheet, view, scene.supports)
    draw_wood(sheet, view, scene, {})
    _member_names(sheet, view, scene)
    scale = ForceScale(biggest, LONGEST_ARROW)
    tails = [(force, _draw_force(sheet, view, force, scale)) for force in forces if _worth(force)]
    _label_rows(sheet, tails, SIDE - strip - 6, units)
    sheet.text(12, 22, "From the right side", FORCE, bold=True)


def _worth(force: SupportForce) -> bool:
    return force.kind != "possible" or force.state == CARRIES


def _draw_force(sheet: Sheet, view: View, force: SupportForce, scale: ForceScale) -> Spot:
    """The arrow or mark of a support; gives back where its label points."""
    spot, away = view.at(force.point), unit(view.along(force.direction), (0.0, -1.0))
    if force.state != CARRIES:
        draw_mark(sheet, spot, away, CLEAR if force.state == CLEAR else IDLE, spot)
        return moved(spot, away, -11)
    down = force.force_N.likely < 0
    along = (-away[0], -away[1]) if down else away
    pulls = down or force.kind in LINES
    length = max(scale.length(force.force_N.likely), 12.0)
    tip = moved(spot, along, length) if pulls else spot
    sheet.area(arrow_ring(tip, along, length), sheet.ink.ink, sheet.ink.paper, MEDIUM, kind="arrow")
    return tip if pulls else moved(spot, along, -length)


def _label_rows(sheet: Sheet, tails: Iterable[tuple[SupportForce, Spot]], top: float, units: Units) -> None:
    """Names and forces in rows under the drawing, each under its arrow as far as there is room."""
    ends = [0.0] * ROWS
    for force, tail in sorted(tails, key=lambda pair: pair[1][0]):
        number = u.force_range(force.force_N, units) if force.state == CARRIES else force.state
        wide = max(text_width(force.id, NAME, True), text_width(number, FORCE, mono=True)) + 18
        row = next((k for k in range(ROWS) if tail[0] - 12 >= ends[k]), min(range(ROWS), key=lambda k: ends[k]))
        x = min(max(tail[0] - 6, ends[row] + 4), WIDTH - wide)
        y = top + row * 2 * ROW
        ends[row] = x + wide
        sheet.line([tail, (x + 4, y)], THIN, sheet.ink.quiet)
        sheet.text(x + 8, y + 16, force.id, NAME, bold=True, halo=True)
        sheet.text(x + 8, y + 16 + ROW * 0.85, number, FORCE - 1.5, mono=True, halo=True)


def _member_names(sheet: Sheet, view: View, scene: Scene) -> None:
    """The name of every limb at its tip, set beside it where another stands there already."""
    taken: list[Spot] = []
    tips = {run.member: run for run in scene.wood if run.member != "stem"}
    for name, run in tips.items():
        base, (x, y) = view.at(run.points[0]), view.at(run.points[-1])
        d = unit((x - base[0], y - base[1]), (0.0, -1.0))
        spot = (x + 15 * d[0], y + 15 * d[1] + 5)
        for _ in range(6):
            if all(abs(spot[0] - o[0]) > 26 or abs(spot[1] - o[1]) > 16 for o in taken):
                break
            spot = (spot[0] + 15, spot[1] - 8 * (1 if d[1] <= 0 else -1))
        taken.append(spot)
        sheet.text(spot[0], spot[1], name, FORCE, "middle", halo=True)


def _from_above(sheet: Sheet, scene: Scene, forces: Sequence[SupportForce], biggest: float) -> None:
    area = Box(0, SIDE, WIDTH, SIDE + TOP)
    view = fitted("top", scene_points(scene), Box(50, area.y0 + HEAD, WIDTH - 50, area.y1 - 16))
    for building in scene.buildings:
        draw_building_from_above(sheet, view, building)
    for thing in scene.protected:
        draw_protected(sheet, view, thing)
    draw_plate(sheet, view, scene)
    draw_posts(sheet, view, scene.supports)
    draw_wood(sheet, view, scene, {})
    scale = ForceScale(biggest, LARGEST_DOT)
    for force in forces:
        if _worth(force):
            radius = max(scale.length(force.force_N.likely), 4.0) if force.state == CARRIES else 5.0
            draw_dot(sheet, view.at(force.point), radius, force.state)
    _member_names(sheet, view, scene)
    for building in scene.buildings:
        x, y = view.at(building.eave_corners[0])
        spots = view.all_at(building.eave_corners)
        x, y = min(p[0] for p in spots), min(p[1] for p in spots)
        sheet.text(x + 8, y + 20, building.id, FORCE, italic=True, halo=True)
    sheet.text(12, area.y0 + 22, "From above", FORCE, bold=True)
