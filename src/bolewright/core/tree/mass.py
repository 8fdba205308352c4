"""Total mass, centre of mass and weight of a tree. Factors stand for what is not known exactly, one per mass group.

Factors are (5,) for one tree or (..., 5) for many samples at once; the answers carry the same leading axes.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.base.vectors import GRAVITY
from bolewright.core.tree.assembly import GROUPS, Assembly

Floats = NDArray[np.float64]
AS_LIKELY: Floats = np.ones(len(GROUPS))


def group_masses(assembly: Assembly) -> Floats:
    """Mass [kg] per group (5,), lumps counted.

    Source: a sum.
    Checked by: tests/properties/test_tree_mass.py
    """
    return np.asarray(assembly.mass.sum(axis=0) + assembly.lump_mass.sum(axis=0))


def group_moments(assembly: Assembly) -> Floats:
    """Mass times position [kg m] per group (5, 3), about the origin.

    Each segment counts at its middle, a little too far out on a taper (see `build_assembly`).

    Source: mechanics, first moment of mass.
    Checked by: tests/properties/test_tree_mass.py
    """
    middle = (assembly.start + assembly.end) / 2.0
    return np.asarray(assembly.mass.T @ middle + assembly.lump_mass.T @ assembly.lump_point)


def total_mass(assembly: Assembly, factors: ArrayLike = AS_LIKELY) -> Floats:
    """Mass [kg] of the whole tree, (...) for factors (..., 5).

    Source: a sum.
    Checked by: tests/properties/test_tree_mass.py
    """
    return np.asarray(np.asarray(factors, dtype=float) @ group_masses(assembly))


def centre_of_mass(assembly: Assembly, factors: ArrayLike = AS_LIKELY) -> Floats:
    """Centre of mass [m] of the whole tree, (..., 3) for factors (..., 5).

    Source: mechanics, first moment over mass.
    Checked by: tests/properties/test_tree_mass.py
    """
    given = np.asarray(factors, dtype=float)
    return np.asarray(given @ group_moments(assembly) / (given @ group_masses(assembly))[..., None])


def weight_wrench(assembly: Assembly, factors: ArrayLike = AS_LIKELY) -> Floats:
    """Weight as (Fx, Fy, Fz, Mx, My, Mz) [N, N m] about the origin, (..., 6) for factors (..., 5).

    Source: mechanics, r x F with F = (0, 0, -m g).
    Checked by: tests/properties/test_tree_mass.py
    """
    given = np.asarray(factors, dtype=float)
    weight = GRAVITY * (given @ group_masses(assembly))
    moment = GRAVITY * (given @ group_moments(assembly))
    nothing = np.zeros_like(weight)
    return np.stack([nothing, nothing, -weight, -moment[..., 1], moment[..., 0], nothing], axis=-1)


def run_mass(assembly: Assembly, member: str, start: float, end: float, factors: ArrayLike = AS_LIKELY) -> float:
    """Mass [kg] of a run of one member between two distances [m] from its base, without what grows on it.

    Source: a sum; a segment cut by an end counts by its length.
    Checked by: tests/properties/test_tree_mass.py
    """
    own = assembly.of(member)
    s0, s1 = assembly.s_start[own], assembly.s_end[own]
    inside = np.clip(np.minimum(s1, end) - np.maximum(s0, start), 0.0, None) / (s1 - s0)
    return float(((assembly.mass[own] @ np.asarray(factors, dtype=float)) * inside).sum())
