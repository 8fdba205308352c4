"""The most and the least each contact can carry over EVERY equilibrium: no stiffness, no settlement, no history.

Linear programming by its dual. The most force i can carry is the least, over all rigid movements y, of
    -weight'y + sum_j max(low_j c_j, high_j c_j),   c_j = (1 if j = i else 0) - column_j'y,
a function of three numbers (six with all equations), made of flat pieces: its least value lies at a corner, and the
corners do not depend on the weight. They are listed once; then every sample is one product of two small tables.
Every corner by itself gives a true upper bound, so a corner left out makes the bound too wide, never too narrow.

Source: duality of linear programming, e.g. Bertsimas & Tsitsiklis, Introduction to Linear Optimization, 1997, ch. 4.
"""

from __future__ import annotations

from itertools import combinations
from math import comb
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog

from bolewright.core.base.errors import BadInput

Array = NDArray[np.float64]

RANK_TOLERANCE = 1e-9  # of the largest singular value
ZERO = 1e-9  # of the size of the numbers: a difference below this counts as none
WORST_CONDITION = 1e7  # corners of nearly parallel columns are left out (the bound may be wider, never narrower)
MOST_CORNERS = 20_000  # beyond this many corners one programme per sample is quicker


class _Scaled(NamedTuple):
    """Independent equations columns @ l = right in numbers near one."""

    columns: Array  # (r, n)
    right: Array  # (r, B)
    newtons: float
    possible: NDArray[np.bool_]  # (B,) the equations do not contradict each other


def upper_bounds(
    columns: Array, weight: Array, lower: Array, upper: Array, which: tuple[int, ...] | None = None
) -> Array:
    """The largest force (n, B) [N] each contact can carry over every equilibrium; inf where nothing bounds it.

    nan in a sample that has no equilibrium. Exact; where numbers are too close to tell, the bound is too wide.
    columns (r, n): wrench rows of the unit forces, (Fz, Mx, My) or all six; weight (r, B) or (r,) [N, N m];
    lower, upper (n,) [N], +-inf allowed (two-way holds have a negative lower limit). which: only these contacts are
    answered, the others come back nan (saves time).
    Raises BadInput when shapes do not agree or a limit is upside down.
    Source: see the module.
    Checked by: tests/unit/contact/test_bounds.py, tests/properties/test_bounds.py.
    """
    return _extremes(columns, weight, lower, upper, which, 1.0)


def lower_bounds(
    columns: Array, weight: Array, lower: Array, upper: Array, which: tuple[int, ...] | None = None
) -> Array:
    """The smallest force (n, B) [N] each contact must carry over every equilibrium; -inf where nothing bounds it.

    A contact whose smallest force is above zero is needed: without it the tree has no rest. Arguments and nan as in
    `upper_bounds`.
    Source: see the module.
    Checked by: tests/unit/contact/test_bounds.py, tests/properties/test_bounds.py.
    """
    return -_extremes(columns, weight, lower, upper, which, -1.0)


def can_rest(columns: Array, weight: Array, lower: Array, upper: Array) -> NDArray[np.bool_]:
    """Whether any equilibrium exists, per sample (B,).

    A tree exactly on the edge counts as able to rest (within 1e-9 of weight): the margin is what tells how near.
    Arguments as in `upper_bounds` [N, N m].
    Source: Farkas' lemma, Bertsimas & Tsitsiklis 1997, section 4.6.
    Checked by: tests/unit/contact/test_bounds.py.
    """
    _refuse_nonsense(columns, weight, lower, upper)
    scaled = _scale(columns, weight)
    low, high = lower / scaled.newtons, upper / scaled.newtons
    return _feasible(scaled, low, high)


def _extremes(
    columns: Array, weight: Array, lower: Array, upper: Array, which: tuple[int, ...] | None, sign: float
) -> Array:
    """Largest value of sign * force, (n, B)."""
    _refuse_nonsense(columns, weight, lower, upper)
    single = weight.ndim == 1
    scaled = _scale(columns, weight)
    low, high = lower / scaled.newtons, upper / scaled.newtons
    count, rank = columns.shape[1], scaled.columns.shape[0]
    out = np.full((count, scaled.right.shape[1]), np.nan)
    rest = _feasible(scaled, low, high)
    for i in range(count) if which is None else which:
        if comb(count - 1, max(rank - 1, 0)) > MOST_CORNERS:
            out[i, rest] = _one_by_one(scaled, low, high, i, sign, rest)
        else:
            out[i, rest] = _largest(scaled, low, high, i, sign)[rest]
    return (out[:, 0] if single else out) * scaled.newtons


def _largest(scaled: _Scaled, low: Array, high: Array, i: int, sign: float) -> Array:
    """Largest sign * force of contact i over every equilibrium (B,), where there is one."""
    goal = np.zeros(len(low))
    goal[i] = sign
    corners = np.concatenate([np.zeros((1, scaled.columns.shape[0])), _corners(scaled.columns, i, sign)])
    constant = _worth(goal - corners @ scaled.columns, corners, scaled.columns, low, high, goal)
    use = np.isfinite(constant)
    if not use.any():
        return np.full(scaled.right.shape[1], np.inf)
    best: Array = np.min(corners[use] @ scaled.right + constant[use, None], axis=0)
    return best


def _worth(prices: Array, corners: Array, columns: Array, low: Array, high: Array, goal: Array) -> Array:
    """sum_j max(low_j c_j, high_j c_j) for prices c (K, n); inf where an unlimited force would pay."""
    size = ZERO * (np.abs(corners) @ np.abs(columns) + np.abs(goal))
    rise, fall = np.where(prices > size, prices, 0.0), np.where(prices < -size, prices, 0.0)
    with np.errstate(invalid="ignore"):  # 0 x inf
        paid = np.where(rise > 0.0, rise * high, 0.0) + np.where(fall < 0.0, fall * low, 0.0)
    return np.asarray(paid.sum(axis=1))


def _corners(columns: Array, i: int, sign: float) -> Array:
    """Movements y (K, r) at which contact i has price zero together with r - 1 independent others."""
    rank, count = columns.shape
    if rank == 0:
        return np.zeros((0, 0))
    others = [j for j in range(count) if j != i]
    listed = list(combinations(others, rank - 1))
    picks = np.array(listed, dtype=int).reshape(len(listed), rank - 1)
    sets = np.concatenate([np.full((len(picks), 1), i, dtype=int), picks], axis=1)
    bases = np.moveaxis(columns[:, sets], 0, -1)  # (K, r members, r equations): each row is one column of W
    sound = _condition(bases) < WORST_CONDITION
    first = np.zeros(rank)
    first[0] = sign
    right = np.broadcast_to(first, (int(sound.sum()), rank))[..., None]
    return np.asarray(np.linalg.solve(bases[sound], right)[..., 0], dtype=float)


def _condition(bases: Array) -> Array:
    if len(bases) == 0:
        return np.zeros(0)
    values = np.linalg.svd(bases, compute_uv=False)
    return np.asarray(values[:, 0] / np.maximum(values[:, -1], 1e-300))


def _rays(columns: Array) -> Array:
    """Movements (K, r), both ways, in which r - 1 independent contacts neither open nor close."""
    rank, count = columns.shape
    if rank == 0:
        return np.zeros((0, 0))
    if rank == 1:
        return np.array([[1.0], [-1.0]])
    picks = np.array(list(combinations(range(count), rank - 1)), dtype=int)
    rows = np.moveaxis(columns[:, picks], 0, -1)  # (K, r - 1, r)
    _, values, turned = np.linalg.svd(rows, full_matrices=True)
    sound = values[:, 0] < WORST_CONDITION * np.maximum(values[:, -1], 1e-300)
    along = turned[sound, -1, :]
    return np.concatenate([along, -along])


def _feasible(scaled: _Scaled, low: Array, high: Array) -> NDArray[np.bool_]:
    """(B,) no movement gains work against every force the contacts may give."""
    rank, count = scaled.columns.shape
    if comb(count, max(rank - 1, 0)) > MOST_CORNERS:
        none = np.zeros(count)
        found = [_programme(scaled, low, high, none, b) is not None for b in range(scaled.right.shape[1])]
        return np.asarray(scaled.possible & np.array(found, dtype=bool), dtype=bool)
    rays = _rays(scaled.columns)
    constant = _worth(-rays @ scaled.columns, rays, scaled.columns, low, high, np.zeros(count))
    use = np.isfinite(constant)
    gain = rays[use] @ scaled.right + constant[use, None]
    size = 1.0 + np.abs(scaled.right).max(axis=0, initial=0.0)
    return np.asarray(scaled.possible & (gain.min(axis=0, initial=np.inf) >= -ZERO * size), dtype=bool)


def _one_by_one(scaled: _Scaled, low: Array, high: Array, i: int, sign: float, rest: NDArray[np.bool_]) -> Array:
    """The slow way, one programme per sample."""
    cost = np.zeros(len(low))
    cost[i] = -sign
    values = [_programme(scaled, low, high, cost, int(b)) for b in np.flatnonzero(rest)]
    return np.array([np.nan if v is None else -v for v in values])


def _programme(scaled: _Scaled, low: Array, high: Array, cost: Array, sample: int) -> float | None:
    """Least cost of one sample: -inf when unlimited, None when there is no equilibrium."""
    limits = np.stack([low, high], axis=1)
    answer = linprog(cost, A_eq=scaled.columns, b_eq=scaled.right[:, sample], bounds=limits, method="highs")
    if answer.status == 3:
        return -np.inf
    return float(answer.fun) if answer.status == 0 else None


def _scale(columns: Array, weight: Array) -> _Scaled:
    """Equations that say nothing new are taken out; samples that contradict them are marked."""
    weight = weight.reshape(weight.shape[0], -1)
    newtons = float(np.max(np.abs(weight), initial=0.0)) or 1.0
    tall = np.max(np.abs(columns), axis=1, initial=0.0)
    tallest = float(tall.max(initial=0.0)) or 1.0
    shrink = 1.0 / np.where(tall > RANK_TOLERANCE * tallest, tall, tallest)
    rows, need = columns * shrink[:, None], -weight * shrink[:, None] / newtons
    left, values, _ = np.linalg.svd(rows, full_matrices=False)
    keep = left[:, values > RANK_TOLERANCE * max(float(values.max(initial=0.0)), 1e-300)]
    right = keep.T @ need
    lost = np.linalg.norm(need - keep @ right, axis=0)
    possible = lost <= ZERO * (1.0 + np.linalg.norm(need, axis=0))
    return _Scaled(keep.T @ rows, right, newtons, possible)


def _refuse_nonsense(columns: Array, weight: Array, lower: Array, upper: Array) -> None:
    count = columns.shape[1] if columns.ndim == 2 else -1
    if weight.ndim not in (1, 2) or weight.shape[0] != columns.shape[0] or lower.shape != (count,) != upper.shape:
        raise BadInput("The tables of the bound problem do not agree in size.")
    if lower.shape != (count,) or upper.shape != (count,):
        raise BadInput("Every contact needs a lower and an upper limit.")
    if not (np.all(np.isfinite(columns)) and np.all(np.isfinite(weight))):
        raise BadInput("The bound problem has a number that is missing or infinite.")
    if np.any(np.isnan(lower)) or np.any(np.isnan(upper)) or np.any(lower > upper):
        raise BadInput("A support's lower limit lies above its upper limit.")
