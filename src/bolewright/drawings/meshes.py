"""Shapes as triangles: round wood with its taper and hollow, boxes, roofs, posts, ropes and the arrow of a force.

A round is drawn with SIDES sides whose polygon has the circle's own area, so that a mesh holds the volume of the wood.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.base.vectors import unit
from bolewright.drawings.gltf import Floats, Mesh
from bolewright.planning.shapes import Outline, Point

SIDES = 24
TRUE_AREA = math.sqrt(2.0 * math.pi / (SIDES * math.sin(2.0 * math.pi / SIDES)))  # polygon radius over circle radius
SHARPEST = 0.5  # cosine of half a bend past which a mitre is no longer drawn out
APART = 1e-6  # m


def joined(meshes: Sequence[Mesh]) -> Mesh:
    """Several meshes as one."""
    firsts = np.cumsum([0, *(len(m.points) for m in meshes[:-1])])
    corners = [m.corners + first for m, first in zip(meshes, firsts, strict=True)]
    return Mesh(*(np.concatenate(x) for x in ([m.points for m in meshes], [m.normals for m in meshes], corners)))


def flat(faces: Sequence[ArrayLike]) -> Mesh:
    """Flat faces, each a ring of corners (n, 3) anti-clockwise seen from outside and nowhere hollow."""
    made = []
    for face in faces:
        ring = np.asarray(face, dtype=float)
        normal = unit(sum(np.cross(ring[i] - ring[0], ring[i + 1] - ring[0]) for i in range(1, len(ring) - 1)))
        fan = np.array([(0, i, i + 1) for i in range(1, len(ring) - 1)])
        made.append(Mesh(ring, np.tile(normal, (len(ring), 1)), fan))
    return joined(made)


def prism(ring: Sequence[Point], top: Sequence[Point]) -> Mesh:
    """A body between two rings of as many corners, the lower anti-clockwise seen from above."""
    n = len(ring)
    sides = [(ring[i], ring[(i + 1) % n], top[(i + 1) % n], top[i]) for i in range(n)]
    return flat([*sides, list(reversed(ring)), list(top)])


def wood(run: Outline) -> tuple[Mesh, Mesh]:
    """Bark and cut faces of a run of round wood; a hollow is an inner wall that belongs to the cut faces."""
    points, axes = _line(run.points)
    rings = _rings(points, axes)
    outer = [p + r * d / 2.0 for p, r, d in zip(points, rings, run.diameters, strict=True)]
    hollow = run.hollow_diameters or (0.0,) * len(points)
    inner = [p + r * d / 2.0 for p, r, d in zip(points, rings, hollow, strict=True)]
    faces = [_end(outer[k], inner[k], hollow[k] > 0.0, way * axes[k]) for k, way in ((0, -1.0), (-1, 1.0))]
    if any(d > 0.0 for d in hollow):
        faces.append(_inner(inner))
    return _skin(outer, points), joined(faces)


def rod(a: ArrayLike, b: ArrayLike, diameter: float) -> Mesh:
    """A straight round bar."""
    ends = (_tuple(a), _tuple(b))
    return joined(wood(Outline("", "", ends, (diameter, diameter))))


def arrow(head: float, head_half: float, shaft_half: float) -> Mesh:
    """An arrow one unit long along z with its tip at the origin, of the proportions the flat drawings use."""
    end, neck = (0.0, 0.0, -1.0), (0.0, 0.0, -head)
    shaft = Outline("", "", (end, neck), (2.0 * shaft_half,) * 2)
    cone = Outline("", "", (neck, (0.0, 0.0, 0.0)), (2.0 * head_half, 0.0))
    return joined([*wood(shaft), *wood(cone)])


def _tuple(v: ArrayLike) -> Point:
    x, y, z = np.asarray(v, dtype=float)
    return float(x), float(y), float(z)


def _line(points: Sequence[Point]) -> tuple[Floats, Floats]:
    """Points (n, 3) of a line and the direction (n, 3) in which each is left; at one place twice, that of its run."""
    line = np.asarray(points, dtype=float)
    steps = np.diff(line, axis=0)
    long = np.linalg.norm(steps, axis=1) > APART
    runs = [unit(s) if far else None for s, far in zip(steps, long, strict=True)]
    for i in range(1, len(runs)):
        runs[i] = runs[i - 1] if runs[i] is None else runs[i]
    for i in reversed(range(len(runs) - 1)):
        runs[i] = runs[i + 1] if runs[i] is None else runs[i]
    return line, np.array([*runs, runs[-1]], dtype=float)


def _rings(points: Floats, axes: Floats) -> list[Floats]:
    """Rings (SIDES, 3) of diameter 2 round each point, square to the line at its ends and mitred at its bends."""
    turn = np.arange(SIDES) * 2.0 * math.pi / SIDES
    across = np.cross(axes[0], (0.0, 0.0, 1.0))
    side = unit(across) if np.linalg.norm(across) > 1e-3 else np.array([0.0, 1.0, 0.0])
    out = []
    for k in range(len(points)):
        came = axes[k - 1] if k else axes[0]
        side = unit(side - came * float(side @ came))
        ring = TRUE_AREA * (np.outer(np.cos(turn), side) + np.outer(np.sin(turn), np.cross(came, side)))
        mitre = unit(came + axes[k])
        if float(came @ mitre) > SHARPEST:
            ring = ring - np.outer(ring @ mitre, came) / float(came @ mitre)
        out.append(ring)
    return out


def _triangles(count: int) -> NDArray[np.int64]:
    """Corners of the wall through so many rings, seen from outside."""
    i = np.arange(SIDES)
    after = (i + 1) % SIDES
    band = np.concatenate([np.stack([i, after, after + SIDES], 1), np.stack([i, after + SIDES, i + SIDES], 1)])
    return np.concatenate([band + k * SIDES for k in range(count - 1)])


def _skin(rings: Sequence[Floats], points: Floats) -> Mesh:
    """The bark through rings (SIDES, 3), shaded as round."""
    spots = np.concatenate(list(rings))
    away = spots - np.repeat(points, SIDES, axis=0)
    spots, away, corners = _used(spots, away, _worth_drawing(spots, _triangles(len(rings))))
    size = np.linalg.norm(away, axis=1, keepdims=True)
    return Mesh(spots, np.where(size > APART, away / np.maximum(size, APART), _face_normals(spots, corners)), corners)


def _inner(rings: Sequence[Floats]) -> Mesh:
    """The wall of a hollow, looking in, each triangle flat for itself: a hollow may begin all at once."""
    spots = np.concatenate(list(rings))
    corners = _worth_drawing(spots, _triangles(len(rings)))[:, ::-1]
    own = spots[corners.ravel()]
    numbers = np.arange(len(own)).reshape(-1, 3)
    return Mesh(own, _face_normals(own, numbers), numbers)


def _worth_drawing(spots: Floats, corners: NDArray[np.int64]) -> NDArray[np.int64]:
    """Triangles with an area."""
    a, b, c = (spots[corners[:, i]] for i in range(3))
    return np.asarray(corners[np.linalg.norm(np.cross(b - a, c - a), axis=1) > APART**2])


def _used(spots: Floats, away: Floats, corners: NDArray[np.int64]) -> tuple[Floats, Floats, NDArray[np.int64]]:
    """Only the points that some triangle has."""
    keep, numbers = np.unique(corners, return_inverse=True)
    return spots[keep], away[keep], numbers.reshape(corners.shape)


def _face_normals(spots: Floats, corners: NDArray[np.int64]) -> Floats:
    """For each point the normal of a triangle it belongs to: for the point of a cone, which has no way out."""
    out = np.zeros_like(spots)
    a, b, c = (spots[corners[:, i]] for i in range(3))
    faces = np.cross(b - a, c - a)
    out[corners.ravel()] = np.repeat(faces / np.linalg.norm(faces, axis=1, keepdims=True), 3, axis=0)
    return out


def _end(outer: Floats, inner: Floats, open_: bool, axis: Floats) -> Mesh:
    """A cut face: a disc, or a ring where the wood is hollow there."""
    middle = outer.mean(axis=0)
    if float(np.linalg.norm(outer[0] - middle)) < APART:
        return Mesh(np.zeros((0, 3)), np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int64))
    count = np.arange(SIDES)
    after = (count + 1) % SIDES
    if open_:
        spots = np.concatenate([outer, inner])
        corners = np.concatenate([np.stack([count, after, after + SIDES], 1),
                                  np.stack([count, after + SIDES, count + SIDES], 1)])  # fmt: skip
    else:
        spots = np.concatenate([outer, middle[None]])
        corners = np.stack([count, after, np.full(SIDES, SIDES)], 1)
    a, b, c = spots[corners[0]]
    if float(np.cross(b - a, c - a) @ axis) < 0.0:
        corners = corners[:, ::-1]
    return Mesh(spots, np.tile(axis, (len(spots), 1)), corners)
