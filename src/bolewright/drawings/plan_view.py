"""The job from above: what is where, what must not be hit, and where people must be out."""

from __future__ import annotations

import math
from collections.abc import Sequence

from bolewright.drawings import units as u
from bolewright.drawings.callouts import Callout, Words, put_balloon, put_callouts
from bolewright.drawings.cutmarks import SHAPES, draw_kerf, kerf_ends
from bolewright.drawings.forces import CARRIES, CLEAR, IDLE, ForceScale, Shown, after_step, as_found, scale_for
from bolewright.drawings.frame import View, fitted, scene_points
from bolewright.drawings.hatch import hatch
from bolewright.drawings.ink import HEAVY, LARGE, MEDIUM, SMALL, THIN, inks
from bolewright.drawings.labels import Placer
from bolewright.drawings.legend import far_key, gone_key, now_key, number_keys, protect_key, state_keys, zone_key
from bolewright.drawings.panels import (
    MARGIN,
    RANGES_NOTE,
    ROW,
    Key,
    bearing_note,
    draw_border,
    draw_dead_end,
    draw_divider,
    draw_legend,
    draw_north,
    draw_steps,
    draw_title,
    step_words,
)
from bolewright.drawings.shapes import band, hull
from bolewright.drawings.stage import discourage_inside
from bolewright.drawings.strip import states_at, step_of
from bolewright.drawings.structures import (
    draw_building_from_above,
    draw_plate,
    draw_posts,
    draw_protected,
    protected_ring,
)
from bolewright.drawings.svg import Sheet, Spot
from bolewright.drawings.type_widths import Box, wrapped
from bolewright.drawings.units import Units
from bolewright.drawings.wood import PieceState, draw_wood
from bolewright.planning.results import CutStep, HoldResult, Plan
from bolewright.planning.shapes import Point, Scene

WIDTH, HEIGHT, DEEP = 1200.0, 860.0, 186.0
LARGEST_DOT = 15.0  # radius of the support that carries most


def plan_view(scene: Scene, plan: Plan | None = None, step: int | None = None, hold: HoldResult | None = None,
              units: Units = "us", night: bool = False) -> str:  # fmt: skip
    """The view from above as SVG: all drop zones of the plan, or that of one step."""
    chosen = step_of(plan, step) if plan and step is not None else None
    steps = [chosen] if chosen else list(plan.steps) if plan else []
    name = f"From above, step {chosen.n}" if chosen else "From above"
    sheet = Sheet(WIDTH, HEIGHT, inks(night), f"{scene.title}: {name.lower()}", _description(scene, steps))
    band_box = Box(MARGIN, HEIGHT - MARGIN - DEEP, WIDTH - MARGIN, HEIGHT - MARGIN)
    area = Box(MARGIN + 4, MARGIN + 4, WIDTH - MARGIN - 4, band_box.y0 - 4)
    zones = [s.drop_zone for s in steps if len(s.drop_zone) > 2]
    view = fitted("top", scene_points(scene, zones), Box(area.x0 + 120, area.y0 + 56, area.x1 - 120, area.y1 - 40))
    placer = Placer(area)
    states = states_at(plan, chosen.n) if plan and chosen else {}
    _draw_ground_things(sheet, view, placer, scene, zones)
    draw_posts(sheet, view, [s for s in scene.supports if not chosen or s.id in chosen.forces_after])
    draw_wood(sheet, view, scene, states)
    _keep_off(placer, view, scene, states)
    draw_north(sheet, placer, (area.x1 - 62, area.y0 + 62), scene.bearing_deg)
    scale = scale_for(hold, plan, LARGEST_DOT)
    shown = after_step(scene, chosen, hold, scale) if chosen else as_found(scene, hold)
    labels = _draw_dots(sheet, view, placer, shown, scale, units)
    _number(sheet, view, scene, placer, steps)
    labels += _names(view, scene, zones, sheet.ink.stop)
    lost = put_callouts(sheet, placer, labels)
    draw_border(sheet, band_box)
    _panels(sheet, band_box, scene, plan, chosen, view, name, _keys(scene, steps, chosen, shown), units, lost)
    return sheet.written()


def _draw_ground_things(
    sheet: Sheet, view: View, placer: Placer, scene: Scene, zones: Sequence[Sequence[Point]]
) -> None:
    """Buildings, things to protect, and the line people must be out of round the drop zones."""
    for building in scene.buildings:
        draw_building_from_above(sheet, view, building)
        corners = view.all_at(building.eave_corners)
        placer.discourage([*corners, corners[0]], 4, 4.0)
        placer.discourage(view.all_at(building.ridge), 3, 2.0)
    for thing in scene.protected:
        draw_protected(sheet, view, thing)
        discourage_inside(placer, protected_ring(view, thing))
    if zones:
        line = people_line([view.all_at(zone) for zone in zones])
        sheet.strokes(hatch([line, _inset(line, 15.0)], 8.0, 45), THIN, sheet.ink.stop, kind="zone")
        sheet.area(line, "none", sheet.ink.stop, HEAVY, "12 5", kind="people out")
        placer.discourage([*line, line[0]], 10, 2.0)
    draw_plate(sheet, view, scene)


def people_line(rings: Sequence[Sequence[Spot]]) -> list[Spot]:
    """One line round all drop zones, as a rope would lie."""
    return hull(spot for ring in rings for spot in ring)


def _inset(ring: Sequence[Spot], by: float) -> list[Spot]:
    """A convex ring drawn in by about a distance: the hatch runs along its edge only."""
    x, y = (sum(spot[i] for spot in ring) / len(ring) for i in range(2))
    inner = []
    for a in ring:
        away = math.hypot(a[0] - x, a[1] - y) or 1.0
        inner.append((a[0] + (x - a[0]) * by * 1.3 / away, a[1] + (y - a[1]) * by * 1.3 / away))
    return inner


def _keep_off(placer: Placer, view: View, scene: Scene, states: dict[str, PieceState]) -> None:
    for run in scene.wood:
        if states.get(run.piece, "here") != "gone" and len(run.points) > 1:
            shape = band(view, run)
            placer.discourage(shape.axis, max(shape.halves) + 2, 5.0)


def _draw_dots(sheet: Sheet, view: View, placer: Placer, shown: Sequence[Shown], scale: ForceScale,
               units: Units) -> list[Callout]:  # fmt: skip
    """Supports from above: a disc whose area grows with force, a ring for what carries nothing."""
    labels = []
    for support in shown:
        spot = view.at(support.point)
        carrying = support.state == CARRIES and support.force is not None
        radius = max(scale.length(support.force.likely), 4.0) if carrying and support.force else 5.0
        draw_dot(sheet, spot, radius, support.state)
        placer.block(Box(spot[0], spot[1], spot[0], spot[1]), radius + 1)
        if support.kind == "possible" and support.state == CLEAR:
            continue
        word = f"{support.id}: {support.state}" if support.state else f"{support.id} ({support.kind})"
        lines = [Words(word, SMALL, bold=carrying)]
        if carrying and support.force:
            lines.append(Words(u.force_range(support.force, units), SMALL - 0.5, mono=True))
        labels.append(Callout(tuple(lines), (spot,), (0.0, 1.0)))
    return labels


def draw_dot(sheet: Sheet, spot: Spot, radius: float, state: str) -> None:
    """A support from above."""
    ink = sheet.ink
    sheet.circle(spot, radius + 1.5, ink.paper)
    if state == CARRIES:
        sheet.circle(spot, radius, ink.ink, ink.ink, THIN, kind="support")
        sheet.circle(spot, 1.6, ink.paper)
    else:
        sheet.circle(spot, radius, ink.paper, ink.ink, MEDIUM, "2 1.5" if state == CLEAR else None, kind="support")


def _number(sheet: Sheet, view: View, scene: Scene, placer: Placer, steps: Sequence[CutStep]) -> None:
    ends = {step.n: kerf_ends(view, scene, step) for step in steps}
    for step in steps:
        if step.action == "cut":
            draw_kerf(sheet, placer, ends[step.n])
    for step in steps:
        anchors = ends[step.n] if step.action == "cut" else (view.at(step.point),)
        put_balloon(sheet, placer, step.n, anchors, SHAPES.get(step.action, "circle"))


def _names(view: View, scene: Scene, zones: Sequence[Sequence[Point]], stop: str) -> list[Callout]:
    """Names of buildings and things to protect, and the word at the people-out line."""
    names = []
    if zones:
        line = people_line([view.all_at(zone) for zone in zones])
        names.append(Callout((Words("PEOPLE OUT inside this line", LARGE, bold=True, colour=stop),), tuple(line)))
    for building in scene.buildings:
        corners = view.all_at(building.eave_corners)
        x = sum(c[0] for c in corners) / 4
        y = min(c[1] for c in corners) + 16
        names.append(Callout((Words(building.id, LARGE, bold=True),), ((x, y),), leader=False))
    for thing in scene.protected:
        ring = protected_ring(view, thing)
        middle = (sum(x for x, _ in ring) / len(ring), sum(y for _, y in ring) / len(ring))
        word = thing.id if thing.kind in thing.id else f"{thing.id} ({thing.kind})"
        words = Words(f"protect: {word}", SMALL, italic=True)
        roomy = max(x for x, _ in ring) - min(x for x, _ in ring) > words.width
        spots = tuple((middle[0], middle[1] + dy) for dy in (0, -24, 24)) if roomy else (middle,)
        names.append(Callout((words,), spots, leader=not roomy))
    return names


def _keys(scene: Scene, steps: Sequence[CutStep], chosen: CutStep | None, shown: Sequence[Shown]) -> list[Key]:
    keys = state_keys({s.state for s in shown if s.state}, draw_dot, (CARRIES, IDLE, CLEAR))
    keys += number_keys({step.action for step in steps})
    keys += [zone_key()] if any(step.drop_zone for step in steps) else []
    keys += [protect_key()] if scene.protected else []
    keys += [now_key(), gone_key()] if chosen else [far_key("limb below the stem")]
    return keys


def _panels(sheet: Sheet, box: Box, scene: Scene, plan: Plan | None, chosen: CutStep | None, view: View, name: str,
            keys: Sequence[Key], units: Units, lost: int) -> None:  # fmt: skip
    title = Box(box.x1 - 352, box.y0, box.x1, box.y1)
    notes = [f"{lost} labels left off for want of room: see the tables."] if lost else []
    notes += [RANGES_NOTE, bearing_note(scene.bearing_deg)]
    draw_title(sheet, title, scene.title, name, notes, view.scale, units)
    draw_divider(sheet, box, title.x0)
    legend = Box(box.x0, box.y0, box.x0 + 220, box.y1)
    draw_legend(sheet, legend, keys)
    if plan and chosen is None:
        draw_divider(sheet, box, legend.x1)
        middle = Box(legend.x1, box.y0, title.x0, box.y1)
        if plan.steps:
            draw_steps(sheet, middle, plan.steps, units)
        else:
            draw_dead_end(sheet, middle, plan)
    elif chosen:
        draw_divider(sheet, box, legend.x1)
        draw_steps(sheet, Box(legend.x1, box.y0, title.x0, box.y1), [chosen], units, columns=1)
        _draw_notes(sheet, Box(legend.x1 + 14, box.y0 + 30, title.x0 - 8, box.y1), chosen)


def _draw_notes(sheet: Sheet, box: Box, step: CutStep) -> None:
    """Where to stand, what moves, what to watch, when to stop."""
    rows = [("stand", step.stand, False), ("comes off", step.leaves.words, False), ("stays", step.stays.words, False)]
    rows += [("watch", words, False) for words in step.watch]
    rows += [("STOP", words, True) for words in step.stop]
    y = box.y0 + 12
    for head, words, is_stop in rows:
        for k, line in enumerate(wrapped(words, SMALL, box.x1 - box.x0 - 84)):
            if y > box.y1 - 6:
                return
            colour = sheet.ink.stop if is_stop else None
            sheet.text(box.x0, y, head if k == 0 else "", SMALL, bold=True, colour=colour)
            sheet.text(box.x0 + 84, y, line, SMALL, colour=colour)
            y += ROW


def _description(scene: Scene, steps: Sequence[CutStep]) -> str:
    things = ", ".join(thing.id for thing in scene.protected) or "nothing recorded"
    words = f"The job from above. To protect: {things}."
    return f"{words} Steps shown: {'; '.join(f'{s.n} {step_words(s)}' for s in steps)}." if steps else words
