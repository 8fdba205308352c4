"""Cuts on the sheet: a kerf line square to the member at the right place, and the number of the step beside it."""

from __future__ import annotations

import math
from collections.abc import Iterable

from bolewright.drawings.callouts import Shape, put_balloon
from bolewright.drawings.frame import View
from bolewright.drawings.ink import HEAVY
from bolewright.drawings.labels import Placer
from bolewright.drawings.shapes import distance, moved, unit
from bolewright.drawings.svg import Sheet, Spot
from bolewright.planning.results import CutStep
from bolewright.planning.shapes import Outline, Scene

SHAPES: dict[str, Shape] = {"cut": "circle", "place": "square", "remove": "diamond"}


def kerf_ends(view: View, scene: Scene, step: CutStep) -> tuple[Spot, Spot]:
    """Both ends of the kerf line, a little proud of the wood."""
    middle = view.at(step.point)
    direction = unit(_direction(view, scene, step), (1.0, 0.0))
    n = (direction[1], -direction[0]) if direction[0] >= 0 else (-direction[1], direction[0])
    half = step.diameter_m / 2 * view.scale + 5
    return moved(middle, n, half), moved(middle, n, -half)


def _direction(view: View, scene: Scene, step: CutStep) -> Spot:
    """Direction on the sheet of the wood nearest to the cut."""
    best, found = math.inf, (1.0, 0.0)
    for run in _of_member(scene.wood, step.member):
        for a, b in zip(run.points, run.points[1:], strict=False):
            middle = tuple((p + q) / 2 for p, q in zip(a, b, strict=True))
            apart = math.dist(middle, step.point) - math.dist(a, b) / 2
            if apart < best:
                best, found = apart, view.along((b[0] - a[0], b[1] - a[1], b[2] - a[2]))
    return found


def _of_member(wood: Iterable[Outline], member: str) -> list[Outline]:
    return [run for run in wood if run.member == member]


def draw_kerf(sheet: Sheet, placer: Placer, ends: tuple[Spot, Spot]) -> None:
    """The kerf: a heavy line on a halo of paper."""
    sheet.line(ends, HEAVY + 2.6, sheet.ink.paper)
    sheet.line(ends, HEAVY, kind="kerf")
    placer.block_run(ends, 2)


def draw_cut_numbers(sheet: Sheet, view: View, scene: Scene, placer: Placer, steps: Iterable[CutStep]) -> int:
    """Kerfs and balloons of the steps; gives back how many balloons found no room."""
    listed = list(steps)
    ends = {step.n: kerf_ends(view, scene, step) for step in listed}
    for step in listed:
        if step.action == "cut":
            draw_kerf(sheet, placer, ends[step.n])
    lost = 0
    for step in listed:
        top, bottom = ends[step.n]
        anchors = (top, bottom) if step.action == "cut" else (view.at(step.point),)
        away = unit((top[0] - bottom[0], top[1] - bottom[1])) if distance(top, bottom) > 1 else (0.0, -1.0)
        lost += not put_balloon(sheet, placer, step.n, anchors, SHAPES.get(step.action, "circle"), away)
    return lost
