"""One trial of a contact set, for many columns at once: forces, rigid movement and openings by elimination."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Marks = NDArray[np.int8]
Bools = NDArray[np.bool_]
Index = NDArray[np.int64] | NDArray[np.bool_] | slice

SOFT = 1e-10  # of the stiffest rigid movement: a resistance that keeps every trial set solvable, then is taken out
PROXIMAL_STEPS = 6


@dataclass(frozen=True)
class Problem:
    """B contact problems of the same tree. n unknowns, r equations.

    flexibility (n, n, B), symmetric positive definite [m/N]; columns (r, n), the same for all; weight (r, B) [N];
    offset (n, B) [m] sag plus gap, + open; low, high (n, B) [N], +-inf allowed, low = high = 0 for a contact that is
    not there.
    """

    flexibility: Array
    columns: Array
    weight: Array
    offset: Array
    low: Array
    high: Array

    @property
    def count(self) -> int:
        """How many columns there are."""
        return int(self.weight.shape[1])

    @property
    def size(self) -> Array:
        """(B,) the size of the weight."""
        return np.asarray(np.maximum(np.abs(self.weight).max(axis=0), 1e-30))

    def take(self, index: Index) -> Problem:
        """Some of the columns."""
        return Problem(
            self.flexibility[:, :, index],
            self.columns,
            self.weight[:, index],
            self.offset[:, index],
            self.low[:, index],
            self.high[:, index],
        )


@dataclass(frozen=True)
class Trial:
    """What a contact set comes to: force (n, B) [N], rigid movement (r, B), opening (n, B) [m]."""

    force: Array
    movement: Array
    opening: Array

    def take(self, index: Index) -> Trial:
        """Some of the columns."""
        return Trial(self.force[:, index], self.movement[:, index], self.opening[:, index])

    def put(self, index: Index, part: Trial) -> None:
        """Write the columns of a part in place."""
        self.force[:, index], self.movement[:, index], self.opening[:, index] = part.force, part.movement, part.opening


def solve_columns(matrix: Array, rhs: Array) -> Array:
    """Solutions of B symmetric positive definite systems: matrix (n, n, B), rhs (n, k, B) -> (n, k, B).

    Elimination without exchanges, which is stable for such matrices. Neither argument is changed. Units: any.
    Source: Golub & Van Loan, Matrix Computations, 4th ed., section 4.2.
    Checked by: tests/unit/contact/test_kernel.py.
    """
    n, k = matrix.shape[0], rhs.shape[1]
    both = np.concatenate([matrix, np.broadcast_to(rhs, (n, k, matrix.shape[2]))], axis=1)
    work = np.empty((n, n + k, matrix.shape[2]))
    for i in range(n - 1):
        factor = both[i + 1 :, i] / both[i, i]
        step = work[: n - 1 - i, : n + k - 1 - i]
        np.multiply(factor[:, None], both[i, i + 1 :][None], out=step)
        both[i + 1 :, i + 1 :] -= step
    x = both[:, n:]
    for i in range(n - 1, -1, -1):
        x[i] /= both[i, i]
        if i:
            step = work[:i, :k]
            np.multiply(both[:i, i][:, None], x[i][None], out=step)
            x[:i] -= step
    return x


def solve_trial(problem: Problem, mark: Marks) -> Trial:
    """Forces, rigid movement and openings (SI) with the contact set as marked: 0 carries, -1 at low, 1 at high.

    Source: the optimality conditions of the least energy problem.
    Checked by: tests/unit/contact/test_kernel.py.
    """
    q, columns, batch = problem.flexibility, problem.columns, problem.count
    free = mark == 0
    push, need, fixed = problem.offset, problem.weight, None
    held = np.flatnonzero(((mark == -1) & (problem.low != 0.0) | (mark == 1)).any(axis=1))
    if len(held):
        fixed = np.where(free, 0.0, np.where(mark == -1, problem.low, problem.high))
        push = push + np.einsum("ijb,jb->ib", q[:, held], fixed[held])
        need = need + columns[:, held] @ fixed[held]
    most = max(int(free.sum(axis=0).max()), 1)
    carry = np.argsort(~free, axis=0, kind="stable")[:most]  # (k, B) the carrying contacts of each column first
    span = np.arange(batch)
    here = free[carry, span]
    a = q[carry[:, None], carry[None], span]
    a *= here[:, None]
    a *= here[None]
    a[np.arange(most), np.arange(most)] += ~here
    rhs = np.empty((most, len(columns) + 1, batch))
    np.multiply(columns[:, carry].transpose(1, 0, 2), here[:, None], out=rhs[:, :-1])
    np.multiply(push[carry, span], here, out=rhs[:, -1])
    own = rhs[:, :-1].copy()
    x = solve_columns(a, rhs)
    stiff = np.einsum("nib,nkb->ikb", own, x[:, :-1])  # resistance of the contacts to rigid movement
    soft = _soft_inverse(stiff)
    move = _rigid_movement(stiff, soft, need - np.einsum("nib,nb->ib", own, x[:, -1]))
    part = (-x[:, -1] - np.einsum("nkb,kb->nb", x[:, :-1], move)) * here
    left = need + np.einsum("nib,nb->ib", own, part)  # what rounding left out of balance
    more = _rigid_movement(stiff, soft, left)
    move = move + more
    part -= np.einsum("nkb,kb->nb", x[:, :-1], more) * here
    change = np.zeros(problem.low.shape)
    change[carry, span] = part
    opening = np.einsum("ijb,jb->ib", q, change) + push + columns.T @ move
    return Trial(change if fixed is None else fixed + change, move, opening)


def _soft_inverse(stiff: Array) -> Array:
    """Inverse (r, r, B) of the resistance to rigid movement and a vanishing soft one, which a loose body needs."""
    r = stiff.shape[0]
    a = stiff.copy()
    a[np.arange(r), np.arange(r)] += SOFT * np.maximum(np.abs(stiff).max(axis=(0, 1)), 1e-30)
    return solve_columns(a, np.eye(r)[:, :, None])


def _rigid_movement(stiff: Array, soft: Array, need: Array) -> Array:
    """v with stiff v = need (r, B), by its soft inverse; a loose body's movement comes out finite and huge."""
    move = np.einsum("ikb,kb->ib", soft, need)
    for _ in range(PROXIMAL_STEPS):  # take the soft resistance out again where the contacts do hold the body
        left = need - np.einsum("ikb,kb->ib", stiff, move)
        move = move + np.einsum("ikb,kb->ib", soft, left)
    return np.asarray(move)
