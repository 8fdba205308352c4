"""One run of tapered round wood as a frame element: how its end moves under end loads and under its own weight.

Everything is in the job's axes. A round section bends alike in every direction, so the axis `a` alone fixes the
matrices: with the start held, a force F and a couple M at the end move the end by

    u = i2 (F - a a.F) + ia a a.F + i1 M x a          i_n = integral of (L - x)^n / EI
    t = i0 (M - a a.M) + it a a.M + i1 a x F          ia, it = integrals of 1/EA, 1/GJ
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bolewright.core.recheck.body import Floats

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(24)
_XI, _WX = 0.5 * (_NODES + 1.0), 0.5 * _WEIGHTS


@dataclass(frozen=True)
class Integrals:
    """Integrals along E elements: bend[n] of (L-x)^n/EI for n = 0..3, twist of 1/GJ, stretch[n] of (L-x)^n/EA."""

    bend: Floats  # (4, E)
    twist: Floats  # (E,)
    stretch: Floats  # (2, E)


def cross_matrix(vector: Floats) -> Floats:
    """The (3, 3) matrices X with X @ b = vector x b, one for each vector of a (..., 3) array.

    Source: geometry.
    Checked by: tests/unit/recheck/test_element.py
    """
    x, y, z = vector[..., 0], vector[..., 1], vector[..., 2]
    zero = np.zeros_like(x)
    return np.stack([np.stack([zero, -z, y], -1), np.stack([z, zero, -x], -1), np.stack([-y, x, zero], -1)], -2)


def carry(offset: Floats) -> Floats:
    """(..., 6, 6) matrices taking the movement (slide, turn) of a point to that of a point rigidly `offset` [m] off it.

    Their transposes take a force and couple the other way.
    Source: geometry of small turns.
    Checked by: tests/unit/recheck/test_element.py
    """
    moved = np.zeros((*offset.shape[:-1], 6, 6))
    moved[..., range(6), range(6)] = 1.0
    moved[..., :3, 3:] = -cross_matrix(offset)
    return moved


def integrals(length: Floats, bending: Floats, torsion: Floats, axial: Floats) -> Integrals:
    """Integrals of flexibility along E tapered round elements of `length` [m], stiffness (E, 2) at their two ends.

    Gauss points are spread evenly in the logarithm of the diameter, so a strong taper is as well resolved as none.
    Source: unit-load theorem for a cantilever; closed forms checked in the test.
    Checked by: tests/unit/recheck/test_element.py
    """
    ratio = (bending[:, 1] / bending[:, 0]) ** 0.25  # end diameter over start diameter
    log = np.log(ratio)[:, None]
    near_one = np.abs(log) < 1e-9
    safe = np.where(near_one, 1.0, log)
    share = np.where(near_one, _XI, np.expm1(_XI * safe) / np.expm1(safe))  # x / L at the Gauss points
    speed = np.where(near_one, 1.0, safe * np.exp(_XI * safe) / np.expm1(safe))
    step = speed * _WX * length[:, None]
    ahead = (1.0 - share) * length[:, None]
    per_bend = step / _between(bending, share, 4)
    per_stretch = step / _between(axial, share, 2)
    return Integrals(
        bend=np.stack([np.sum(per_bend * ahead**n, axis=1) for n in range(4)]),
        twist=np.sum(step / _between(torsion, share, 4), axis=1),
        stretch=np.stack([np.sum(per_stretch * ahead**n, axis=1) for n in range(2)]),
    )


def _between(ends: Floats, share: Floats, power: int) -> Floats:
    root = ends ** (1.0 / power)
    return (root[:, :1] + (root[:, 1:] - root[:, :1]) * share) ** power


def part_of(ends: Floats, begin: Floats, stop: Floats, power: int) -> Floats:
    """(E, 2) stiffness at the two ends of a part (shares begin..stop of the length) of tapered elements.

    `power` is the power of the diameter the stiffness goes by: 4 for EI and GJ, 2 for EA.
    Source: geometry.
    Checked by: tests/unit/recheck/test_element.py
    """
    return np.hstack([_between(ends, begin[:, None], power), _between(ends, stop[:, None], power)])


def flexibility(axis: Floats, parts: Integrals) -> Floats:
    """(E, 6, 6) movement [m, rad] of the end per force and couple [N, N m] at the end, start held.

    Source: unit-load theorem, formulas at the top of this module.
    Checked by: tests/unit/recheck/test_element.py
    """
    along = axis[:, :, None] * axis[:, None, :]
    square = np.eye(3) - along
    cross = cross_matrix(axis)
    soft = np.zeros((len(axis), 6, 6))
    soft[:, :3, :3] = parts.bend[2][:, None, None] * square + parts.stretch[0][:, None, None] * along
    soft[:, 3:, 3:] = parts.bend[0][:, None, None] * square + parts.twist[:, None, None] * along
    soft[:, 3:, :3] = parts.bend[1][:, None, None] * cross
    soft[:, :3, 3:] = -parts.bend[1][:, None, None] * cross
    return soft


def sag(axis: Floats, parts: Integrals, per_metre: Floats) -> Floats:
    """(E, 6) movement of each end, start held, under a load [N/m] (E, 3) spread evenly along the element.

    Source: unit-load theorem for a cantilever.
    Checked by: tests/unit/recheck/test_element.py
    """
    along = axis * np.sum(axis * per_metre, axis=1, keepdims=True)
    drop = 0.5 * parts.bend[3][:, None] * (per_metre - along) + parts.stretch[1][:, None] * along
    turn = 0.5 * parts.bend[2][:, None] * np.cross(axis, per_metre)
    return np.hstack([drop, turn])


def stiffness(span: Floats, parts: Integrals) -> Floats:
    """(E, 12, 12) stiffness of both ends [N/m, N, N m]: the flexibility inverted, the start's part by balance.

    The frame uses its unassembled form (frame.py), which is the same matrix before elimination; this is that matrix.
    Source: McGuire, Gallagher & Ziemian, Matrix Structural Analysis, 2nd ed., stiffness from flexibility (from memory).
    Checked by: tests/unit/recheck/test_element.py
    """
    end = np.linalg.inv(flexibility(span / np.linalg.norm(span, axis=1)[:, None], parts))
    relative = np.concatenate([-carry(span), np.broadcast_to(np.eye(6), (len(span), 6, 6))], axis=2)
    whole: Floats = relative.transpose(0, 2, 1) @ end @ relative
    return whole
