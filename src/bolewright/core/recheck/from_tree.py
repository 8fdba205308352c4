"""The measured tree as the second formulation takes it."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from bolewright.core.base.vectors import GRAVITY
from bolewright.core.recheck.body import Floats, PointLoads, Segments
from bolewright.core.tree.assembly import Assembly

RIGID_SHARE = 1e5  # a run this many times as stiff as solid wood does not bend: the part of a limb inside its parent


def wood_of(
    assembly: Assembly, modulus: ArrayLike, shear_modulus: ArrayLike, mass: ArrayLike | None = None
) -> tuple[Segments, PointLoads]:
    """The tree's runs and lumps with stiffness and weight, SI: K segments, and a point load per lump (P,).

    Round tapered wood of the outside diameters, less what decay took of I and A over each run. The limb's stub inside
    its parent's wood is taken as rigid, which overstates stiffness there by less than one part in a million.
    Parameters: modulus and shear_modulus [Pa], one number or (K,); mass (K,) or (K, groups) [kg] in place of the
    assembly's likely masses, for one sample.
    Source: I = pi d^4/64 and twice that for twist, A = pi d^2/4; decayed shares as in core.tree.
    Checked by: tests/unit/recheck/test_from_tree.py
    """
    count = len(assembly.parent)
    diameter = np.column_stack([assembly.diameter_start, assembly.diameter_end])
    second = np.pi / 64.0 * diameter**4 * assembly.bending_share[:, None]
    area = np.pi / 4.0 * diameter**2 * assembly.area_share[:, None]
    along, across = _each(modulus, count), _each(shear_modulus, count)
    heavy = np.asarray(assembly.mass if mass is None else mass, dtype=float)
    wood = Segments.of(
        assembly.start,
        assembly.end,
        assembly.parent,
        bending=along * second,
        torsion=across * 2.0 * second,
        axial=along * area,
        weight=GRAVITY * (heavy.sum(axis=1) if heavy.ndim == 2 else heavy),
        rigid=assembly.bending_share >= RIGID_SHARE,
    )
    down = np.outer(GRAVITY * assembly.lump_mass.sum(axis=1), [0.0, 0.0, -1.0])
    return wood, PointLoads.of(assembly.lump_segment, assembly.lump_point, down)


def _each(value: ArrayLike, count: int) -> Floats:
    return np.broadcast_to(np.asarray(value, dtype=float), (count,))[:, None].copy()
