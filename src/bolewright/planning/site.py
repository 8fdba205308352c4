"""The place as surfaces: what lies under a point, and outlines in plan."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from shapely.geometry import Polygon, box

from bolewright.core.base.vectors import UP, Vector, unit
from bolewright.job.model import Building, Job, Protect

DEFAULT_OVERHANG = 0.3


@dataclass(frozen=True)
class Roof:
    """A building in the job frame: x from near to far, y from right (negative) to left."""

    id: str
    x0: float
    x1: float
    y0: float
    y1: float
    eave: float
    ridge: float
    along: bool  # ridge along the bearing
    overhang: float

    @cached_property
    def plan(self) -> Polygon:
        """Outline of the roof in plan."""
        return box(self.x0, self.y0, self.x1, self.y1)

    def height_at(self, x: float, y: float) -> float | None:
        """Height of the roof surface, None beside the building."""
        if not (self.x0 <= x <= self.x1 and self.y0 <= y <= self.y1):
            return None
        return self.eave + (self.ridge - self.eave) * (1.0 - self._from_ridge(x, y))

    def _from_ridge(self, x: float, y: float) -> float:
        """0 on the ridge, 1 at the eave."""
        low, high, here = (self.y0, self.y1, y) if self.along else (self.x0, self.x1, x)
        half = (high - low) / 2.0
        return abs(here - (low + high) / 2.0) / half

    def normal_at(self, x: float, y: float) -> Vector:
        """Unit normal of the roof plane, up on the ridge itself."""
        low, high, here = (self.y0, self.y1, y) if self.along else (self.x0, self.x1, x)
        middle, half = (low + high) / 2.0, (high - low) / 2.0
        if abs(here - middle) < 0.05 * half:
            return UP
        slope = (self.ridge - self.eave) / half * math.copysign(1.0, here - middle)
        return unit([0.0, slope, 1.0] if self.along else [slope, 0.0, 1.0])


@dataclass(frozen=True)
class Care:
    """A thing to protect as a box on the ground."""

    id: str
    kind: str
    x0: float
    x1: float
    y0: float
    y1: float
    height: float

    @cached_property
    def plan(self) -> Polygon:
        """Outline in plan."""
        return box(self.x0, self.y0, self.x1, self.y1)


@dataclass(frozen=True)
class Site:
    """Ground, buildings and things to protect."""

    slope: float  # rise per forward metre
    roofs: tuple[Roof, ...]
    cares: tuple[Care, ...]

    def ground_at(self, x: float) -> float:
        """Height of the ground."""
        return self.slope * x

    def under(self, point: Vector) -> tuple[float, str, str]:
        """Height of the highest surface under a point, its kind (ground, roof, protected) and its name."""
        x, y = float(point[0]), float(point[1])
        best = (self.ground_at(x), "ground", "the ground")
        for care in self.cares:
            top = self.ground_at(x) + care.height
            if care.x0 <= x <= care.x1 and care.y0 <= y <= care.y1 and care.height > 0.0 and top > best[0]:
                best = (top, "protected", care.id)
        for roof in self.roofs:
            height = roof.height_at(x, y)
            if height is not None and height > best[0]:
                best = (height, "roof", roof.id)
        return best

    def roof_at(self, point: Vector) -> Roof | None:
        """The building under a point."""
        for roof in self.roofs:
            if roof.height_at(float(point[0]), float(point[1])) is not None:
                return roof
        return None


def site_of(job: Job) -> Site:
    """The site of a job; the ground is level where no slope was given."""
    slope = math.tan(job.ground.slope.likely) if job.ground.slope is not None else 0.0
    return Site(slope, tuple(_roof(b) for b in job.building), tuple(_care(p) for p in job.protect))


def _roof(b: Building) -> Roof:
    eave = b.eave.likely
    return Roof(
        id=b.id,
        x0=b.near.likely,
        x1=b.far.likely,
        y0=-b.right.likely,
        y1=b.left.likely,
        eave=eave,
        ridge=b.ridge.likely if b.ridge is not None else eave,
        along=b.ridge_runs == "along",
        overhang=b.overhang.likely if b.overhang is not None else DEFAULT_OVERHANG,
    )


def _care(p: Protect) -> Care:
    height = p.height.likely if p.height is not None else 0.0
    return Care(p.id, p.kind, p.near.likely, p.far.likely, -p.right.likely, p.left.likely, height)


def corners(x0: float, x1: float, y0: float, y1: float, z: float) -> np.ndarray:
    """Four corners in order round the plan, (4, 3)."""
    return np.array([[x0, y0, z], [x1, y0, z], [x1, y1, z], [x0, y1, z]])
