"""What a drawing places: wood, ground, buildings, supports as plain geometry, without forces.

Metres; points are (x, y, z) in the job frame of `core.base.vectors`.
"""

from __future__ import annotations

from dataclasses import dataclass

Point = tuple[float, float, float]


@dataclass(frozen=True)
class Outline:
    """A run of round wood: axis points from base to tip with the outside diameter at each."""

    member: str
    piece: str
    points: tuple[Point, ...]
    diameters: tuple[float, ...]
    hollow_diameters: tuple[float, ...] = ()  # inside diameter at each point, 0 where sound


@dataclass(frozen=True)
class BuildingShape:
    """A building as eight eave corners and a ridge; `ridge` is two points, or empty for a flat roof."""

    id: str
    eave_corners: tuple[Point, ...]  # four, in order round the plan, at eave height
    ridge: tuple[Point, ...]
    wall_inset: float  # overhang of the eave beyond the wall line


@dataclass(frozen=True)
class ProtectedShape:
    """A thing that must not be hit: a box on the ground, in plan corner order, with its height."""

    id: str
    kind: str
    corners: tuple[Point, ...]
    height: float


@dataclass(frozen=True)
class SupportShape:
    """Where a support, line or prop acts, and what it is."""

    id: str
    kind: str  # what a support is on, or prop, root plate, hinge, tie-back, lowering, crane, possible
    member: str
    point: Point  # where it touches the wood
    foot: Point  # where it goes to: the ground under a prop, the anchor of a line, the point itself otherwise
    on_building: bool


@dataclass(frozen=True)
class Scene:
    """Everything a drawing needs to place: geometry only, no forces."""

    title: str
    wood: tuple[Outline, ...]
    ground: tuple[Point, ...]  # ground profile along y = 0, from left of the drawing to right
    buildings: tuple[BuildingShape, ...]
    protected: tuple[ProtectedShape, ...]
    supports: tuple[SupportShape, ...]
    plate: tuple[Point, float, float, Point] | None  # centre, diameter, thickness, axis of the root plate
    bearing_deg: float | None  # compass azimuth of +x
