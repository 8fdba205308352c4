"""The table of a base set against elimination set by set, and against the conditions that prove an answer."""

from __future__ import annotations

import numpy as np
import pytest
from tests.properties.contact_problems import random_problem
from tests.references.contact_engine import case_system
from tests.references.random_trees import random_case
from tests.unit.contact.test_kernel import beam

from bolewright.core.contact.kernel import solve_contacts
from bolewright.core.contact.near import near_base
from bolewright.core.contact.state import System, solve_states
from bolewright.core.contact.tableau import Room, footing_of, nearby, tableau
from bolewright.core.contact.trial import Bools, Marks, Problem, solve_trial


def diagonal(p: Problem) -> np.ndarray:
    return np.diagonal(p.flexibility[:, :, 0])


def sets_near(base: Bools, count: int, most: int, seed: int) -> Marks:
    """Marks of `count` sets that differ from the base set in up to `most` contacts."""
    rng = np.random.default_rng(seed)
    other = np.argsort(rng.random((len(base), count)), axis=0) < rng.integers(0, most + 1, count)
    return np.where(base[:, None] ^ other, 0, -1).astype(np.int8)


def test_the_base_set_is_solved_as_by_elimination() -> None:
    """Forces and openings of one set by `solve_trial`, which eliminates that set alone."""
    p = random_problem(7, 9)
    base = np.array([True, True, False, True, True, False, True, True, False])
    footing = footing_of(p.columns, diagonal(p), base)
    assert footing is not None
    mark = np.where(base, 0, -1).astype(np.int8)[:, None].repeat(p.count, 1)
    free = Problem(p.flexibility, p.columns, p.weight, p.offset, np.zeros_like(p.low), np.full_like(p.high, np.inf))
    theirs = solve_trial(free, mark)
    ours = tableau(free, base, footing, Room()).at_base()
    assert ours[base] == pytest.approx(theirs.force[base], rel=1e-7, abs=1e-7 * p.size.max())
    assert ours[~base] == pytest.approx(theirs.opening[~base], rel=1e-6, abs=1e-9)


@pytest.mark.parametrize("most", [1, 3])
def test_sets_nearby_are_solved_as_by_elimination(most: int) -> None:
    """Columns whose sets leave out a few contacts and add others, forces at their bounds among them. Sets that hold
    nothing are left out: their answer is a size without end. Tolerance: what elimination itself leaves (`SOFT`)."""
    p = random_problem(11, 10)
    base = np.array([True] * 7 + [False] * 3)
    footing = footing_of(p.columns, diagonal(p), base)
    assert footing is not None
    mark = sets_near(base, p.count, most, 5)
    rng = np.random.default_rng(2)
    low = np.where(rng.random((10, 1)) < 0.5, -rng.uniform(0.0, 500.0, (10, p.count)), 0.0)
    given = Problem(p.flexibility, p.columns, p.weight, p.offset, low, np.full_like(p.high, np.inf))
    other = (mark == 0) != base[:, None]
    order = np.argsort(other.sum(axis=0), kind="stable")
    fixed = np.where(mark == 0, 0.0, low)[:, order]
    table = tableau(given, base, footing, Room())
    ours = nearby(table, order, other[:, order], other.sum(axis=0)[order], fixed)
    theirs = solve_trial(given, mark).take(order)
    carry = mark[:, order] == 0
    sound = np.abs(theirs.opening).max(axis=0) < 1e3
    assert sound.sum() > 15
    assert ours[carry & sound] == pytest.approx(theirs.force[carry & sound], rel=1e-6, abs=1e-6 * p.size.max())
    assert ours[~carry & sound] == pytest.approx(theirs.opening[~carry & sound], rel=1e-6, abs=1e-8)


def test_no_footing_on_one_line() -> None:
    """A bar on three posts in line: no three contacts balance it against rolling, so it goes the long way."""
    p = beam()
    assert footing_of(p.columns, diagonal(p), np.ones(3, dtype=bool)) is None
    assert near_base(p, np.ones(3, dtype=bool), np.zeros((3, 1), dtype=np.int8)) is None
    assert solve_contacts(p).held.all()


def test_the_footing_stands_wide_on_what_gives_least() -> None:
    """Three stiff posts at the corners of a triangle among soft ones inside it."""
    x, y = np.array([0.0, 2.0, 10.0, 5.0, 10.0]), np.array([0.0, 0.1, 3.0, 0.0, -3.0])
    rows = np.stack([np.ones(5), y, -x])
    footing = footing_of(rows, np.array([1e-6, 1e-4, 1e-6, 1e-4, 1e-6]), np.ones(5, dtype=bool))
    assert footing is not None
    assert footing.tolist() == [0, 2, 4]


def test_answers_near_the_base_are_proven_or_said_not_to_be() -> None:
    """Columns claimed proven are the columns of the whole kernel, to 1e-9 of the weight; and nearly all samples of an
    ordinary tree are proven near the set of the middle one, which is what makes many of them quick."""
    case = next(c for c in map(random_case, range(1000)) if len(c.support_segment) == 9)
    one = case_system(case)
    p = spread(case_system(case), 400)
    base = solve_states(one, [np.ones(1, dtype=bool)], [np.ones(one.count, dtype=bool)])[0].force[:, 0] > 0.0
    mark = np.where(base, 0, -1).astype(np.int8)[:, None].repeat(p.count, 1)
    found = near_base(p, base, mark)
    assert found is not None
    answer, proven = found
    assert proven.mean() > 0.98
    theirs = solve_contacts(p)
    apart = np.abs(answer.force - theirs.force).max(axis=0) / p.size
    assert apart[proven].max() < 1e-9


def spread(system: System, count: int) -> Problem:
    """Samples of one system with other give, wood and misfit."""
    rng = np.random.default_rng(4)
    table, n = system.integrals, system.count
    q = table.flex[0][:n, :n, None] * rng.lognormal(0.0, 0.2, count)
    q[np.arange(n), np.arange(n)] += system.samples.give * rng.lognormal(0.0, 0.5, (n, count))
    weight = table.weight[0][:, [2, 3, 4]].sum(axis=0)
    weight = np.array([weight[0], weight[1] / system.scale, weight[2] / system.scale])
    sag = table.sag[0, 0][:, :n].sum(axis=0)
    offset = (sag[:, None] + system.gap) + rng.normal(0.0, 0.002, (n, count))
    low = np.zeros((n, count))
    columns = system.rows(slice(0, n))
    return Problem(q, columns, weight[:, None].repeat(count, 1), offset, low, np.full_like(low, np.inf))
