"""The one place where axes and clock positions are defined (drawn in docs/names.md).

x forward: horizontal, along the tree's bearing, butt towards tip. y to the left. z up. Origin: on the ground
under the butt. "Right" in the job document is -y. Clock positions are read looking from butt to tip:
12 up, 3 right, 6 down, 9 left, always square to the member's axis.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Vector = NDArray[np.float64]

FORWARD: Vector = np.array([1.0, 0.0, 0.0])
LEFT: Vector = np.array([0.0, 1.0, 0.0])
UP: Vector = np.array([0.0, 0.0, 1.0])
GRAVITY = 9.80665  # m/s2, standard value (ISO 80000-3)


def unit(vector: ArrayLike) -> Vector:
    """The vector scaled to length 1; a zero vector raises ValueError.

    Parameters: vector (3,).
    Source: geometry.
    Checked by: tests/unit/base/test_vectors.py
    """
    array = np.asarray(vector, dtype=float)
    length = float(np.linalg.norm(array))
    if length == 0.0:
        raise ValueError("a zero vector has no direction")
    return array / length


def twelve_oclock(axis: ArrayLike) -> Vector:
    """Unit vector towards 12 o'clock of a member with this axis: up made square to the axis.

    For a vertical member, where up has no square part, 12 o'clock is backward (-x) when the axis points up and
    forward (+x) when it points down, which is the limit of tilting the member towards +x.
    Parameters: axis (3,), butt to tip.
    Source: house rule.
    Checked by: tests/unit/base/test_vectors.py
    """
    along = unit(axis)
    square = UP - along * float(along @ UP)
    if float(np.linalg.norm(square)) < 1e-6:
        return -FORWARD * float(np.sign(along[2]))
    return unit(square)


def clock_direction(axis: ArrayLike, clock: float) -> Vector:
    """Unit vector square to the axis at a clock position (hours, 0..12, fractions allowed).

    Parameters: axis (3,); clock [h].
    Source: house rule.
    Checked by: tests/unit/base/test_vectors.py
    """
    along = unit(axis)
    twelve = twelve_oclock(along)
    three = np.cross(along, twelve)  # looking along the axis, up x forward is left; along x up is right
    angle = 2.0 * np.pi * clock / 12.0
    return twelve * float(np.cos(angle)) + three * float(np.sin(angle))


def clock_of(axis: ArrayLike, direction: ArrayLike) -> float:
    """Clock position (hours, 0 < h <= 12) of a direction seen along the axis.

    Parameters: axis (3,), direction (3,).
    Source: house rule.
    Checked by: tests/unit/base/test_vectors.py
    """
    along = unit(axis)
    twelve = twelve_oclock(along)
    three = np.cross(along, twelve)
    d = np.asarray(direction, dtype=float)
    hours = float(np.arctan2(d @ three, d @ twelve)) * 12.0 / (2.0 * np.pi)
    hours = hours % 12.0
    return 12.0 if hours < 1e-9 else hours
