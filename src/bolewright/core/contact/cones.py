"""Friction at a contact: the round cone of possible forces, replaced by a pyramid inside it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.errors import BadInput

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Cone:
    """A frictional contact: the indices of its normal and two tangent unknowns, and its friction."""

    normal: int
    tangent1: int
    tangent2: int
    mu: float


def pyramid(cones: tuple[Cone, ...], unknowns: int, sides: int = 4) -> Array:
    """The friction pyramids as rows P (sides * cones, unknowns) with P l <= 0, all [-].

    Four sides: |t1| + |t2| <= mu n. Eight sides: the octagon through the same corners and those between. Both lie
    INSIDE the round cone, so they allow too little friction (at worst 29 % too little with four sides, 8 % with
    eight, between the corners): the error lies towards calling a tree less held than it is.
    Raises BadInput for a negative friction or another number of sides.
    Source: geometry: chord of a regular polygon with corners on the circle of radius mu n.
    Checked by: tests/unit/contact/test_friction.py.
    """
    if sides not in (4, 8):
        raise BadInput(f"A friction pyramid has 4 or 8 sides, not {sides}.")
    rows = np.zeros((sides * len(cones), unknowns))
    middles = 2.0 * np.pi * (np.arange(sides) + 0.5) / sides
    reach = np.cos(np.pi / sides)  # of the sides' middles, where the corners reach 1
    for c, cone in enumerate(cones):
        if not 0.0 <= cone.mu < np.inf:
            raise BadInput(f"A friction of {cone.mu} is not possible: it must be zero or more.")
        block = rows[c * sides : (c + 1) * sides]
        block[:, cone.tangent1] = np.cos(middles)
        block[:, cone.tangent2] = np.sin(middles)
        block[:, cone.normal] = -cone.mu * reach
    return rows


def corner_columns(wrench: Array, cones: tuple[Cone, ...], sides: int = 4) -> tuple[Array, Array]:
    """The wrench columns of each cone's normal (6, cones) and of its pyramid's corners (6, cones, sides) at friction 1.

    A contact that slides pushes with normal + mu * corner, so every force the pyramid allows is a sum of such columns
    with amounts of zero or more [N].
    Source: geometry.
    Checked by: tests/unit/contact/test_friction.py.
    """
    angles = 2.0 * np.pi * np.arange(sides) / sides
    normals = wrench[:, [c.normal for c in cones]]
    first, second = wrench[:, [c.tangent1 for c in cones]], wrench[:, [c.tangent2 for c in cones]]
    corners = first[:, :, None] * np.cos(angles) + second[:, :, None] * np.sin(angles)
    return normals, corners
