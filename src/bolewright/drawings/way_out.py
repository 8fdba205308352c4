"""The way out on the site plan, and unrolled below it with every sheet in its place, both to scale."""

from __future__ import annotations

from collections.abc import Sequence

from bolewright.drawings import units as u
from bolewright.drawings.callouts import Callout, Words, put_callouts
from bolewright.drawings.frame import View, fitted, scene_points
from bolewright.drawings.ink import LARGE, MEDIUM, SMALL, inks
from bolewright.drawings.labels import Placer
from bolewright.drawings.panels import MARGIN, ROW, draw_border, draw_divider, draw_legend, draw_north, draw_title
from bolewright.drawings.shapes import between, distance, moved, pointed
from bolewright.drawings.stage import discourage_inside
from bolewright.drawings.structures import draw_building_from_above, draw_plate, draw_protected, protected_ring
from bolewright.drawings.svg import Sheet, Spot
from bolewright.drawings.type_widths import Box, wrapped
from bolewright.drawings.units import Units
from bolewright.drawings.way_marks import (
    draw_arrow,
    draw_crane,
    draw_gate,
    draw_keep_off,
    draw_sheet,
    draw_sheet_number,
    draw_steps,
    draw_surface,
    draw_turn,
    sheet_numbers,
    way_keys,
)
from bolewright.drawings.way_strip import draw_strip, strip_height
from bolewright.drawings.wood import draw_wood
from bolewright.planning.haul.results import OutResult, RouteOut, StretchOut
from bolewright.planning.shapes import Point, Scene

WIDTH, PLAN, DEEP = 1200.0, 620.0, 196.0


def way_out(scene: Scene, result: OutResult, units: Units = "us", night: bool = False) -> str:
    """The site with the way out, the strip of sheets below it, and what was found, as SVG."""
    strip = strip_height(result)
    height = MARGIN + PLAN + strip + DEEP + MARGIN
    sheet = Sheet(WIDTH, height, inks(night), f"{scene.title}: the way out", _description(result, units))
    area = Box(MARGIN + 4, MARGIN + 4, WIDTH - MARGIN - 4, MARGIN + PLAN)
    view = fitted("top", _points(scene, result), Box(area.x0 + 120, area.y0 + 40, area.x1 - 120, area.y1 - 40))
    placer = Placer(area)
    labels = _draw_site(sheet, view, placer, scene, result)
    labels += _draw_way(sheet, view, placer, result, units)
    draw_north(sheet, placer, (area.x1 - 62, area.y0 + 62), scene.bearing_deg)
    lost = put_callouts(sheet, placer, labels)
    band = Box(MARGIN, height - MARGIN - DEEP, WIDTH - MARGIN, height - MARGIN)
    draw_strip(sheet, Box(MARGIN, area.y1, WIDTH - MARGIN, band.y0), result, units)
    draw_border(sheet, band)
    _panels(sheet, band, scene, result, view, units, lost)
    return sheet.written()


def _points(scene: Scene, result: OutResult) -> list[Point]:
    """Everything the plan must show."""
    route = result.route
    flat = [spot for one in route.stretches for spot in (one.start, one.end) if spot is not None]
    flat += [corner for place in route.keep_off for corner in place.corners]
    flat += [gate.at for gate in route.gates if gate.at is not None]
    flat += [spot for spot in (result.crane_at, result.crane_down) if spot is not None]
    return [*scene_points(scene), *((x, y, 0.0) for x, y in flat)]


def _draw_site(sheet: Sheet, view: View, placer: Placer, scene: Scene, result: OutResult) -> list[Callout]:
    """Buildings, things to protect, ground to keep off, and the tree."""
    labels = []
    for building in scene.buildings:
        draw_building_from_above(sheet, view, building)
        corners = view.all_at(building.eave_corners)
        placer.discourage([*corners, corners[0]], 4, 4.0)
        spots = [
            (sum(x for x, _ in corners) / 4, y(c for _, c in corners) + dy) for y, dy in ((min, 18.0), (max, -18.0))
        ]
        labels.append(Callout((Words(building.id, LARGE, bold=True),), tuple(spots), leader=False))
    for thing in scene.protected:
        draw_protected(sheet, view, thing)
        discourage_inside(placer, protected_ring(view, thing))
        labels.append(Callout((Words(f"protect: {thing.id}", SMALL, italic=True),), (protected_ring(view, thing)[0],)))
    for place in result.route.keep_off:
        ring = [view.at((x, y, 0.0)) for x, y in place.corners]
        draw_keep_off(sheet, ring, place.buried, place.crossed)
        labels.append(Callout(_keep_off_words(place.id, place.kind, place.crossed, sheet.ink.stop), tuple(ring)))
    draw_plate(sheet, view, scene)
    draw_wood(sheet, view, scene, {})
    for run in scene.wood:
        placer.discourage(view.all_at(run.points), 10, 4.0)
    return labels


def _keep_off_words(name: str, kind: str, crossed: bool, stop: str) -> tuple[Words, ...]:
    what = name if kind in name or kind == "other" else f"{name} ({kind})"
    words = [Words(f"KEEP OFF: {what}", SMALL, bold=True, colour=stop)]
    return (*words, Words("the way runs over it", SMALL, colour=stop)) if crossed else tuple(words)


def _draw_way(sheet: Sheet, view: View, placer: Placer, result: OutResult, units: Units) -> list[Callout]:
    """The way as wide as what goes on it, sheets, steps, gates and turning places, with a label a stretch."""
    route = result.route
    labels: list[Callout] = []
    half = route.track_m / 2.0 * view.scale
    drawn = [(n, one, ends) for n, one in enumerate(route.stretches, 1) if (ends := _ends(view, one)) is not None]
    for _, one, (a, b) in drawn:
        draw_surface(sheet, _ribbon(a, b, half), one.surface)
    boards = _boards(view, result)
    wide = result.boards.width_m / 2.0 * view.scale if result.boards is not None else 0.0
    for _, ring in boards:
        draw_sheet(sheet, ring)
    for n, one, (a, b) in drawn:
        sheet.line([a, b], MEDIUM, kind="way out")
        draw_arrow(sheet, a, b)
        placer.discourage([a, b], max(half, wide, 6.0), 9.0)
        draw_steps(sheet, b, pointed(a, b), half, one.steps)
        if one.turn_m is not None:
            draw_turn(sheet, moved(b, pointed(b, a), one.turn_m / 2 * view.scale), one.turn_m / 2.0 * view.scale)
        labels.append(
            Callout(stretch_words(n, one, units), (between(a, b, 0.5), between(a, b, 0.25), between(a, b, 0.75)))
        )
    labels += _draw_gates(sheet, view, route, [ends for _, _, ends in drawn], units)
    numbers = sheet_numbers(result.boards)
    for n, ring in boards:
        draw_sheet_number(sheet, ring, numbers[n])
    return labels + _draw_crane(sheet, view, result)


def _ends(view: View, one: StretchOut) -> tuple[Spot, Spot] | None:
    if one.start is None or one.end is None:
        return None
    return view.at((*one.start, 0.0)), view.at((*one.end, 0.0))


def _ribbon(a: Spot, b: Spot, half: float) -> list[Spot]:
    along = pointed(a, b)
    across = (-along[1], along[0])
    return [moved(a, across, half), moved(b, across, half), moved(b, across, -half), moved(a, across, -half)]


def _boards(view: View, result: OutResult) -> list[tuple[int, list[Spot]]]:
    """Number and outline of every sheet on the plan, true to scale."""
    places = result.boards.places if result.boards is not None else ()
    return [(place.n, [view.at((x, y, 0.0)) for x, y in place.corners]) for place in places if place.corners]


def _draw_gates(
    sheet: Sheet, view: View, route: RouteOut, ways: Sequence[tuple[Spot, Spot]], units: Units
) -> list[Callout]:
    labels = []
    for gate in route.gates:
        if gate.at is None:
            continue
        spot = view.at((*gate.at, 0.0))
        a, b = min(ways, key=lambda ends: _off(spot, *ends), default=((0.0, 0.0), (1.0, 0.0)))
        draw_gate(sheet, spot, pointed(a, b), gate.width_m / 2.0 * view.scale)
        labels.append(Callout((Words(f"{gate.id}, {u.size(gate.width_m, units)} clear", SMALL, bold=True),), (spot,)))
    return labels


def _off(spot: Spot, a: Spot, b: Spot) -> float:
    """Distance of a place from a line."""
    length = distance(a, b) ** 2 or 1.0
    share = ((spot[0] - a[0]) * (b[0] - a[0]) + (spot[1] - a[1]) * (b[1] - a[1])) / length
    return distance(spot, between(a, b, max(0.0, min(1.0, share))))


def _draw_crane(sheet: Sheet, view: View, result: OutResult) -> list[Callout]:
    labels = []
    for spot, words in ((result.crane_at, "crane"), (result.crane_down, "crane sets down here")):
        if spot is not None:
            at = view.at((*spot, 0.0))
            draw_crane(sheet, at)
            labels.append(Callout((Words(words, SMALL, bold=True),), (at,)))
    return labels


def stretch_words(n: int, one: StretchOut, units: Units) -> tuple[Words, ...]:
    """Number, surface, length, slope and what narrows a stretch."""
    words = [Words(f"{n}  {one.surface}, {u.length(one.to_m - one.from_m, units)}", SMALL, bold=True)]
    more = []
    if one.slope_rad:
        more.append(f"{'climbs' if one.slope_rad > 0 else 'falls'} {u.degrees(abs(one.slope_rad))}")
    if one.steps:
        more.append(f"{one.steps} step{'s' if one.steps > 1 else ''}")
    if one.width_m is not None:
        more.append(f"{u.length(one.width_m, units)} clear")
    if one.turn_m is not None:
        more.append(f"{u.length(one.turn_m, units)} to turn")
    return (*words, Words(", ".join(more), SMALL)) if more else tuple(words)


def _panels(sheet: Sheet, band: Box, scene: Scene, result: OutResult, view: View, units: Units, lost: int) -> None:
    """Legend, what was found, and the title block."""
    route = result.route
    kinds = {"buried" if place.buried else "keep off" for place in route.keep_off}
    kinds |= {name for name, there in (
        ("gate", any(gate.at for gate in route.gates)), ("steps", route.steps > 0), ("turn", bool(route.turns_m)),
        ("crane", result.crane_at is not None),
    ) if there}  # fmt: skip
    sheets = result.boards is not None and bool(result.boards.places)
    legend = Box(band.x0, band.y0, band.x0 + 226, band.y1)
    draw_legend(sheet, legend, way_keys([one.surface for one in route.stretches], sheets, kinds))
    draw_divider(sheet, band, legend.x1)
    title = Box(band.x1 - 330, band.y0, band.x1, band.y1)
    draw_divider(sheet, band, title.x0)
    notes = [f"{lost} labels left off for want of room: see the tables."] if lost else []
    if not any(one.start and one.end for one in route.stretches):
        notes.append("The way has no points on the site plan: it is only unrolled.")
    draw_title(sheet, title, scene.title, "The way out", notes, view.scale, units)
    _draw_found(sheet, Box(legend.x1 + 12, band.y0 + 8, title.x0 - 10, band.y1 - 6), result, units)


def _draw_found(sheet: Sheet, box: Box, result: OutResult, units: Units) -> None:
    """What the way asks for, in words: head on the left, sentence beside it."""
    y = box.y0 + 12
    for head, words, stop in _found(result, units):
        colour = sheet.ink.stop if stop else None
        for k, line in enumerate(wrapped(words, SMALL, box.x1 - box.x0 - 74)):
            if y > box.y1:
                return
            sheet.text(box.x0, y, head if k == 0 else "", SMALL, bold=True, colour=colour)
            sheet.text(box.x0 + 74, y, line, SMALL, colour=colour)
            y += ROW * 0.92


def _found(result: OutResult, units: Units) -> list[tuple[str, str, bool]]:
    rows = [("outside", words, True) for words in result.outside]
    trips = f"{result.trips} trips with {result.machine}, heaviest part {u.mass_range(result.heaviest_kg, units)}"
    rows.append(("load", trips, False))
    ground, boards = result.ground, result.boards
    if ground is not None:
        pressed = f"{u.pressure_range(result.pressure_kPa, units)}, limit {u.pressure(ground.limit_kPa, units)}"
        wheel = f"; heaviest wheel {u.force_range(ground.wheel_N, units)}" if ground.wheel_N.high > 0 else ""
        rows.append((ground.surface, f"{ground.state}: gets {pressed}{wheel}; {ground.passes} passes", False))
    if boards is not None:
        rows.append(("sheets", f"{boards.needed} needed, {boards.have} on the truck; {boards.words}", False))
        if boards.moves:
            ahead = (
                f"With {boards.down} down, the sheet behind goes ahead: sheet 1 next lies at place {boards.down + 1}."
            )
            rows.append(("ahead", ahead, False))
    told = next((note for note in result.notes if note.startswith("The owner has not said")), "")
    rows += [("ask", told, True)] if told else []
    gates = [f"{gate.id} {u.size(gate.width_m, units)}" for gate in result.route.gates]
    return rows + ([("gates", ", ".join(gates), False)] if gates else [])


def _description(result: OutResult, units: Units) -> str:
    ways = "; ".join(" ".join(words.text for words in stretch_words(n, one, units))
                     for n, one in enumerate(result.route.stretches, 1))  # fmt: skip
    off = ", ".join(place.id for place in result.route.keep_off) or "nothing recorded"
    return f"The way out: {ways}. Keep off: {off}. {result.sheets} sheets, {result.trips} trips with {result.machine}."
