"""Answers found near one base set: wrong contacts are exchanged, and every trial is read off the base set's table."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from bolewright.core.contact.exchange import TIGHT, exchanged, loose_of, one_by_one, wrong_way
from bolewright.core.contact.tableau import Numbers, Tableau, footing_of, nearby, room, tableau
from bolewright.core.contact.trial import Array, Bools, Marks, Problem, Trial

ROUNDS = 7  # exchanges of all wrong contacts at once; what has not settled by then goes another way
GROUPS = (0, 1, 2, 3, 5, 8)  # columns are worked on together that differ from the base set in about as many contacts
SMALL = 300  # columns that are not worth a group of their own
FEW = 8  # columns whose sets are found one by one rather than in another round
PROVEN = 1e-11  # of the weight, and of the largest movement: what an answer may be out by


def near_base(problem: Problem, base: Bools, mark: Marks) -> tuple[Trial, Bools] | None:
    """Answers of the columns and which of them are proven (B,); mark (n, B) is brought to the sets of the answers. SI.

    base (n,): contacts that carry in most columns. None where no three of them can balance the tree.
    Source: block principal pivoting, Judice & Pires, Computers & Operations Research 21, 1994.
    Checked by: tests/unit/contact/test_tableau.py, tests/properties/test_contact_properties.py.
    """
    footing = footing_of(problem.columns, np.diagonal(problem.flexibility[:, :, problem.count // 2]), base)
    if footing is None:
        return None
    # A set that holds nothing may come out as not a number, which proves nothing.
    with np.errstate(all="ignore"), room() as own:
        table = tableau(problem, base, footing, own)
        values = table.at_base()
        signs = _signs(problem, values[~base])
        _settle(problem, table, signs, mark, values)
        answer = _answer(problem, table, mark, values, signs.odd)
        return answer, _proven(problem, answer, mark, signs)


@dataclass(frozen=True)
class _Signs:
    """What tells which contacts of a trial are wrong. tight (B,) [N] and loose (B,) [m] count as rounding; odd: numbers
    of the contacts that can be stopped elsewhere than at no force; absent (n, B): contacts that are not there, None
    where all are."""

    problem: Problem
    tight: Array
    loose: Array
    odd: Numbers
    absent: Bools | None

    def wrong(self, values: Array, mark: Marks, which: Numbers | slice) -> Bools:
        """(n, b) `wrong_way`, put short for contacts that only push: none may pull, none may overlap."""
        tight, loose, odd = self.tight[which], self.loose[which], self.odd
        out = values < np.where(mark == 0, -tight, -loose)
        if len(odd):
            low, high = self.problem.low[odd][:, which], self.problem.high[odd][:, which]
            out[odd] = wrong_way(values[odd], mark[odd], low, high, tight, loose)
        if self.absent is not None:
            out &= ~self.absent[:, which]
        return out

    def exchanged(self, values: Array, mark: Marks, wrong: Bools, which: Numbers) -> Marks:
        """(n, b) `exchanged`, put short for contacts that only push: from carrying to not, or back."""
        out = mark ^ -wrong.view(np.int8)
        if len(odd := self.odd):
            low, high = self.problem.low[odd][:, which], self.problem.high[odd][:, which]
            out[odd] = exchanged(values[odd], mark[odd], wrong[odd], low, high)
        return out


def _signs(problem: Problem, openings: Array) -> _Signs:
    low, high = problem.low, problem.high
    absent = high <= low
    odd = (low != 0.0) | np.isfinite(high) & ~absent
    return _Signs(
        problem,
        TIGHT * problem.size,
        loose_of(openings),
        np.flatnonzero(odd.any(axis=1)),
        absent if absent.any() else None,
    )


def _settle(problem: Problem, table: Tableau, signs: _Signs, mark: Marks, values: Array) -> None:
    """Exchange wrong contacts until none is left, in mark (n, B) and values (n, B): force of what carries, opening of
    what does not; at first those of the base set."""
    differs = ((mark == 0) != table.base[:, None]).any(axis=0)
    if len(signs.odd):
        differs |= (_fixed(problem, mark, signs.odd) != 0.0).any(axis=0)
    if differs.any():
        which = np.flatnonzero(differs)
        order, part = _tried(problem, table, which, mark[:, which], signs.odd)
        values[:, which[order]] = part
    now, sets, which = values, mark, np.arange(problem.count)
    for _ in range(ROUNDS):
        wrong = signs.wrong(now, sets, which)
        bad = np.flatnonzero(wrong.any(axis=0))
        if not len(bad):
            break
        which = which[bad]
        if len(bad) > FEW:
            sets = signs.exchanged(now[:, bad], sets[:, bad], wrong[:, bad], which)
        else:
            sets = one_by_one(problem.take(which), sets[:, bad])
        order, now = _tried(problem, table, which, sets, signs.odd)
        which, sets = which[order], sets[:, order]
        mark[:, which] = sets
        values[:, which] = now


def _tried(problem: Problem, table: Tableau, which: Numbers, mark: Marks, odd: Numbers) -> tuple[Numbers, Array]:
    """Values (n, b) of some of the columns in the sets mark (n, b), in the order worked on, and that order."""
    other = (mark == 0) != table.base[:, None]
    many = other.view(np.int8).sum(axis=0, dtype=np.int8).astype(np.int64)
    order = np.argsort(many, kind="stable")
    which, other, many = which[order], other[:, order], many[order]
    fixed = _fixed(problem.take(which), mark[:, order], odd) if len(odd) else None
    out = np.empty(other.shape)
    for a, b in _groups(many):
        own = None if fixed is None else fixed[:, a:b]
        out[:, a:b] = nearby(table, which[a:b], other[:, a:b], many[a:b], own)
    return order, out


def _groups(many: Numbers) -> list[tuple[int, int]]:
    """First and last of the columns worked on together: alike in how many contacts differ, but not too few."""
    out, first = [], 0
    for last in np.searchsorted(many, GROUPS, "right").tolist():
        if last - first >= SMALL:
            out.append((first, last))
            first = last
    return out if first == len(many) else [*out, (first, len(many))]


def _fixed(problem: Problem, mark: Marks, odd: Numbers) -> Array:
    """(n, B) forces of the contacts that are stopped [N]; zero where they carry freely."""
    out = np.zeros(mark.shape)
    own = mark[odd]
    out[odd] = np.where(own == -1, problem.low[odd], np.where(own == 1, problem.high[odd], 0.0))
    return out


def _answer(problem: Problem, table: Tableau, mark: Marks, values: Array, odd: Numbers) -> Trial:
    """Forces in balance by the footing, movement and openings worked out from them and the problem as it was given."""
    d, carry = table.footing, mark == 0
    fixed = _fixed(problem, mark, odd)
    force = np.where(carry, values, fixed)
    others = force.copy()
    others[d] = 0.0
    force[d] = np.where(carry[d], table.part - table.share @ others, fixed[d])
    opening = np.einsum("ijb,jb->ib", problem.flexibility, force) + problem.offset
    movement = table.back.T @ (np.where(carry[d], 0.0, values[d]) - opening[d])
    opening += problem.columns.T @ movement
    return Trial(force, movement, opening)


def _proven(problem: Problem, answer: Trial, mark: Marks, signs: _Signs) -> Bools:
    """(B,) answers that balance, leave no gap where they carry, and keep every sign."""
    carry = mark == 0
    balance = np.abs(problem.columns @ answer.force + problem.weight).max(axis=0)
    size = np.abs(problem.offset).max(axis=0) + np.abs(answer.movement).max(axis=0)
    gap = np.abs(np.where(carry, answer.opening, 0.0)).max(axis=0)
    values = np.where(carry, answer.force, answer.opening)
    wrong = replace(signs, loose=loose_of(answer.opening)).wrong(values, mark, slice(None))
    return np.asarray((balance <= PROVEN * problem.size) & (gap <= PROVEN * size) & ~wrong.any(axis=0))
