"""Plane shapes on the sheet: both edges of a tapered run of wood, hulls, and steady scatter for texture."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from bolewright.drawings.frame import View
from bolewright.drawings.svg import Spot
from bolewright.planning.shapes import Outline, Point

GOLDEN = 0.6180339887498949


@dataclass(frozen=True)
class Band:
    """A run of wood on the sheet: axis, one edge, the other edge, and half widths."""

    axis: tuple[Spot, ...]
    left: tuple[Spot, ...]
    right: tuple[Spot, ...]
    halves: tuple[float, ...]

    @property
    def ring(self) -> list[Spot]:
        """The closed outline."""
        return [*self.left, *reversed(self.right)]

    @property
    def end_on(self) -> bool:
        """True when the run points so much at the viewer that its end shows as a disc."""
        return distance(self.axis[0], self.axis[-1]) < 1.2 * max(self.halves)


def band(view: View, run: Outline, inside: bool = False) -> Band:
    """A run of wood (or the hollow inside it) as it shows in a view."""
    axis = view.all_at(run.points)
    widths = run.hollow_diameters if inside else run.diameters
    halves = tuple(0.5 * d * view.scale for d in widths)
    normals = [_normal(axis, k) for k in range(len(axis))]
    left = tuple((x + nx * h, y + ny * h) for (x, y), (nx, ny), h in zip(axis, normals, halves, strict=True))
    right = tuple((x - nx * h, y - ny * h) for (x, y), (nx, ny), h in zip(axis, normals, halves, strict=True))
    return Band(tuple(axis), left, right, halves)


def _normal(axis: Sequence[Spot], k: int) -> Spot:
    """Square to the axis at one of its points, the mean of the runs that meet there."""
    (xa, ya), (xb, yb) = axis[max(k - 1, 0)], axis[min(k + 1, len(axis) - 1)]
    length = math.hypot(xb - xa, yb - ya)
    return ((yb - ya) / length, -(xb - xa) / length) if length > 1e-6 else (0.0, -1.0)


def distance(a: Spot, b: Spot) -> float:
    """Distance between two places on the sheet."""
    return math.hypot(b[0] - a[0], b[1] - a[1])


def pointed(a: Spot, b: Spot) -> Spot:
    """Unit direction from a to b, downward when they coincide."""
    length = distance(a, b)
    return ((b[0] - a[0]) / length, (b[1] - a[1]) / length) if length > 1e-6 else (0.0, 1.0)


def unit(direction: Spot, otherwise: Spot = (0.0, -1.0)) -> Spot:
    """The direction with length 1, or another where it has none."""
    length = math.hypot(*direction)
    return (direction[0] / length, direction[1] / length) if length > 1e-6 else otherwise


def moved(spot: Spot, direction: Spot, by: float) -> Spot:
    """A place moved along a direction."""
    return spot[0] + direction[0] * by, spot[1] + direction[1] * by


def between(a: Spot, b: Spot, t: float) -> Spot:
    """The place a share t of the way from a to b."""
    return a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t


def scatter(count: int, start: int = 0) -> list[float]:
    """Numbers in 0..1 that fill the range evenly and are always the same."""
    return [((start + k + 1) * GOLDEN) % 1.0 for k in range(count)]


def hull(spots: Iterable[Spot]) -> list[Spot]:
    """The smallest convex ring round the places (monotone chain)."""
    ordered = sorted({(round(x, 3), round(y, 3)) for x, y in spots})
    if len(ordered) < 3:
        return ordered
    rings = []
    for run in (ordered, list(reversed(ordered))):
        chain: list[Spot] = []
        for p in run:
            while len(chain) > 1 and _turn(chain[-2], chain[-1], p) <= 0:
                chain.pop()
            chain.append(p)
        rings.append(chain[:-1])
    return rings[0] + rings[1]


def _turn(a: Spot, b: Spot, c: Spot) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def disc_rims(centre: Point, axis: Point, diameter: float, thickness: float) -> list[Point]:
    """Points round both faces of a thick disc."""
    length = math.sqrt(sum(c * c for c in axis)) or 1.0
    a = tuple(c / length for c in axis)
    helper = (0.0, 1.0, 0.0) if abs(a[1]) < 0.9 else (1.0, 0.0, 0.0)
    u = _cross(a, helper)
    size = math.sqrt(sum(c * c for c in u))
    u = (u[0] / size, u[1] / size, u[2] / size)
    v = _cross(a, u)
    points = []
    for k in range(48):
        c, s = math.cos(math.tau * k / 48) * diameter / 2, math.sin(math.tau * k / 48) * diameter / 2
        for h in (-thickness / 2, thickness / 2):
            x, y, z = (centre[i] + c * u[i] + s * v[i] + h * a[i] for i in range(3))
            points.append((x, y, z))
    return points


def _cross(a: Sequence[float], b: Sequence[float]) -> Point:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]
