"""The full contact problem: tilted normals, friction in pyramids, six equations of equilibrium.

Minimise 1/2 l'(C + S) l + (g + gap)'l subject to W l + w = 0, low <= l <= high and the friction pyramids. The
multipliers of the six equations are the rigid movement of the tree, so a contact that carries has
(C l + g + gap + S l + W'u) = 0: the wood moves against the contact by gap plus give.

Friction here follows the associated law: a contact that slides also lifts by the slope of its pyramid. That law
finds an equilibrium wherever one is possible, so it is OPTIMISTIC about sliding: a tree it holds may still slide.
Use a low friction for the stand-or-slide check.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import daqp
import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.errors import BadInput
from bolewright.core.contact.cones import Cone, pyramid
from bolewright.core.contact.sliding import friction_needed
from bolewright.core.contact.supports import SMALLEST_GIVE

__all__ = [
    "HELD",
    "NOT_SOLVED",
    "NO_EQUILIBRIUM",
    "Cone",
    "Equilibrium",
    "Multipliers",
    "balance_residual",
    "friction_needed",
    "pyramid",
    "solve_friction",
]

Array = NDArray[np.float64]

RANK_TOLERANCE = 1e-9  # of the largest singular value: below this an equation says nothing new
BALANCE_TOLERANCE = 1e-9  # of weight: the residual an answer must stay under
SIGN_TOLERANCE = 1e-7  # of weight: how far a force may stray past its limit or pyramid before the answer is refused
EQUALITY = 5  # daqp's mark for an equation

HELD = "held"
NO_EQUILIBRIUM = "no equilibrium"
NOT_SOLVED = "not solved"


@dataclass(frozen=True)
class Multipliers:
    """What the limits push back with [m]: opening at a lower limit (+), overlap past an upper limit (-); and, per
    cone, the slip that each active side of the pyramid lets go."""

    limits: Array  # (m,)
    cones: Array  # (sides * cones,)


@dataclass(frozen=True)
class Equilibrium:
    """An answer, or the plain word that there is none.

    force (m,) [N]; movement (6,) rigid: translation of the origin [m] and rotation [rad]; residual of W l + w relative
    to weight (nan without an answer); status "held" | "no equilibrium" | "not solved"; multipliers.
    """

    force: Array | None
    movement: Array | None
    residual: float
    status: str
    multipliers: Multipliers | None


class _Scaled(NamedTuple):
    """The problem in numbers near one: x = l / newtons, equations made independent."""

    rows: Array  # (r, m) independent equations
    right: Array  # (r,)
    back: Array  # (r, 6) rows = back @ wrench
    newtons: float
    consistent: bool


def solve_friction(
    flexibility: Array,
    load_term: Array,
    wrench: Array,
    weight: Array,
    compliance: Array,
    gap: Array,
    lower: Array,
    upper: Array,
    cones: tuple[Cone, ...],
    sides: int = 4,
) -> Equilibrium:
    """Contact forces [N] and rigid movement of one tree at rest with friction, or the word that there is no rest.

    Of all equilibria the one with the least complementary energy comes back. It is optimistic about sliding (see
    the module), and conservative in the friction each pyramid allows.
    flexibility (m, m) [m/N]; load_term (m,) [m] movement along each unknown under the tree's own weight; wrench (6, m)
    of the unit forces and weight (6,) [N, N m] about one origin; compliance (m,) [m/N] of the supports, raised to
    SMALLEST_GIVE; gap (m,) [m]; lower, upper (m,) [N], +-inf allowed.
    Raises BadInput when shapes do not agree, numbers are missing or a limit is upside down.
    Source: Lotstedt, SIAM J. Sci. Stat. Comput. 5 (1984), the associated-friction form; solver after Arnstrom, Bemporad
    & Axehill, IEEE Trans. Automatic Control 67 (2022).
    Checked by: tests/unit/contact/test_friction.py,
    tests/properties/test_friction.py.
    """
    _refuse_nonsense(flexibility, load_term, wrench, weight, compliance, gap, lower, upper, cones)
    scaled = _scale(wrench, weight)
    if not scaled.consistent:
        return _nothing(NO_EQUILIBRIUM)
    if wrench.shape[1] == 0:
        return Equilibrium(np.zeros(0), np.zeros(6), 0.0, HELD, Multipliers(np.zeros(0), np.zeros(0)))
    energy = 0.5 * (flexibility + flexibility.T) + np.diag(np.maximum(compliance, SMALLEST_GIVE))
    size = float(np.max(np.diag(energy)))
    hessian = energy / size
    slope = (load_term + gap) / (size * scaled.newtons)
    sides_rows = pyramid(cones, len(lower), sides)
    matrix = np.concatenate([scaled.rows, sides_rows])
    none = np.zeros(len(sides_rows))
    high = np.concatenate([upper / scaled.newtons, scaled.right, none])
    low = np.concatenate([lower / scaled.newtons, scaled.right, none - np.inf])
    sense = np.zeros(len(high), dtype=np.int32)
    sense[len(lower) : len(lower) + len(scaled.right)] = EQUALITY
    x, _, flag, info = daqp.solve(hessian, slope, matrix, _finite(high), _finite(low), sense, primal_tol=1e-10)
    if flag == -1:
        return _nothing(NO_EQUILIBRIUM)
    if flag < 1:
        return _nothing(NOT_SOLVED)
    x, push = _polish(hessian, slope, matrix, low, high, sense, np.asarray(x), np.asarray(info["lam"]))
    return _answer(x, push, size, scaled, wrench, weight, lower, upper, sides_rows)


def _nothing(status: str) -> Equilibrium:
    return Equilibrium(None, None, float("nan"), status, None)


def _finite(bounds: Array) -> Array:
    return np.clip(bounds, -1e30, 1e30)


def _scale(wrench: Array, weight: Array) -> _Scaled:
    """Independent equations in numbers near one; consistent is False when no force at all could balance them."""
    newtons = float(np.linalg.norm(weight[:3]))
    arm = max(float(np.max(np.abs(wrench[3:]), initial=0.0)), float(np.max(np.abs(weight[3:]))) / max(newtons, 1e-12))
    metres = arm if arm > 0.0 else 1.0
    newtons = newtons or float(np.max(np.abs(weight[3:]))) / metres or 1.0
    shrink = np.array([1.0, 1.0, 1.0, 1.0 / metres, 1.0 / metres, 1.0 / metres])
    rows, need = wrench * shrink[:, None], -weight * shrink / newtons
    left, values, _ = np.linalg.svd(rows, full_matrices=False)
    keep = left[:, values > RANK_TOLERANCE * max(float(np.max(values, initial=0.0)), 1e-300)]
    lost = need - keep @ (keep.T @ need)
    consistent = float(np.linalg.norm(lost)) <= BALANCE_TOLERANCE * max(1.0, float(np.linalg.norm(need)))
    return _Scaled(keep.T @ rows, keep.T @ need, keep.T * shrink, newtons, consistent)


def _polish(
    hessian: Array,
    slope: Array,
    matrix: Array,
    low: Array,
    high: Array,
    sense: NDArray[np.int32],
    x: Array,
    push: Array,
) -> tuple[Array, Array]:
    """One exact solve on the solver's active set, with a step of refinement; kept only if no limit is passed by it."""
    every = np.concatenate([np.eye(len(x)), matrix])
    active = np.flatnonzero((sense == EQUALITY) | (np.abs(push) > 0.0))
    rows = every[active]
    target = np.where(push[active] >= 0.0, high[active], low[active])
    n, k = len(x), len(active)
    kkt = np.block([[hessian, rows.T], [rows, np.zeros((k, k))]])
    right = np.concatenate([-slope, target])
    if not np.all(np.isfinite(right)):
        return x, push
    answer = _refined(kkt, right)
    better, value = answer[:n], every @ answer[:n]
    if np.any(value > high + SIGN_TOLERANCE) or np.any(value < low - SIGN_TOLERANCE):
        return x, push
    out = np.zeros_like(push)
    out[active] = answer[n:]
    return better, out


def _refined(kkt: Array, right: Array) -> Array:
    """Solution with one step of refinement; the least one where active limits repeat each other."""
    inverse: Array
    try:
        inverse = np.asarray(np.linalg.inv(kkt), dtype=float)
    except np.linalg.LinAlgError:
        inverse = np.asarray(np.linalg.pinv(kkt, rcond=1e-14), dtype=float)
    answer = inverse @ right
    answer = answer + inverse @ (right - kkt @ answer)
    if float(np.max(np.abs(right - kkt @ answer), initial=0.0)) > 1e-11 * (1.0 + float(np.max(np.abs(right)))):
        first = np.linalg.lstsq(kkt, right, rcond=1e-14)[0]
        answer = np.asarray(first + np.linalg.lstsq(kkt, right - kkt @ first, rcond=1e-14)[0], dtype=float)
    return answer


def _answer(
    x: Array,
    push: Array,
    size: float,
    scaled: _Scaled,
    wrench: Array,
    weight: Array,
    lower: Array,
    upper: Array,
    sides: Array,
) -> Equilibrium:
    """Back to newtons and metres; an answer that does not balance or strays past a limit is no answer."""
    force = np.clip(x * scaled.newtons, lower, upper)
    metres = size * scaled.newtons
    m, r = len(x), len(scaled.right)
    residual = balance_residual(wrench, weight, force)
    strays = float(np.max(sides @ force, initial=0.0)) / scaled.newtons
    if residual > BALANCE_TOLERANCE or strays > SIGN_TOLERANCE:
        return _nothing(NOT_SOLVED)
    movement = scaled.back.T @ (push[m : m + r] * metres)
    # daqp's multipliers are positive at an upper limit; an opening at a lower limit is reported positive.
    multipliers = Multipliers(limits=-push[:m] * metres, cones=push[m + r :] * metres)
    return Equilibrium(force, movement, residual, HELD, multipliers)


def balance_residual(wrench: Array, weight: Array, force: Array) -> float:
    """The largest part of W l + w left over [-], relative to weight (moments over the longest arm).

    wrench (6, m) or (3, m), weight (6,) or (3,) [N, N m], force (m,) [N]. The first half of the rows are forces (one
    row, Fz, when there are three).
    Source: statics, sums of forces and moments.
    Checked by: tests/unit/contact/test_friction.py.
    """
    forces = 3 if len(weight) == 6 else 1
    newtons = float(np.linalg.norm(weight[:forces])) or 1.0
    arm = max(float(np.max(np.abs(wrench[forces:]), initial=0.0)), float(np.max(np.abs(weight[forces:]))) / newtons)
    left = wrench @ force + weight
    turning = float(np.max(np.abs(left[forces:]))) / (arm or 1.0)
    return max(float(np.max(np.abs(left[:forces]))), turning) / newtons


def _refuse_nonsense(
    flexibility: Array,
    load_term: Array,
    wrench: Array,
    weight: Array,
    compliance: Array,
    gap: Array,
    lower: Array,
    upper: Array,
    cones: tuple[Cone, ...],
) -> None:
    m = len(lower)
    shapes = (flexibility.shape, load_term.shape, wrench.shape, weight.shape, compliance.shape, gap.shape, upper.shape)
    if shapes != ((m, m), (m,), (6, m), (6,), (m,), (m,), (m,)):
        raise BadInput(f"The contact problem has {m} unknowns, but its tables do not all have that size.")
    for table in (flexibility, load_term, wrench, weight, compliance, gap):
        if not np.all(np.isfinite(table)):
            raise BadInput("The contact problem has a number that is missing or infinite.")
    if np.any(np.isnan(lower)) or np.any(np.isnan(upper)) or np.any(lower > upper):
        raise BadInput("A support's lower limit lies above its upper limit.")
    for cone in cones:
        if max(cone.normal, cone.tangent1, cone.tangent2) >= m or lower[cone.normal] < 0.0:
            raise BadInput("A frictional contact must push only, and its unknowns must be among those given.")
