"""The geometry a drawing needs, and nothing else."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.vectors import unit
from bolewright.core.contact.actions import Array
from bolewright.core.tree.outline import member_outline
from bolewright.job.model import Job
from bolewright.planning.holding.body import Body, body_of
from bolewright.planning.holding.model import Model, model_of
from bolewright.planning.results import CutsResult
from bolewright.planning.shapes import BuildingShape, Outline, Point, ProtectedShape, Scene, SupportShape
from bolewright.planning.site import Care, Roof, corners

MARGIN = 3.0


def scene(job: Job, result: CutsResult | None = None, model: Model | None = None) -> Scene:
    """The scene of a job, with the props of the chosen plan when a result is given."""
    model = model_of(job) if model is None else model
    there = model.left[model.system.integrals.action_piece[: len(model.contacts)]]
    shapes = [_support(model, i) for i in range(len(model.contacts)) if there[i]]
    supports = {s.id: s for s in reversed([s for s in shapes if s is not None])}
    placed = [] if result is None else [_placed(p.id, p.kind, p.member, p.point, p.foot) for p in result.chosen.places]
    return _scene(job, model.body, (*reversed(list(supports.values())), *placed), model.left)


def geometry(job: Job) -> Scene:
    """The scene of a job that does not say yet what it rests on. Raises BadInput for sizes that cannot be."""
    body = body_of(job)
    return _scene(job, body, (), np.ones(len(body.pieces), dtype=bool))


def _scene(job: Job, body: Body, supports: tuple[SupportShape, ...], left: NDArray[np.bool_]) -> Scene:
    bearing = job.tree.bearing
    return Scene(
        title=job.job.title,
        wood=_wood(body, left),
        ground=_ground(body),
        buildings=tuple(_building(r) for r in body.site.roofs),
        protected=tuple(_protected(c) for c in body.site.cares),
        supports=supports,
        plate=_plate(body),
        bearing_deg=float(np.degrees(bearing.likely)) if bearing is not None else None,
    )


def _wood(body: Body, left: NDArray[np.bool_]) -> tuple[Outline, ...]:
    out = []
    for piece in (p for p, on in zip(body.pieces, left, strict=True) if on):
        line = member_outline(body.assembly, piece.member, piece.start, piece.end)
        out.append(
            Outline(
                member=piece.member,
                piece=piece.id,
                points=tuple(_point(p) for p in line.points),
                diameters=tuple(float(d) for d in line.diameters),
                hollow_diameters=tuple(float(d) for d in line.hollow_diameters),
            )
        )
    return tuple(out)


def _point(v: Array) -> Point:
    return (float(v[0]), float(v[1]), float(v[2]))


def _ground(body: Body) -> tuple[Point, ...]:
    xs = np.concatenate([body.assembly.start[:, 0], body.assembly.end[:, 0]])
    ends = [xs.min(), xs.max(), *(r.x0 for r in body.site.roofs), *(r.x1 for r in body.site.roofs)]
    low, high = min(ends) - MARGIN, max(ends) + MARGIN
    return tuple((float(x), 0.0, body.site.ground_at(float(x))) for x in (low, high))


def _building(roof: Roof) -> BuildingShape:
    eave = corners(roof.x0, roof.x1, roof.y0, roof.y1, roof.eave)
    ridge: tuple[Point, ...] = ()
    if roof.ridge > roof.eave:
        x, y = (roof.x0 + roof.x1) / 2.0, (roof.y0 + roof.y1) / 2.0
        ends = [(roof.x0, y), (roof.x1, y)] if roof.along else [(x, roof.y0), (x, roof.y1)]
        ridge = tuple((a, b, roof.ridge) for a, b in ends)
    return BuildingShape(roof.id, tuple(_point(c) for c in eave), ridge, roof.overhang)


def _protected(care: Care) -> ProtectedShape:
    box = corners(care.x0, care.x1, care.y0, care.y1, 0.0)
    return ProtectedShape(care.id, care.kind, tuple(_point(c) for c in box), care.height)


def _support(model: Model, index: int) -> SupportShape | None:
    c = model.contacts[index]
    if not np.any(c.force):
        return None
    point = _point(c.point)
    foot = point
    if c.kind in ("prop", "crib"):
        foot = (point[0], point[1], model.body.site.ground_at(point[0]))
    elif c.kind in ("tie-back", "lowering", "crane"):
        line = next(line for line in model.job.line if line.id == c.id)
        foot = (line.anchor.forward.likely, -line.anchor.right.likely, line.anchor.height.likely)
    return SupportShape(c.id, c.kind, c.member, point, foot, c.building)


def _placed(name: str, kind: str, member: str, point: Point, foot: Point) -> SupportShape:
    return SupportShape(name, kind, member, point, foot, False)


def _plate(body: Body) -> tuple[Point, float, float, Point] | None:
    plate = body.grown.spec.plate
    if plate is None:
        return None
    axis = unit(body.assembly.end[0] - body.assembly.start[0])
    return (_point(body.assembly.lump_point[0]), plate.diameter, plate.thickness, _point(axis))


__all__ = ["body_of", "geometry", "scene"]
