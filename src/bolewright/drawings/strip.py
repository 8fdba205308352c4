"""One strip per step: the tree as it is when this step is made, what comes off, what moves, what carries afterwards."""

from __future__ import annotations

import math

from bolewright.core.base.range import Range
from bolewright.drawings import units as u
from bolewright.drawings.callouts import Callout, Words, draw_balloon, put_callouts
from bolewright.drawings.cutmarks import SHAPES, draw_kerf, kerf_ends
from bolewright.drawings.forces import after_step, draw_supports, scale_for
from bolewright.drawings.ink import HEAVY, LARGE, MEDIUM, SMALL, TEXT, THIN, inks
from bolewright.drawings.panels import step_words
from bolewright.drawings.shapes import moved, unit
from bolewright.drawings.stage import Stage, draw_stage
from bolewright.drawings.svg import Sheet, Spot
from bolewright.drawings.type_widths import Box, shortened, text_width
from bolewright.drawings.units import Units
from bolewright.drawings.wood import PieceState
from bolewright.planning.results import CutStep, HoldResult, Motion, Plan
from bolewright.planning.shapes import Point, Scene, SupportShape

WIDTH, HEIGHT = 800.0, 500.0
TOP, BOTTOM = 40.0, 76.0
LONGEST_ARROW = 54.0
MOVE = 44.0  # length of the arrow that shows a movement


def step_strips(scene: Scene, plan: Plan, hold: HoldResult | None = None, units: Units = "us",
                night: bool = False) -> list[str]:  # fmt: skip
    """A strip for every step of the plan, in order."""
    return [step_strip(scene, plan, step.n, hold, units, night) for step in plan.steps]


def step_strip(scene: Scene, plan: Plan, n: int, hold: HoldResult | None = None, units: Units = "us",
               night: bool = False) -> str:  # fmt: skip
    """Step n as SVG: gone dotted, coming off hatched, forces after the step as arrows, movement as an open arrow."""
    step = step_of(plan, n)
    timber = next((f": {p.timber}" for p in plan.places if p.id == step.piece and step.action == "place"), "")
    words = f"Step {n} of {len(plan.steps)}: {step_words(step)}{timber}"
    sheet = Sheet(WIDTH, HEIGHT, inks(night), f"{scene.title}: {words}", _description(step, units))
    area = Box(6, TOP + 4, WIDTH - 6, HEIGHT - BOTTOM - 2)
    inner = Box(area.x0 + 40, area.y0 + 40, area.x1 - 40, area.y1 - 92)
    stage = draw_stage(sheet, scene, area, inner, states_at(plan, n), _posts(scene, plan, step))
    scale = scale_for(hold, plan, LONGEST_ARROW)
    if step.action == "cut":
        draw_kerf(sheet, stage.placer, kerf_ends(stage.view, scene, step))
    labels = draw_supports(sheet, stage.view, stage.placer, after_step(scene, step, hold, scale), scale, units, False)
    labels = _movements(sheet, stage, scene, plan, step, units) + labels
    put_callouts(sheet, stage.placer, labels)
    _head(sheet, step, words, units)
    _foot(sheet, plan, step, units)
    sheet.rect(Box(2, 2, WIDTH - 2, HEIGHT - 2), "none", sheet.ink.ink, MEDIUM)
    return sheet.written()


def step_of(plan: Plan, n: int) -> CutStep:
    """The step numbered n."""
    for step in plan.steps:
        if step.n == n:
            return step
    raise ValueError(f"the plan has no step {n}")


def states_at(plan: Plan, n: int) -> dict[str, PieceState]:
    """Which pieces are gone before step n, and which come off in it."""
    states: dict[str, PieceState] = {}
    for step in plan.steps:
        if step.action == "cut" and step.n <= n:
            for piece in step.takes or (step.piece,):
                states.setdefault(piece, "now" if step.n == n else "gone")
    return states


def _posts(scene: Scene, plan: Plan, step: CutStep) -> list[SupportShape]:
    """Props and lines that stand once this step is made."""
    standing = [s for s in scene.supports if s.id in step.forces_after]
    known = {s.id for s in standing}
    set_now = [p for p in plan.places if p.id in step.forces_after and p.id not in known]
    return [*standing, *(SupportShape(p.id, p.kind, p.member, p.point, p.foot, False) for p in set_now)]


def _movements(sheet: Sheet, stage: Stage, scene: Scene, plan: Plan, step: CutStep, units: Units) -> list[Callout]:
    """Open arrows and words for what comes off and what stays, where either moves."""
    found = []
    if step.action == "cut" and step.leaves.kind != "held":
        found.append(_movement(sheet, stage, step.piece_centre_m, step.leaves, units))
    if step.stays.kind != "held":
        gone = states_at(plan, step.n)
        left = [p for run in scene.wood if run.piece not in gone for p in run.points]
        if left:
            x, y, z = (sum(p[i] for p in left) / len(left) for i in range(3))
            nearest = min(left, key=lambda p: math.dist(p, (x, y, z)))
            found.append(_movement(sheet, stage, nearest, step.stays, units))
    return found


def _movement(sheet: Sheet, stage: Stage, point: Point, motion: Motion, units: Units) -> Callout:
    spot = stage.view.at(point)
    slide = stage.view.along(motion.slide)
    turning = motion.kind in {"turns", "tips"} and abs(motion.turn[1]) > 1e-9
    run = _arc(spot, motion.turn[1] > 0) if turning else [spot, moved(spot, unit(slide, (0.0, 1.0)), MOVE)]
    draw_open_arrow(sheet, run)
    stage.placer.block_run(run, 5)
    far = f", {u.length(motion.distance_m, units)}" if motion.distance_m else ""
    onto = f" onto {motion.rests_on}" if motion.rests_on and motion.rests_on not in motion.words else ""
    return Callout((Words(f"{motion.words}{onto}{far}", TEXT, italic=True),), (run[-1],), unit(slide, (0.0, 1.0)))


def _arc(centre: Spot, clockwise: bool, radius: float = 26.0) -> list[Spot]:
    """Part of a circle over a place, in the sense of a turn seen from the right side."""
    start, sweep = (math.radians(-150), math.radians(120)) if clockwise else (math.radians(-30), math.radians(-120))
    angles = [start + sweep * k / 12 for k in range(13)]
    return [(centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)) for a in angles]


def draw_open_arrow(sheet: Sheet, run: list[Spot]) -> None:
    """An arrow of two lines with an open head: a movement, not a force."""
    ink = sheet.ink
    d = unit((run[-1][0] - run[-2][0], run[-1][1] - run[-2][1]))
    n = (-d[1], d[0])
    tip = moved(run[-1], d, 9)
    sheet.line(run, 9, ink.ink)
    head = [tip, moved(run[-1], n, 9), moved(run[-1], n, -9)]
    sheet.area(head, ink.paper, ink.ink, MEDIUM + 0.4, kind="move")
    sheet.line(run, 9 - 2 * MEDIUM, ink.paper)


def _head(sheet: Sheet, step: CutStep, words: str, units: Units) -> None:
    """Number, what is done and the mass, above the drawing."""
    sheet.rect(Box(2, 2, WIDTH - 2, TOP), sheet.ink.panel)
    sheet.line([(2, TOP), (WIDTH - 2, TOP)], MEDIUM)
    draw_balloon(sheet, step.n, (24, 21), SHAPES.get(step.action, "circle"), 12)
    heavy = u.mass_range(step.mass_kg, units) if step.mass_kg.high > 0 else ""
    room = WIDTH - 64 - text_width(heavy, TEXT, mono=True)
    sheet.text(46, 27, shortened(words, LARGE, room, bold=True), LARGE, bold=True)
    sheet.text(WIDTH - 14, 27, heavy, TEXT, "end", mono=True)


def _foot(sheet: Sheet, plan: Plan, step: CutStep, units: Units) -> None:
    """Load on the building before, during and after, as bars on the scale of the whole plan."""
    y = HEIGHT - BOTTOM
    sheet.rect(Box(2, y, WIDTH - 2, HEIGHT - 2), sheet.ink.panel)
    sheet.line([(2, y), (WIDTH - 2, y)], MEDIUM)
    most = max(s.building_peak_N.high for s in plan.steps) or 1.0
    rows = (("before", step.building_before_N), ("at worst", step.building_peak_N), ("after", step.building_after_N))
    sheet.text(14, y + 17, "on the building", SMALL, bold=True)
    for k, (word, value) in enumerate(rows):
        level = y + 17 + 21 * k
        sheet.text(178, level, word, SMALL, "end")
        _draw_bar(sheet, (190, level - 9), 330, value, most)
        sheet.text(WIDTH - 14, level, u.force_range(value, units), SMALL, "end", mono=True)


def _draw_bar(sheet: Sheet, start: Spot, room: float, value: Range, most: float) -> None:
    """A bar to the likely value, a whisker from low to high."""
    x, y = start
    low, likely, high = (max(0.0, v) / most * room for v in (value.low, value.likely, value.high))
    sheet.line([(x, y - 2), (x, y + 13)], THIN)
    if likely > 0.5:
        sheet.rect(Box(x, y + 1, x + likely, y + 10), sheet.ink.wood, sheet.ink.ink, THIN)
    sheet.line([(x + low, y + 5.5), (x + high, y + 5.5)], MEDIUM)
    for at in (low, high):
        sheet.line([(x + at, y + 2), (x + at, y + 9)], HEAVY * 0.6)


def _description(step: CutStep, units: Units) -> str:
    forces = "; ".join(f"{name} {u.force_range(value, units)}" for name, value in step.forces_after.items())
    return f"{step.why}. What stays: {step.stays.words}. What comes off: {step.leaves.words}. Forces after: {forces}."
