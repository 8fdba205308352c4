"""Many small contact problems at once: the samples (and states) lie along the last axis and move together.

Each column solves   minimise 1/2 l'Q l + c'l   subject to   A l = -w,   low <= l <= high,
the least complementary energy of a tree on its supports: l the contact forces, Q their flexibility with the
supports' own give on the diagonal, c the movement under the tree's own weight plus the gap. What comes out beside
the forces is the rigid movement v, and the opening  d = Q l + c + A'v  of every contact (0 where it carries).

The contact set is found by exchanging every contact whose sign is wrong, all columns together (block principal
pivoting; Judice & Pires, Computers & Operations Research 21, 1994). Samples of one tree rest much alike, so one base
set is solved for all of them and every column is looked for near it (near.py); an answer counts when the conditions
that prove it hold. What is left over, a column in a thousand, or all where no three contacts balance the tree, goes
the long way: an elimination for each trial, in the end one contact at a time by the least-index rule of Murty
(Opsearch 11, 1974), which always ends; a handful of columns is solved one by one.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from bolewright.core.contact.exchange import exchange, one_by_one, one_only, violation, wrong_contacts
from bolewright.core.contact.near import near_base
from bolewright.core.contact.trial import Array, Bools, Index, Marks, Problem, Trial, solve_trial

CELLS = 700_000  # numbers in the table of the columns worked on together: it stays near the processor
OFTEN = (0.5, 0.1, 0.0)  # of the columns a contact carries in more than this, to be in their base set; less if too few
LONG_WAY = 1024  # columns worked on together the long way
FEW = 100  # columns solved one by one rather than in another round for all
SINGLE_ROUNDS = (2, 4, 8)
MURTY_AFTER = 30
MOST_ROUNDS = 200
BALANCED = 1e-9  # of the weight


@dataclass(frozen=True)
class Solution:
    """Answers of B columns. force (n, B); movement (r, B) rigid; opening (n, B); residual (B,) of A l + w, relative
    to the size of w; held (B,) bool: an equilibrium was found."""

    force: Array
    movement: Array
    opening: Array
    residual: Array
    held: Bools


def solve_contacts(
    problem: Problem, start: Marks | None = None, can: Bools | None = None, threads: int = 1
) -> Solution:
    """Contact forces of B columns.

    start (n, B): a first guess of the contact set (0 carries, -1 at low, 1 at high), from a state nearby. can (B,):
    false for columns known to have no equilibrium, which are left out. threads: chunks worked on side by side.
    Columns with no equilibrium come back with held = False and forces that balance nothing.
    Raises nothing for numbers that make sense; shapes are the caller's duty.
    Source: see the module.
    Checked by: tests/unit/contact/test_kernel.py, tests/properties/test_contact_properties.py.
    """
    n, r, batch = problem.low.shape[0], problem.columns.shape[0], problem.count
    answer = Trial(np.zeros((n, batch)), np.zeros((r, batch)), np.zeros((n, batch)))
    asked = np.ones(batch, dtype=bool) if can is None else can
    chunks = _chunks(asked, CELLS // (n + 1) ** 2, threads)
    if chunks:
        mark = _legal(_first_guess(problem, asked) if start is None else start, problem)
        done = np.concatenate(_each(lambda index: _near(problem, index, mark, answer), chunks, threads))
        left = np.flatnonzero(asked)[~done]
        for some in [left[i : i + LONG_WAY] for i in range(0, len(left), LONG_WAY)]:
            answer.put(some, _long_way(problem.take(some), mark[:, some]))
    residual = np.abs(problem.columns @ answer.force + problem.weight).max(axis=0) / problem.size
    return Solution(answer.force, answer.movement, answer.opening, residual, asked & (residual < BALANCED))


def _chunks(asked: Bools, most: int, threads: int) -> list[Index]:
    """The columns that are asked for, in pieces of like size, as slices where that is possible."""
    which = np.flatnonzero(asked)
    count = max(-(-len(which) // max(most, 1)), threads)
    edges = np.linspace(0, len(which), count + 1).round().astype(int).tolist()
    pairs = [(a, b) for a, b in zip(edges, edges[1:], strict=False) if b > a]
    if len(which) == len(asked):
        return [slice(a, b) for a, b in pairs]
    return [which[a:b] for a, b in pairs]


def _each(part: Callable[[Index], Bools], chunks: list[Index], threads: int) -> list[Bools]:
    if threads <= 1 or len(chunks) <= 1:
        return [part(index) for index in chunks]
    with ThreadPoolExecutor(threads) as pool:
        return list(pool.map(part, chunks))


def _near(problem: Problem, index: Index, mark: Marks, answer: Trial) -> Bools:
    """Answers of a chunk near a contact set that many of its columns start from, and which of them are proven."""
    own, part = mark[:, index], problem.take(index)
    carrying = (own == 0).mean(axis=1)
    for least in OFTEN:
        found = near_base(part, carrying > least, own)
        if found is not None:
            answer.put(index, found[0])
            mark[:, index] = own
            return found[1]
    return np.zeros(own.shape[1], dtype=bool)


def _long_way(problem: Problem, mark: Marks) -> Trial:
    """Answers with an elimination for each trial of each column, which settle whatever the start."""
    if problem.count <= FEW:
        mark = one_by_one(problem, mark)
    answer = solve_trial(problem, mark)
    todo = np.arange(problem.count)
    fewest = np.full(problem.count, problem.low.shape[0] + 1)
    for rounds in range(MOST_ROUNDS):
        part, now = problem.take(todo), answer.take(todo)
        wrong = wrong_contacts(part, now, mark[:, todo])
        bad: Bools = np.asarray(wrong.any(axis=0))
        if not bad.any():
            break
        todo, wrong, part, now = todo[bad], wrong[:, bad], part.take(bad), now.take(bad)
        count = wrong.sum(axis=0)
        if rounds in SINGLE_ROUNDS and len(todo) <= FEW:
            mark[:, todo] = one_by_one(part, mark[:, todo])
        else:
            stuck = count >= fewest[todo]
            fewest[todo] = np.minimum(fewest[todo], count)
            size = violation(part, now, mark[:, todo]) if rounds < MURTY_AFTER else None
            wrong = np.where(stuck, one_only(wrong, size), wrong)
            mark[:, todo] = exchange(part, now, mark[:, todo], wrong)
        answer.put(todo, solve_trial(part, mark[:, todo]))
    return answer


def _first_guess(problem: Problem, asked: Bools) -> Marks:
    """The contact set of the middle column for all: samples of one tree mostly rest on the same supports."""
    everything = np.zeros((problem.low.shape[0], 1), dtype=np.int8)
    which = np.flatnonzero(asked)
    middle = which[np.argsort(problem.weight[0, which])[len(which) // 2]]
    one = problem.take(np.array([middle]))
    return np.repeat(one_by_one(one, _legal(everything, one)), problem.count, axis=1)


def _legal(start: Marks, problem: Problem) -> Marks:
    """Marks that the bounds allow: a contact that is not there stays at zero, an open bound is no place to be."""
    mark = np.where(problem.high > problem.low, start, -1).astype(np.int8)
    mark[(mark == -1) & ~np.isfinite(problem.low)] = 0
    mark[(mark == 1) & ~np.isfinite(problem.high)] = 0
    return mark


def marks_of(solution: Solution, low: Array, high: Array) -> Marks:
    """The contact set (n, B) of a solution, as a first guess for a state nearby; low, high (n, B) [N].

    Source: house rule.
    Checked by: tests/unit/contact/test_kernel.py.
    """
    mark = np.zeros(solution.force.shape, dtype=np.int8)
    mark[solution.force <= low] = -1
    mark[solution.force >= high] = 1
    return mark


__all__ = ["Problem", "Solution", "Trial", "marks_of", "solve_contacts"]
