"""Parts of the contact kernel against plain linear algebra and problems small enough for a pocket calculator."""

from __future__ import annotations

import numpy as np
import pytest
from tests.properties.contact_problems import random_problem

from bolewright.core.contact.exchange import exchange, one_by_one, one_only, violation, wrong_contacts
from bolewright.core.contact.kernel import marks_of, solve_contacts
from bolewright.core.contact.trial import Problem, Trial, solve_columns, solve_trial

FREE = np.inf


def beam(gap: float = 0.0, weight: float = 1000.0, high: float = FREE, give: float = 1e-5) -> Problem:
    """A rigid bar of 2 m on posts at 0, 1 and 2 m that give by `give` m/N, its middle post clear by `gap`."""
    x = np.array([0.0, 1.0, 2.0])
    rows = np.stack([np.ones(3), np.zeros(3), -x])
    rows[1] = [0.0, 0.0, 0.0]
    return Problem(
        flexibility=(give * np.eye(3))[:, :, None],
        columns=rows,
        weight=np.array([[-weight], [0.0], [weight]]),
        offset=np.array([[0.0], [gap], [0.0]]),
        low=np.zeros((3, 1)),
        high=np.array([[FREE], [high], [FREE]]),
    )


def test_elimination_against_lapack() -> None:
    """numpy.linalg.solve on 50 symmetric positive definite systems of seven. Tolerance: double precision times the
    condition number (below 1e6 here)."""
    rng = np.random.default_rng(3)
    root = rng.normal(size=(50, 7, 7))
    matrix = root @ root.transpose(0, 2, 1) + 0.01 * np.eye(7)
    rhs = rng.normal(size=(50, 7, 4))
    ours = solve_columns(matrix.transpose(1, 2, 0), rhs.transpose(1, 2, 0))
    theirs = np.linalg.solve(matrix, rhs)
    assert ours.transpose(2, 0, 1) == pytest.approx(theirs, rel=1e-8, abs=1e-8)


def test_springs_share_alike() -> None:
    """A rigid bar on three like springs, loaded in the middle: a third each, sunk by W/3k everywhere."""
    answer = solve_contacts(beam())
    assert answer.force[:, 0] == pytest.approx([1000 / 3] * 3, rel=1e-12)
    assert answer.movement[0, 0] == pytest.approx(-1e-5 * 1000 / 3, rel=1e-9)


@pytest.mark.parametrize("gap", [0.002, 0.005, 0.006])
def test_a_gap_takes_load_away(gap: float) -> None:
    """Statics and springs: ends sink by R/k, the middle by R'/k + gap: R' = (W - 2 k gap) / 3 while that is above 0."""
    middle = max(0.0, (1000.0 - 2.0 * gap / 1e-5) / 3.0)
    answer = solve_contacts(beam(gap))
    assert answer.force[:, 0] == pytest.approx([(1000 - middle) / 2, middle, (1000 - middle) / 2], abs=1e-7)
    opening = max(0.0, gap - 500.0 * 1e-5)  # the ends sink by 5 mm under half the weight each
    assert answer.opening[1, 0] == pytest.approx(opening, abs=1e-12)


def test_a_support_at_its_most() -> None:
    """A line that is held at 100 N gives no more: the rest goes to the ends, and the wood goes past it."""
    answer = solve_contacts(beam(high=100.0))
    assert answer.force[:, 0] == pytest.approx([450.0, 100.0, 450.0], rel=1e-12)
    assert answer.opening[1, 0] == pytest.approx(1e-5 * (100.0 - 450.0), rel=1e-9)


def test_no_rest_is_said() -> None:
    """All the weight beyond the last post: not held, with or without being told beforehand."""
    p = beam()
    tipped = Problem(p.flexibility, p.columns, np.array([[-1000.0], [0.0], [2500.0]]), p.offset, p.low, p.high)
    assert not solve_contacts(tipped).held[0]
    told = solve_contacts(tipped, can=np.array([False]))
    assert not told.held[0]
    assert not told.force.any()


def test_told_columns_are_left_out_and_the_rest_answered() -> None:
    p = random_problem(5, 6)
    can = np.arange(p.count) % 2 == 0
    some, every = solve_contacts(p, can=can), solve_contacts(p)
    assert not some.held[~can].any()
    assert np.array_equal(some.held[can], every.held[can])
    both = can & every.held
    assert some.force[:, both] == pytest.approx(every.force[:, both], rel=1e-9, abs=1e-6)


def test_a_contact_that_is_not_there_carries_nothing() -> None:
    """Bounds of zero: no force, and its opening still says where the wood is."""
    answer = solve_contacts(beam(high=0.0))
    assert answer.force[1, 0] == 0.0
    assert answer.opening[1, 0] == pytest.approx(-500.0 * 1e-5, rel=1e-9)


def test_a_trial_set_is_solved_as_marked() -> None:
    """Middle post marked off: half each, by statics; the same set marked on gives a third."""
    off = solve_trial(beam(), np.array([[0], [-1], [0]], dtype=np.int8))
    assert off.force[:, 0] == pytest.approx([500.0, 0.0, 500.0], rel=1e-9)
    assert off.opening[1, 0] == pytest.approx(-0.005, rel=1e-9)


def test_wrong_marks_are_seen_and_exchanged() -> None:
    """The middle post marked off overlaps by 5 mm: wrong, as 500 N worth of push, and its exchange carries."""
    p, mark = beam(), np.array([[0], [-1], [0]], dtype=np.int8)
    trial = solve_trial(p, mark)
    wrong = wrong_contacts(p, trial, mark)
    assert wrong[:, 0].tolist() == [False, True, False]
    assert violation(p, trial, mark)[1, 0] == pytest.approx(500.0, rel=1e-9)
    assert exchange(p, trial, mark, wrong)[:, 0].tolist() == [0, 0, 0]


def test_a_pull_is_seen_and_exchanged() -> None:
    p, mark = beam(), np.zeros((3, 1), dtype=np.int8)
    pulling = Trial(np.array([[700.0], [-400.0], [700.0]]), np.zeros((3, 1)), np.zeros((3, 1)))
    wrong = wrong_contacts(p, pulling, mark)
    assert wrong[:, 0].tolist() == [False, True, False]
    assert exchange(p, pulling, mark, wrong)[:, 0].tolist() == [0, -1, 0]


def test_one_only_takes_the_worst_or_the_last() -> None:
    wrong = np.array([[True, False], [True, False], [False, False]])
    size = np.array([[5.0, 0.0], [2.0, 0.0], [9.0, 0.0]])
    assert one_only(wrong, size)[:, 0].tolist() == [True, False, False]
    assert one_only(wrong, None)[:, 0].tolist() == [False, True, False]
    assert not one_only(wrong, None)[:, 1].any()


def test_one_by_one_finds_the_set_of_the_batch() -> None:
    """DAQP's active set is the batch's own, wherever no contact is just about to lift."""
    p = random_problem(11, 7)
    answer = solve_contacts(p)
    clear = np.abs(answer.force) + 1e6 * np.abs(answer.opening) > 1e-3  # neither a force nor a distance of nothing
    held = answer.held & clear.all(axis=0)
    marks = one_by_one(p, np.zeros(p.low.shape, dtype=np.int8))
    carries = marks == 0
    ours = marks_of(answer, p.low, p.high) == 0
    assert held.sum() > 5
    assert np.array_equal(carries[:, held], ours[:, held])


def test_marks_of_an_answer() -> None:
    answer = solve_contacts(beam(gap=0.006))
    assert marks_of(answer, beam().low, beam().high)[:, 0].tolist() == [0, -1, 0]
    capped = beam(high=100.0)
    assert marks_of(solve_contacts(capped), capped.low, capped.high)[:, 0].tolist() == [0, 1, 0]


def test_thousands_of_columns_in_chunks() -> None:
    """Weights 1 to 3000 N on the same bar: a third each, every column, in one thread and in two."""
    weight = np.linspace(1.0, 3000.0, 3000)
    p = beam()
    many = Problem(
        np.repeat(p.flexibility, 3000, axis=2),
        p.columns,
        np.stack([-weight, 0.0 * weight, weight]),
        np.zeros((3, 3000)),
        np.zeros((3, 3000)),
        np.full((3, 3000), FREE),
    )
    for threads in (1, 2):
        answer = solve_contacts(many, threads=threads)
        assert answer.held.all()
        assert answer.force == pytest.approx(np.tile(weight / 3.0, (3, 1)), rel=1e-10)
