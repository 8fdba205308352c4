"""What decay leaves of a round section: the void's equal-area diameter and the shares of area and stiffness left."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
Shell = tuple[tuple[float, float], ...]
HOURS: Floats = np.arange(360) / 30.0  # round the clock in steps of one degree


def void_radii(diameter: ArrayLike, shell: Shell) -> Floats:
    """Radius of the void (n, 360) round the clock for sections of these diameters (n,).

    Shell depth is linear between the clock positions where it was taken; where it reaches the centre there is no void.

    Source: geometry, house rule for the depth between readings.
    Checked by: tests/unit/tree/test_hollow.py
    """
    outside = np.atleast_1d(np.asarray(diameter, dtype=float))[:, None] / 2.0
    clocks, depths = np.array(sorted(shell), dtype=float).T
    return np.asarray(np.maximum(outside - np.interp(HOURS, clocks, depths, period=12.0), 0.0))


def void_diameter(diameter: ArrayLike, shell: Shell) -> Floats:
    """Diameter (n,) of the round hole with the same area as the void, 0 where there is none.

    Source: geometry, area in polar coordinates.
    Checked by: tests/unit/tree/test_hollow.py
    """
    return np.asarray(2.0 * np.sqrt(np.mean(void_radii(diameter, shell) ** 2, axis=1)))


def shares_left(diameter: ArrayLike, shell: Shell) -> tuple[Floats, Floats]:
    """Share of bending stiffness (n,) and of area (n,) left of the solid section.

    The bending share is the mean over all directions about the centre of what is left, so an off-centre void makes
    the true section softer than this across its thin side and stiffer along it. Decayed wood counts nothing.

    Source: moments of plane figures (closed form); 1 - (d/D)^4 and 1 - (d/D)^2 for a centred round hole.
    Checked by: tests/unit/tree/test_hollow.py
    """
    outside = np.atleast_1d(np.asarray(diameter, dtype=float)) / 2.0
    r = void_radii(diameter, shell) / np.where(outside > 0.0, outside, 1.0)[:, None]
    angle = HOURS * np.pi / 6.0
    area = np.mean(r**2, axis=1)  # over that of the unit circle
    first = np.mean(r[:, None, :] ** 3 * np.stack([np.cos(angle), np.sin(angle)]), axis=2) * 2.0 / 3.0
    left = 1.0 - area
    shift = np.sum(first**2, axis=1) / np.where(left > 0.0, left, 1.0)
    bending = 1.0 - np.mean(r**4, axis=1) - 2.0 * shift  # 2: mean I of a circle is a quarter of A r2, shift counts half
    return np.asarray(np.clip(bending, 0.0, 1.0)), np.asarray(np.clip(left, 0.0, 1.0))
