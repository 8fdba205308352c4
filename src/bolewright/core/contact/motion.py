"""What moves when nothing can hold the tree: the first movement, in numbers, and where it would be caught.

A tree with no equilibrium sets off, from rest, with the accelerations nearest to free fall that no contact forbids
(Gauss's principle of least constraint). The forces that come closest to holding it do the forbidding; the weight they
leave unbalanced, divided by the mass, is the movement. It is zero exactly when there is an equilibrium, and it is a
dual ray of the infeasible problem: no one-sided contact is pushed into, and the weight loses height.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import lsq_linear

from bolewright.core.base.errors import BadInput

Array = NDArray[np.float64]

AT_REST = 1e-7  # of free fall: a first acceleration below this counts as rest
MOST_CATCHES = 20
NOTHING = -1


@dataclass(frozen=True)
class Rest:
    """Where a moving tree would come to rest, to first order.

    movement (r,): total of the rigid movement (see `first_motion`) [m, rad]; caught: indices of the possible contacts
    that caught it, in turn; held: True when it then has an equilibrium, False when nothing more is there to catch it.
    first (r,): the movement up to the first catch, zeros when nothing catches it.
    """

    movement: Array
    caught: tuple[int, ...]
    held: bool
    first: Array


def inertia_of(points: Array, masses: Array, radius: Array | float) -> Array:
    """Mass matrix (6, 6) about the origin of lumps at points (n, 3) [m] with masses (n,) [kg]: translation, rotation.

    Each lump is a ball of the given radius [m] (the wood's, roughly), so that a straight row of lumps still resists
    turning about itself. The mass matrix only picks WHICH movement comes first; whether anything moves does not
    depend on it. Twice the energy of velocity u = (v, w) is u'M u.
    Raises BadInput when there is no mass.
    Source: mechanics of rigid bodies; a ball has 2/5 m r^2.
    Checked by: tests/unit/contact/test_motion.py.
    """
    total = float(np.sum(masses))
    if not total > 0.0:
        raise BadInput("A body that moves needs mass.")
    matrix = np.zeros((6, 6))
    matrix[:3, :3] = total * np.eye(3)
    first = masses @ points
    matrix[:3, 3:] = -_cross_matrix(first)
    matrix[3:, :3] = _cross_matrix(first)
    square = np.sum(points**2, axis=1)
    matrix[3:, 3:] = np.eye(3) * float(masses @ square) - points.T @ (points * masses[:, None])
    matrix[3:, 3:] += np.eye(3) * 0.4 * float(np.sum(masses * np.asarray(radius) ** 2))
    return matrix


def _cross_matrix(a: Array) -> Array:
    """The matrix of a x (...)."""
    return np.array([[0.0, -a[2], a[1]], [a[2], 0.0, -a[0]], [-a[1], a[0], 0.0]])


def first_motion(columns: Array, weight: Array, lower: Array, upper: Array, inertia: Array) -> Array | None:
    """The acceleration (r,) [m/s2, rad/s2] with which the tree sets off from rest; None when an equilibrium exists.

    Six numbers: that of the origin point of the tree, then the turning; three, (vertical, about x, about y), for
    columns with rows Fz, Mx, My. Supports are rigid and hold up to their limits; friction, where wanted, comes in as
    columns of its own. columns (r, n), weight (r,) [N, N m], lower, upper (n,) [N]; inertia (6, 6) or (r, r) [kg, kg m,
    kg m2] about the same origin.
    Source: Gauss's principle of least constraint (1829); its dual is the bounded least-squares problem solved here,
    e.g. Moreau 1966, Quadratic programming in mechanics, SIAM J. Control 4.
    Checked by: tests/unit/contact/test_motion.py (closed forms; Farkas' lemma by HiGHS).
    """
    mass = inertia if inertia.shape[0] == len(weight) else inertia[2:5, 2:5]
    root = np.linalg.cholesky(mass)
    newtons = float(np.max(np.abs(weight))) or 1.0
    need = np.linalg.solve(root, weight)
    fall = float(np.linalg.norm(need))
    if columns.shape[1] == 0:
        left = need
    else:
        push = np.linalg.solve(root, columns) * newtons
        scale = 1.0 / max(fall, 1e-300)
        free = lower < upper
        fixed = push[:, ~free] @ (lower[~free] / newtons)
        left = need + fixed
        if free.any():
            limits = (lower[free] / newtons, upper[free] / newtons)
            found = lsq_linear(push[:, free] * scale, -left * scale, limits, method="bvls", tol=1e-14, max_iter=1000)
            left = left + push[:, free] @ found.x
    if float(np.linalg.norm(left)) <= AT_REST * max(fall, 1e-300):
        return None
    return np.asarray(np.linalg.solve(root.T, left))


def distance_to_catch(motion: Array, possible: Array, gaps: Array) -> tuple[float, int]:
    """How often `motion` fits in before a possible contact closes [-], and which one; inf and -1 when none does.

    possible (r, k): columns of the contacts that may catch it (unit force on the tree); gaps (k,) [m] along them.
    First order: turns are taken as small, so over a gap of a fifth of the arm the distance is off by a few per cent.
    Source: kinematics of a rigid body.
    Checked by: tests/unit/contact/test_motion.py.
    """
    closing = -(possible.T @ motion) if possible.shape[1] else np.zeros(0)
    size = float(np.max(np.abs(closing), initial=0.0))
    coming = closing > 1e-9 * size
    if not coming.any():
        return float("inf"), NOTHING
    often = np.full(len(gaps), np.inf)
    often[coming] = np.maximum(gaps[coming], 0.0) / closing[coming]
    which = int(np.argmin(often))
    return float(often[which]), which


def come_to_rest(
    columns: Array,
    weight: Array,
    lower: Array,
    upper: Array,
    possible: Array,
    gaps: Array,
    inertia: Array,
) -> Rest:
    """Where the tree comes to rest: it moves until a possible contact closes, which then holds, and so on.

    Picture: a slow settling, one catch after the other; a tree that falls arrives harder and may bounce or break what
    catches it. Geometry is that of the start (small turns), the weight keeps its place: for a long fall the point of
    rest is a pointer, not a measure. Movements in [m, rad]; arguments as in `first_motion` and `distance_to_catch`;
    possible contacts only push, without limit.
    Source: house rule: quasi-static settling on rigid catches.
    Checked by: tests/unit/contact/test_motion.py.
    """
    total = np.zeros(len(weight))
    first = total.copy()
    caught: list[int] = []
    left = gaps.astype(float).copy()
    for _ in range(MOST_CATCHES):
        held = np.concatenate([columns, possible[:, caught]], axis=1)
        low = np.append(lower, np.zeros(len(caught)))
        high = np.append(upper, np.full(len(caught), np.inf))
        motion = first_motion(held, weight, low, high, inertia)
        if motion is None:
            return Rest(total, tuple(caught), True, first)
        others = [i for i in range(len(gaps)) if i not in caught]
        often, which = distance_to_catch(motion, possible[:, others], left[others])
        if which == NOTHING:
            return Rest(total, tuple(caught), False, first)
        step = motion * often
        left = left + possible.T @ step
        total = total + step
        if not caught:
            first = step
        caught.append(others[which])
    return Rest(total, tuple(caught), False, first)
