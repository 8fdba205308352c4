"""Which contacts of a trial set are wrong, and how to exchange them until none is."""

from __future__ import annotations

import daqp
import numpy as np

from bolewright.core.contact.trial import Array, Bools, Marks, Problem, Trial

EQUATION = 5  # daqp's mark for an equation
NO_BOUND = 1e20
TIGHT = 1e-11  # of the weight: a force this far past its bound is a rounding error
LOOSE = 1e-13  # m, and 1e-9 of the largest opening: an overlap this small is one too


def wrong_contacts(problem: Problem, trial: Trial, mark: Marks) -> Bools:
    """(n, B) contacts whose sign contradicts their mark: a force past its bound [N], or an overlap at it [m].

    Source: complementarity of force and opening.
    Checked by: tests/unit/contact/test_kernel.py.
    """
    values = np.where(mark == 0, trial.force, trial.opening)
    return wrong_way(values, mark, problem.low, problem.high, TIGHT * problem.size, loose_of(trial.opening))


def wrong_way(values: Array, mark: Marks, low: Array, high: Array, tight: Array, loose: Array) -> Bools:
    """(n, B) contacts whose sign contradicts their mark. values (n, B): force of what carries [N], opening of what does
    not [m]; low, high (n, B) bounds; tight (B,) [N], loose (B,) [m]: what counts as rounding.

    Source: complementarity of force and opening.
    Checked by: tests/unit/contact/test_kernel.py.
    """
    carry = mark == 0
    out = (mark <= 0) & (values < np.where(carry, low - tight, -loose))
    out |= (mark >= 0) & (values > np.where(carry, high + tight, loose))
    out &= high > low
    return np.asarray(out)


def loose_of(opening: Array) -> Array:
    """(B,) overlap that counts as rounding beside openings (n, B) [m].

    Source: house rule.
    Checked by: tests/unit/contact/test_kernel.py.
    """
    return np.asarray(LOOSE + 1e-9 * np.abs(opening).max(axis=0, initial=0.0))


def exchange(problem: Problem, trial: Trial, mark: Marks, wrong: Bools) -> Marks:
    """Marks (n, B) with the wrong contacts moved to where their sign points [-].

    Source: block principal pivoting, Judice & Pires 1994.
    Checked by: tests/unit/contact/test_kernel.py.
    """
    return exchanged(trial.force, mark, wrong, problem.low, problem.high)


def exchanged(values: Array, mark: Marks, wrong: Bools, low: Array, high: Array) -> Marks:
    """Marks (n, B) with the wrong contacts moved: one past a bound goes to it, one at a bound carries.

    values (n, B): forces where they carry [N]; low, high (n, B) [N].
    Source: block principal pivoting, Judice & Pires 1994.
    Checked by: tests/unit/contact/test_kernel.py.
    """
    past = np.where(values < low, -1, np.where(values > high, 1, mark))
    return np.where(wrong, np.where(mark == 0, past, 0), mark).astype(np.int8)


def violation(problem: Problem, trial: Trial, mark: Marks) -> Array:
    """(n, B) how wrong each contact is, as a force [N]: past its bound, or what its overlap would push with.

    Source: house rule.
    Checked by: tests/unit/contact/test_kernel.py.
    """
    past = np.maximum(problem.low - trial.force, trial.force - problem.high)
    own = np.einsum("iib->ib", problem.flexibility)
    return np.where(mark == 0, past, np.abs(trial.opening) / own)


def one_only(wrong: Bools, size: Array | None) -> Bools:
    """(n, B) one wrong contact of each column: the worst by size (n, B) [N], or the last in order when it is None,
    a rule that cannot go round in circles.

    Source: Murty, Opsearch 11, 1974.
    Checked by: tests/unit/contact/test_kernel.py.
    """
    only = np.zeros_like(wrong)
    if size is None:
        pick = wrong.shape[0] - 1 - wrong[::-1].argmax(axis=0)
    else:
        pick = np.where(wrong, size, -np.inf).argmax(axis=0)
    only[pick, np.arange(wrong.shape[1])] = wrong.any(axis=0)
    return only


def one_by_one(problem: Problem, mark: Marks) -> Marks:
    """Contact sets (n, B) of a few columns, each by a dual active-set method; the marks given where that fails. SI.

    Source: Arnstrom, Bemporad & Axehill, IEEE Trans. Automatic Control 67, 2022.
    Checked by: tests/unit/contact/test_kernel.py.
    """
    n = problem.flexibility.shape[0]
    out = mark.copy()
    rows = np.ascontiguousarray(problem.columns)
    sense = np.concatenate([np.zeros(n, dtype=np.int32), np.full(len(rows), EQUATION, dtype=np.int32)])
    sizes, stiff = problem.size, np.einsum("iib->b", problem.flexibility) / n
    upper = np.minimum(np.concatenate([problem.high, -problem.weight]) / sizes, NO_BOUND)
    lower = np.maximum(np.concatenate([problem.low, -problem.weight]) / sizes, -NO_BOUND)
    push, energy = problem.offset / (stiff * sizes), problem.flexibility / stiff
    fixed = problem.high <= problem.low
    for b in range(problem.count):
        matrix, slope = np.ascontiguousarray(energy[:, :, b]), np.ascontiguousarray(push[:, b])
        up, down = np.ascontiguousarray(upper[:, b]), np.ascontiguousarray(lower[:, b])
        _, _, flag, info = daqp.solve(matrix, slope, rows, up, down, sense)
        if flag > 0:
            pushed = np.asarray(info["lam"])[:n]
            out[:, b] = np.where(fixed[:, b] | (pushed < 0.0), -1, np.where(pushed > 0.0, 1, 0))
    return out
