"""Many small contact problems at once: the samples (and states) lie along the last axis and move together.

Each column solves   minimise 1/2 l'Q l + c'l   subject to   A l = -w,   low <= l <= high,
the least complementary energy of a tree on its supports: l the contact forces, Q their flexibility with the
supports' own give on the diagonal, c the movement under the tree's own weight plus the gap. What comes out beside
the forces is the rigid movement v, and the opening  d = Q l + c + A'v  of every contact (0 where it carries).

The contact set is found by exchanging every contact whose sign is wrong, all columns together (block principal
pivoting; Judice & Pires, Computers & Operations Research 21, 1994), falling back to one contact at a time where that
does not settle (least-index rule of Murty, Opsearch 11, 1974), which always ends.
"""

from __future__ import annotations

from dataclasses import dataclass

import daqp
import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Marks = NDArray[np.int8]

CHUNK = 1024  # columns worked on together: small enough to stay in cache
SOFT = 1e-10  # of the stiffest rigid movement: a resistance that keeps every trial set solvable, then is taken out
GREEDY_ROUNDS = 1
MURTY_AFTER = 30
FEW = 100  # columns solved one by one rather than in another round for all
SINGLE_ROUNDS = (0, 1, 2, 4, 8)
EQUATION = 5  # daqp's mark for an equation
MOST_ROUNDS = 200


@dataclass(frozen=True)
class Solution:
    """Answers of B columns. force (n, B); movement (r, B) rigid; opening (n, B); residual (B,) of A l + w, relative
    to the size of w; held (B,) bool: an equilibrium was found."""

    force: Array
    movement: Array
    opening: Array
    residual: Array
    held: NDArray[np.bool_]


def solve_columns(matrix: Array, rhs: Array) -> Array:
    """Solutions of B symmetric positive definite systems: matrix (n, n, B), rhs (n, k, B) -> (n, k, B).

    Elimination without exchanges, which is stable for such matrices. Neither argument is changed.
    Source: Golub & Van Loan, Matrix Computations, 4th ed., section 4.2. Checked by: tests/unit/contact/test_kernel.py.
    """
    a, b = matrix.copy(), rhs.copy()
    n = a.shape[0]
    for k in range(n - 1):
        factor = a[k + 1 :, k] / a[k, k]
        a[k + 1 :, k + 1 :] -= factor[:, None] * a[k, k + 1 :][None]
        b[k + 1 :] -= factor[:, None] * b[k][None]
    for k in range(n - 1, -1, -1):
        b[k] /= a[k, k]
        if k:
            b[:k] -= a[:k, k][:, None] * b[k][None]
    return b


def solve_contacts(
    flexibility: Array,
    columns: Array,
    weight: Array,
    offset: Array,
    low: Array,
    high: Array,
    start: Marks | None = None,
    can: NDArray[np.bool_] | None = None,
) -> Solution:
    """Contact forces of B columns.

    flexibility (n, n, B), symmetric positive definite [m/N]; columns (r, n), the same for all; weight (r, B) [N];
    offset (n, B) [m] sag plus gap, + open; low, high (n, B) [N], +-inf allowed, low = high = 0 for a contact that is
    not there. start (n, B): a first guess of the contact set (0 carries, -1 at low, 1 at high), from a state nearby.
    Columns with no equilibrium come back with held = False and the forces that come closest.
    Raises nothing for numbers that make sense; shapes are the caller's duty.
    Source: see the module. Checked by: tests/unit/contact/test_kernel.py, tests/properties/test_contact_properties.py.
    """
    batch = weight.shape[1]
    if can is not None and not can.all():
        return _some(flexibility, columns, weight, offset, low, high, start, np.flatnonzero(can))
    parts = []
    for first in range(0, batch, CHUNK):
        cut = slice(first, min(first + CHUNK, batch))
        guess = None if start is None else start[:, cut]
        parts.append(
            _solve_chunk(
                flexibility[:, :, cut], columns, weight[:, cut], offset[:, cut], low[:, cut], high[:, cut], guess
            )
        )
    if len(parts) == 1:
        return parts[0]
    return Solution(
        force=np.concatenate([p.force for p in parts], axis=-1),
        movement=np.concatenate([p.movement for p in parts], axis=-1),
        opening=np.concatenate([p.opening for p in parts], axis=-1),
        residual=np.concatenate([p.residual for p in parts], axis=-1),
        held=np.concatenate([p.held for p in parts], axis=-1),
    )


def _some(
    q: Array,
    columns: Array,
    weight: Array,
    offset: Array,
    low: Array,
    high: Array,
    start: Marks | None,
    use: NDArray[np.int64],
) -> Solution:
    """Solve only the columns in use; the others are not held."""
    n, r, batch = low.shape[0], columns.shape[0], weight.shape[1]
    out = Solution(
        np.zeros((n, batch)), np.zeros((r, batch)), np.zeros((n, batch)), np.ones(batch), np.zeros(batch, dtype=bool)
    )
    if not len(use):
        return out
    guess = None if start is None else start[:, use]
    part = solve_contacts(q[:, :, use], columns, weight[:, use], offset[:, use], low[:, use], high[:, use], guess)
    out.force[:, use], out.movement[:, use], out.opening[:, use] = part.force, part.movement, part.opening
    out.residual[use], out.held[use] = part.residual, part.held
    return out


def _solve_chunk(
    q: Array, columns: Array, weight: Array, offset: Array, low: Array, high: Array, start: Marks | None
) -> Solution:
    mark = _first_marks(low, high) if start is None else _legal(start, low, high)
    size = np.maximum(np.abs(weight).max(axis=0), 1e-30)
    best = np.full(weight.shape[1], low.shape[0] + 1)
    patience = np.full(weight.shape[1], GREEDY_ROUNDS)
    force, move, opening = _trial(q, columns, weight, offset, low, high, mark)
    todo = np.arange(weight.shape[1])
    for rounds in range(MOST_ROUNDS):
        wrong = _wrong(force[:, todo], opening[:, todo], mark[:, todo], low[:, todo], high[:, todo], size[todo])
        bad = wrong.any(axis=0)
        if not bad.any():
            break
        todo, wrong = todo[bad], wrong[:, bad]
        if rounds in SINGLE_ROUNDS and len(todo) <= FEW:
            mark[:, todo] = _one_by_one(q, columns, weight, offset, low, high, todo, mark)
            f, m, d = _trial(
                q[:, :, todo], columns, weight[:, todo], offset[:, todo], low[:, todo], high[:, todo], mark[:, todo]
            )
            force[:, todo], move[:, todo], opening[:, todo] = f, m, d
            continue
        count = wrong.sum(axis=0)
        better = count < best[todo]
        best[todo] = np.minimum(best[todo], count)
        patience[todo] = np.where(better, GREEDY_ROUNDS, patience[todo] - 1)
        single = patience[todo] <= 0
        if single.any():
            own = todo[single]
            worst = rounds < MURTY_AFTER
            size_of = _violation(q[:, :, own], force[:, own], opening[:, own], mark[:, own], low[:, own], high[:, own])
            wrong[:, single] = _one_only(wrong[:, single], size_of if worst else None)
        mark[:, todo] = _exchange(mark[:, todo], wrong, force[:, todo], low[:, todo], high[:, todo])
        f, m, d = _trial(
            q[:, :, todo], columns, weight[:, todo], offset[:, todo], low[:, todo], high[:, todo], mark[:, todo]
        )
        force[:, todo], move[:, todo], opening[:, todo] = f, m, d
    residual = np.abs(columns @ force + weight).max(axis=0) / size
    return Solution(force, move, opening, residual, residual < 1e-9)


def _first_marks(low: Array, high: Array) -> Marks:
    """Everything carries at first, except what cannot."""
    return np.where(high > low, 0, -1).astype(np.int8)


def _legal(start: Marks, low: Array, high: Array) -> Marks:
    mark = np.where(high > low, start, -1).astype(np.int8)
    mark[(mark == -1) & ~np.isfinite(low)] = 0
    mark[(mark == 1) & ~np.isfinite(high)] = 0
    return mark


def _trial(
    q: Array, columns: Array, weight: Array, offset: Array, low: Array, high: Array, mark: Marks
) -> tuple[Array, Array, Array]:
    """Forces, rigid movement and openings with the contact set as marked."""
    free = mark == 0
    fixed = np.where(mark == -1, low, high)
    fixed[free] = 0.0
    use = np.flatnonzero(free.any(axis=1))
    n, r = len(use), columns.shape[0]
    stuck = bool(fixed.any())
    push = offset + np.einsum("ijb,jb->ib", q, fixed) if stuck else offset
    need = weight + columns @ fixed if stuck else weight
    here = free[use]
    both = here[:, None] & here[None]
    a = q[np.ix_(use, use)] * both
    a[np.arange(n), np.arange(n)] += ~here
    rhs = np.empty((n, r + 1, weight.shape[1]))
    cols = columns[:, use].T
    rhs[:, :r] = cols[:, :, None] * here[:, None]
    rhs[:, r] = push[use] * here
    x = solve_columns(a, rhs)
    held = x[:, :r]
    stiff = np.einsum("in,nkb->ikb", columns[:, use], held)  # resistance of the contacts to rigid movement
    pushed = np.einsum("in,nb->ib", columns[:, use], x[:, r])
    move = _rigid_movement(stiff, need - pushed)
    part = -x[:, r] - np.einsum("nkb,kb->nb", held, move)
    force = fixed
    force[use] += part * here
    opening = np.einsum("ijb,jb->ib", q[:, use], force[use]) + push + columns.T @ move
    if stuck:  # the fixed forces of contacts in use were counted in push already
        opening -= np.einsum("ijb,jb->ib", q[:, use], np.where(here, 0.0, force[use]))
    return force, move, opening


def _rigid_movement(stiff: Array, need: Array) -> Array:
    """v with stiff v = need (r, B); a vanishing soft resistance keeps a loose body's movement finite and huge."""
    r = stiff.shape[0]
    soft = SOFT * np.maximum(np.abs(stiff).max(axis=(0, 1)), 1e-30)
    a = stiff.copy()
    a[np.arange(r), np.arange(r)] += soft
    inverse = solve_columns(a, np.broadcast_to(np.eye(r)[:, :, None], a.shape))
    move = np.einsum("ikb,kb->ib", inverse, need)
    for _ in range(6):  # proximal steps take the soft resistance out again where the contacts do hold the body
        left = need - np.einsum("ikb,kb->ib", stiff, move)
        move = move + np.einsum("ikb,kb->ib", inverse, left)
    return move


def _wrong(force: Array, opening: Array, mark: Marks, low: Array, high: Array, size: Array) -> NDArray[np.bool_]:
    """Contacts whose sign contradicts their mark."""
    tight = 1e-11 * size
    loose = 1e-13 + 1e-9 * np.abs(opening).max(axis=0)
    fixed = high <= low
    out = (mark == 0) & ((force < low - tight) | (force > high + tight))
    out |= (mark == -1) & (opening < -loose)
    out |= (mark == 1) & (opening > loose)
    return out & ~fixed


def _exchange(mark: Marks, wrong: NDArray[np.bool_], force: Array, low: Array, high: Array) -> Marks:
    new = mark.copy()
    new[wrong & (mark == 0) & (force < low)] = -1
    new[wrong & (mark == 0) & (force > high)] = 1
    new[wrong & (mark != 0)] = 0
    return new


def _one_by_one(
    q: Array,
    columns: Array,
    weight: Array,
    offset: Array,
    low: Array,
    high: Array,
    todo: NDArray[np.int64],
    mark: Marks,
) -> Marks:
    """Contact sets of a few columns by a dual active-set method (Arnstrom, Bemporad & Axehill, IEEE Trans. Automatic
    Control 67, 2022), which for a handful is quicker than another round for all."""
    n = q.shape[0]
    out = mark[:, todo].copy()
    sense = np.concatenate([np.zeros(n, dtype=np.int32), np.full(len(columns), EQUATION, dtype=np.int32)])
    for k, b in enumerate(todo):
        size = float(np.abs(weight[:, b]).max())
        stiff = float(np.trace(q[:, :, b])) / n
        upper = np.concatenate([high[:, b], -weight[:, b]]) / size
        lower = np.concatenate([low[:, b], -weight[:, b]]) / size
        push = offset[:, b] / (stiff * size)
        _, _, flag, info = daqp.solve(
            q[:, :, b] / stiff, push, columns, np.minimum(upper, 1e20), np.maximum(lower, -1e20), sense
        )
        if flag > 0:
            pushed = np.asarray(info["lam"])[:n]
            fixed = high[:, b] <= low[:, b]
            out[:, k] = np.where(fixed | (pushed < 0.0), -1, np.where(pushed > 0.0, 1, 0))
    return out


def _violation(q: Array, force: Array, opening: Array, mark: Marks, low: Array, high: Array) -> Array:
    """How wrong each contact is, as a force: past its bound, or what its overlap would push with."""
    past = np.maximum(low - force, force - high)
    own = np.einsum("iib->ib", q)
    return np.where(mark == 0, past, np.abs(opening) / own)


def _one_only(wrong: NDArray[np.bool_], size: Array | None) -> NDArray[np.bool_]:
    """One wrong contact of each column: the worst, or the last in order (which cannot go round in circles)."""
    only = np.zeros_like(wrong)
    if size is None:
        pick = wrong.shape[0] - 1 - wrong[::-1].argmax(axis=0)
    else:
        pick = np.where(wrong, size, -np.inf).argmax(axis=0)
    only[pick, np.arange(wrong.shape[1])] = wrong.any(axis=0)
    return only


def marks_of(solution: Solution, low: Array, high: Array) -> Marks:
    """The contact set of a solution, as a first guess for a state nearby."""
    mark = np.zeros(solution.force.shape, dtype=np.int8)
    mark[solution.force <= low] = -1
    mark[solution.force >= high] = 1
    return mark
