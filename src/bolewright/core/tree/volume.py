"""Volumes of round logs from diameters and length. All functions take arrays and broadcast; any one unit of length.

Smalian, cone and neiloid forms: University of Missouri, forestry functions, "Cubic Log Volume".
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


def circle_area(diameter: ArrayLike) -> Floats:
    """Area [length unit squared] of a circle of this diameter.

    Source: geometry.
    Checked by: tests/handbook/test_log_volumes.py
    """
    return np.asarray(np.pi / 4.0 * np.asarray(diameter, dtype=float) ** 2)


def smalian(large: ArrayLike, small: ArrayLike, length: ArrayLike) -> Floats:
    """Volume [cubed length unit] from the mean of the two end areas.

    Exact for a paraboloid. Too high for a cone, and much too high for a flared butt.

    Source: University of Missouri, forestry functions, "Cubic Log Volume" (Smalian).
    Checked by: tests/handbook/test_log_volumes.py
    """
    return np.asarray(np.asarray(length, dtype=float) * (circle_area(large) + circle_area(small)) / 2.0)


def huber(middle: ArrayLike, length: ArrayLike) -> Floats:
    """Volume [cubed length unit] from the area at half length.

    Exact for a paraboloid. Too low for a cone and for a flared butt.

    Source: standard mensuration (from memory).
    Checked by: tests/handbook/test_log_volumes.py (against the integral of a paraboloid)
    """
    return np.asarray(np.asarray(length, dtype=float) * circle_area(middle))


def newton(large: ArrayLike, middle: ArrayLike, small: ArrayLike, length: ArrayLike) -> Floats:
    """Volume [cubed length unit] from both end areas and four times the middle one (Simpson's rule).

    Exact for cylinder, cone, paraboloid and neiloid: area there is at most a cubic in length.

    Source: standard mensuration (from memory); Simpson's rule.
    Checked by: tests/handbook/test_log_volumes.py (against integrals)
    """
    ends = circle_area(large) + circle_area(small)
    return np.asarray(np.asarray(length, dtype=float) * (ends + 4.0 * circle_area(middle)) / 6.0)


def cone_frustum(large: ArrayLike, small: ArrayLike, length: ArrayLike) -> Floats:
    """Volume [cubed length unit] of a frustum of a cone: diameter linear along the length; ends in either order.

    Too low for a bulging log, too high for a flared one.

    Source: University of Missouri, forestry functions, "Cubic Log Volume" (frustum of cone).
    Checked by: tests/handbook/test_log_volumes.py
    """
    a, b = np.asarray(large, dtype=float), np.asarray(small, dtype=float)
    return np.asarray(np.pi / 12.0 * np.asarray(length, dtype=float) * (a * a + a * b + b * b))


def neiloid_frustum(large: ArrayLike, small: ArrayLike, length: ArrayLike) -> Floats:
    """Volume [cubed length unit] of a frustum of a neiloid, the shape of a flared butt; ends in either order.

    Too low for anything that is not flared.

    Source: University of Missouri, forestry functions, "Cubic Log Volume" (frustum of neiloid).
    Checked by: tests/handbook/test_log_volumes.py
    """
    a, b = circle_area(large), circle_area(small)
    inner = np.cbrt(a * a * b) + np.cbrt(a * b * b)
    return np.asarray(np.asarray(length, dtype=float) / 4.0 * (a + inner + b))
