"""The side view itself, shared by the elevation and the step strips: everything but the labels."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise

from bolewright.drawings import units as u
from bolewright.drawings.callouts import Callout, Words
from bolewright.drawings.frame import View, fitted, ground_level, scene_points
from bolewright.drawings.ink import SMALL
from bolewright.drawings.labels import CELL, Placer
from bolewright.drawings.shapes import band
from bolewright.drawings.structures import (
    building_lines,
    draw_building,
    draw_ground,
    draw_plate,
    draw_posts,
    draw_protected,
    draw_stump,
    protected_ring,
)
from bolewright.drawings.svg import Sheet, Spot
from bolewright.drawings.type_widths import Box
from bolewright.drawings.units import Units
from bolewright.drawings.wood import PieceState, draw_wood
from bolewright.planning.shapes import BuildingShape, Scene, SupportShape


@dataclass(frozen=True)
class Stage:
    """A side view drawn, with the raster that knows what is where."""

    view: View
    placer: Placer
    ground: list[Spot]


def draw_stage(sheet: Sheet, scene: Scene, area: Box, inner: Box, states: Mapping[str, PieceState],
               posts: Iterable[SupportShape]) -> Stage:  # fmt: skip
    """Ground, buildings, things to protect, wood in its state, props and lines."""
    view = fitted("side", scene_points(scene), inner)
    placer = Placer(area)
    height = ground_level(scene)
    for building in scene.buildings:
        level = height(sum(p[0] for p in building.eave_corners) / len(building.eave_corners))
        draw_building(sheet, view, building, level)
        for run in building_lines(view, building, level):
            placer.discourage(run, 4, 5.0)
    for thing in scene.protected:
        draw_protected(sheet, view, thing)
        discourage_inside(placer, protected_ring(view, thing))
    ground = draw_ground(sheet, view, scene, area.x0, area.x1)
    placer.discourage(ground, 5, 1.5)
    draw_plate(sheet, view, scene)
    for foot, head in pairwise(draw_stump(sheet, view, scene)):
        placer.discourage([foot, head], 4, 6.0)
    standing = list(posts)
    draw_posts(sheet, view, standing)
    for post in standing:
        placer.discourage(view.all_at([post.point, post.foot]), 6.0, 8.0)
    draw_wood(sheet, view, scene, states)
    _keep_off(placer, view, scene, states)
    return Stage(view, placer, ground)


def _keep_off(placer: Placer, view: View, scene: Scene, states: Mapping[str, PieceState]) -> None:
    """Labels had better not lie on wood."""
    for run in scene.wood:
        if len(run.points) > 1:
            shape = band(view, run)
            weight = 0.3 if states.get(run.piece, "here") == "gone" else 5.0
            placer.discourage(shape.axis, max(shape.halves) + 2, weight)
    if scene.plate:
        x, y = view.at(scene.plate[0])
        r = scene.plate[1] / 2 * view.scale
        placer.discourage([(x, y - r), (x, y + r)], 0.6 * r, 5.0)


def discourage_inside(placer: Placer, ring: list[Spot]) -> None:
    """Labels had better not lie on a thing to protect."""
    x0, x1 = min(x for x, _ in ring), max(x for x, _ in ring)
    y0, y1 = min(y for _, y in ring), max(y for _, y in ring)
    for row in range(int((y1 - y0) // CELL) + 1):
        placer.discourage([(x0, y0 + row * CELL), (x1, y0 + row * CELL)], 3, 0.25)


def building_callouts(view: View, scene: Scene, units: Units) -> tuple[list[Callout], list[Callout]]:
    """Names of buildings with the heights of eave and ridge, and of the things to protect."""
    height = ground_level(scene)
    buildings = [_building_callout(view, b, height(b.eave_corners[0][0]), units) for b in scene.buildings]
    callouts = []
    for thing in scene.protected:
        ring = protected_ring(view, thing)
        top = min(y for _, y in ring)
        name = thing.id if thing.kind in thing.id else f"{thing.id} ({thing.kind})"
        anchor = (sum(x for x, _ in ring) / len(ring), top + 3)
        callouts.append(Callout((Words(f"protect: {name}", SMALL, italic=True),), (anchor,)))
    return buildings, callouts


def _building_callout(view: View, building: BuildingShape, ground: float, units: Units) -> Callout:
    eave = sum(p[2] for p in building.eave_corners) / len(building.eave_corners)
    lines = [Words(building.id, bold=True), Words(f"eave {u.length(eave - ground, units)}", SMALL)]
    if building.ridge:
        lines.append(Words(f"ridge {u.length(building.ridge[0][2] - ground, units)}", SMALL))
    xs = [p[0] for p in building.eave_corners]
    places = [(min(xs) + across * (max(xs) - min(xs)), 0.0, ground + up * (eave - ground))
              for up in (0.5, 0.3) for across in (0.5, 0.3, 0.7)]  # fmt: skip
    return Callout(tuple(lines), tuple(view.all_at(places)), leader=False)
