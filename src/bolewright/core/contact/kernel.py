"""Many small contact problems at once: the samples (and states) lie along the last axis and move together.

Each column solves   minimise 1/2 l'Q l + c'l   subject to   A l = -w,   low <= l <= high,
the least complementary energy of a tree on its supports: l the contact forces, Q their flexibility with the
supports' own give on the diagonal, c the movement under the tree's own weight plus the gap. What comes out beside
the forces is the rigid movement v, and the opening  d = Q l + c + A'v  of every contact (0 where it carries).

The contact set is found by exchanging every contact whose sign is wrong, all columns together (block principal
pivoting; Judice & Pires, Computers & Operations Research 21, 1994). Where that does not settle, one contact at a time
is exchanged, in the end by the least-index rule of Murty (Opsearch 11, 1974), which always ends; a handful of columns
left over is solved one by one.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bolewright.core.contact.exchange import exchange, one_by_one, one_only, violation, wrong_contacts
from bolewright.core.contact.trial import Array, Marks, Problem, Trial, solve_trial

CHUNK = 1024  # columns worked on together: large enough that the work outweighs its bookkeeping
FEW = 100  # columns solved one by one rather than in another round for all
SINGLE_ROUNDS = (1, 2, 4, 8)
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
    held: NDArray[np.bool_]


def solve_contacts(
    problem: Problem, start: Marks | None = None, can: NDArray[np.bool_] | None = None, threads: int = 1
) -> Solution:
    """Contact forces of B columns.

    start (n, B): a first guess of the contact set (0 carries, -1 at low, 1 at high), from a state nearby. can (B,):
    false for columns known to have no equilibrium, which are left out. threads: chunks worked on side by side.
    Columns with no equilibrium come back with held = False and forces that balance nothing.
    Raises nothing for numbers that make sense; shapes are the caller's duty.
    Source: see the module.
    Checked by: tests/unit/contact/test_kernel.py, tests/properties/test_contact_properties.py.
    """
    if can is not None and not can.all():
        return _only(problem, start, np.flatnonzero(can), threads)
    firsts = range(0, problem.count, CHUNK)

    def part(first: int) -> Solution:
        index = slice(first, min(first + CHUNK, problem.count))
        return _solve_chunk(problem.take(index), None if start is None else start[:, index])

    return _joined(_each(part, list(firsts), threads))


def _each(part: Callable[[int], Solution], firsts: list[int], threads: int) -> list[Solution]:
    if threads <= 1 or len(firsts) <= 1:
        return [part(first) for first in firsts]
    with ThreadPoolExecutor(threads) as pool:
        return list(pool.map(part, firsts))


def _joined(parts: list[Solution]) -> Solution:
    if len(parts) == 1:
        return parts[0]
    return Solution(
        force=np.concatenate([p.force for p in parts], axis=-1),
        movement=np.concatenate([p.movement for p in parts], axis=-1),
        opening=np.concatenate([p.opening for p in parts], axis=-1),
        residual=np.concatenate([p.residual for p in parts], axis=-1),
        held=np.concatenate([p.held for p in parts], axis=-1),
    )


def _only(problem: Problem, start: Marks | None, use: NDArray[np.int64], threads: int) -> Solution:
    """Solve only the columns in use; the others are not held."""
    n, r, batch = problem.low.shape[0], problem.columns.shape[0], problem.count
    out = Solution(
        np.zeros((n, batch)), np.zeros((r, batch)), np.zeros((n, batch)), np.ones(batch), np.zeros(batch, dtype=bool)
    )
    if not len(use):
        return out
    part = solve_contacts(problem.take(use), None if start is None else start[:, use], None, threads)
    out.force[:, use], out.movement[:, use], out.opening[:, use] = part.force, part.movement, part.opening
    out.residual[use], out.held[use] = part.residual, part.held
    return out


def _solve_chunk(problem: Problem, start: Marks | None) -> Solution:
    mark = _legal(_first_guess(problem) if start is None else start, problem)
    answer = solve_trial(problem, mark)
    todo = np.arange(problem.count)
    fewest = np.full(problem.count, problem.low.shape[0] + 1)
    for rounds in range(MOST_ROUNDS):
        part, now = problem.take(todo), answer.take(todo)
        wrong = wrong_contacts(part, now, mark[:, todo])
        bad: NDArray[np.bool_] = np.asarray(wrong.any(axis=0))
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
    residual = np.abs(problem.columns @ answer.force + problem.weight).max(axis=0) / problem.size
    return Solution(answer.force, answer.movement, answer.opening, residual, residual < BALANCED)


def _first_guess(problem: Problem) -> Marks:
    """The contact set of the middle column for all: samples of one tree mostly rest on the same supports."""
    everything = np.zeros((problem.low.shape[0], 1), dtype=np.int8)
    middle = int(np.argsort(problem.weight[0])[problem.count // 2])
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
