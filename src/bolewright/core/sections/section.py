"""A cross-section of a stem or limb: area, centroid, second moments, and what it can carry in any bending direction.

Axes of every section: looking from butt to tip, the first axis points to 3 o'clock, the second to 12 o'clock; the
origin is the centre of the outline as measured.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
Reach = Callable[[Floats], Floats]


@dataclass(frozen=True, eq=False)
class Section:
    """A plane section of sound wood.

    `reach(g)` is the largest g . x over the wood, x from the centroid, for any vectors g (..., 2); it finds the fibre
    that is strained most when the section bends.
    """

    area: float  # [m2]
    centroid: Floats  # (2,) [m] from the centre of the outline
    inertia: Floats  # (2, 2) [m4] integral of x x' over the wood, x from the centroid
    reach: Reach

    def second_moment(self, clock: ArrayLike) -> Floats:
        """Second moment [m4] for bending towards a clock position (hours, any shape): integral of distance squared."""
        d = clock_vector(clock)
        return np.asarray(np.einsum("...i,ij,...j->...", d, self.inertia, d))

    def modulus(self, clock: ArrayLike) -> Floats:
        """Section modulus [m3]: moment over the largest bending stress when a load acts towards `clock` (hours).

        Exact for a lopsided section too, where the neutral axis is not square to the load: stress = M d' J^-1 x.
        """
        return np.minimum(self.modulus_near(clock), self.modulus_far(clock))

    def modulus_near(self, clock: ArrayLike) -> Floats:
        """Section modulus [m3] for the fibre on the side the load acts towards (compressed by a pushing load)."""
        return np.asarray(1.0 / self.reach(self._gradient(clock)))

    def modulus_far(self, clock: ArrayLike) -> Floats:
        """Section modulus [m3] for the fibre on the side away from `clock`."""
        return np.asarray(1.0 / self.reach(-self._gradient(clock)))

    def principal(self) -> tuple[float, float, float]:
        """Smallest and largest second moment [m4] and the clock position (0 < h <= 6) of the softest direction."""
        values, vectors = np.linalg.eigh(self.inertia)
        hours = float(np.arctan2(vectors[0, 0], vectors[1, 0])) * 6.0 / np.pi % 6.0
        return float(values[0]), float(values[1]), hours if hours > 1e-9 else 6.0

    def _gradient(self, clock: ArrayLike) -> Floats:
        """Stress per distance and unit moment (..., 2)."""
        return np.asarray(clock_vector(clock) @ np.linalg.inv(self.inertia))


def clock_vector(clock: ArrayLike) -> Floats:
    """Unit vectors (..., 2) towards clock positions (hours): 12 is (0, 1), 3 is (1, 0).

    Source: geometry, house rule for clock positions (core.base.vectors).
    Checked by: tests/unit/sections/test_section.py
    """
    angle = np.asarray(clock, float) * np.pi / 6.0
    return np.stack([np.sin(angle), np.cos(angle)], axis=-1)


def circle_reach(centre: Floats, radius: float) -> Reach:
    """Reach function of a disc (2,) [m]: a hole inside does not change its outermost fibres.

    Source: geometry, support function of a circle.
    Checked by: tests/unit/sections/test_section.py
    """
    return lambda g: np.asarray(g @ centre + radius * np.linalg.norm(g, axis=-1))


def points_reach(points: Floats) -> Reach:
    """Reach function of points (n, 2) [m] that include every corner of the wood.

    Source: geometry: a linear function is largest at a corner.
    Checked by: tests/unit/sections/test_section.py
    """
    return lambda g: np.asarray(np.max(g @ points.T, axis=-1))
