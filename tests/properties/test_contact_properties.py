"""Laws the contact engine must keep, whatever the tree and its supports."""

from __future__ import annotations

from dataclasses import replace

import daqp
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.optimize import linprog
from tests.properties.contact_problems import random_problem
from tests.references.contact_engine import MODULUS, case_system, cut_at_supports, push_up, solved, system_of, wood
from tests.references.random_trees import Case, random_case

from bolewright.core.contact.bounds import can_rest, upper_bounds
from bolewright.core.contact.holdable import holdable
from bolewright.core.contact.kernel import marks_of, solve_contacts
from bolewright.core.contact.state import weight_of
from bolewright.core.contact.trial import Problem

Array = NDArray[np.float64]
SEEDS = st.integers(0, 2**31)
COUNTS = st.integers(3, 12)
BALANCED = 1e-9  # of the weight, as the engine promises


def highs_can(problem: Problem) -> NDArray[np.bool_]:
    """Whether HiGHS finds any equilibrium, per column."""
    found = []
    for b in range(problem.count):
        limits = np.stack([problem.low[:, b], problem.high[:, b]], axis=1)
        size = problem.size[b]
        answer = linprog(
            np.zeros(len(limits)), A_eq=problem.columns, b_eq=-problem.weight[:, b] / size, bounds=limits / size
        )
        found.append(answer.status == 0)
    return np.array(found)


def clearly(problem: Problem) -> NDArray[np.bool_]:
    """Columns that are held, or not, by a margin: a weight a thousandth heavier off centre changes nothing."""
    low, high = problem.low[:, 0], problem.high[:, 0]
    verdicts = []
    for turn in ((0, 0), (1e-3, 0), (-1e-3, 0), (0, 1e-3), (0, -1e-3)):
        moved = problem.weight.copy()
        moved[1:] += np.array(turn)[:, None] * problem.size
        verdicts.append(can_rest(problem.columns, moved, low, high))
    return np.all(np.array(verdicts) == verdicts[0], axis=0)


@settings(max_examples=150)
@given(seed=SEEDS, count=COUNTS)
def test_every_answer_is_proven_by_its_own_optimality(seed: int, count: int) -> None:
    """Balance below 1e-9 of the weight; no force past its bound; opening >= 0 at the low bound, <= 0 at the high one
    and 0 between. For a convex problem these conditions (Karush-Kuhn-Tucker) are proof, whatever found the answer.

    The opening is worked out here from forces and movement. Tolerance of the opening: 1e-9 of the largest movement in
    the problem (adding up millimetres and metres in double precision), and of the force 1e-9 of the weight.
    """
    p = random_problem(seed, count)
    answer = solve_contacts(p)
    held = answer.held
    force = answer.force[:, held]
    assert np.all(np.abs(p.columns @ force + p.weight[:, held]).max(axis=0) <= BALANCED * p.size[held])
    terms = np.abs(np.einsum("ijb,jb->ijb", p.flexibility[:, :, held], force)).max(axis=1)
    turn = p.columns.T @ answer.movement[:, held]
    opening = np.einsum("ijb,jb->ib", p.flexibility[:, :, held], force) + p.offset[:, held] + turn
    small = 1e-9 * (terms + np.abs(turn) + np.abs(p.offset[:, held]))
    assert np.all(np.abs(opening - answer.opening[:, held]) <= small)
    low, high, near = p.low[:, held], p.high[:, held], BALANCED * p.size[held]
    assert np.all((force >= low - near) & (force <= high + near))
    there = high > low
    assert np.all((opening >= -small) | (force > low + near) | ~there)
    assert np.all((np.abs(opening) <= small) | (force <= low + near) | (force >= high - near) | ~there)
    assert np.all((opening <= small) | (force < high - near) | ~there)


@settings(max_examples=60)
@given(seed=SEEDS, count=COUNTS)
def test_the_batch_agrees_with_one_problem_at_a_time(seed: int, count: int) -> None:
    """DAQP, a dual active-set solver, on each column alone: the same forces to 1e-6 of the weight, and no answer for
    the same columns. Its own tolerance on a force is 1e-7 here.

    Columns at the very edge of balance are left out: there the verdict hangs on rounding.
    """
    p = random_problem(seed, count)
    answer, sure = solve_contacts(p), clearly(p)
    for b in np.flatnonzero(sure):
        theirs = daqp_force(p, int(b))
        assert (theirs is not None) == answer.held[b]
        if theirs is not None:
            assert np.abs(theirs - answer.force[:, b]).max() < 1e-6 * p.size[b]


def daqp_force(p: Problem, b: int) -> Array | None:
    """The forces of one column by DAQP in scaled numbers, None when it says there is no equilibrium."""
    n, size = p.flexibility.shape[0], float(p.size[b])
    stiff = float(np.trace(p.flexibility[:, :, b]))
    upper = np.concatenate([p.high[:, b], -p.weight[:, b]]) / size
    lower = np.concatenate([p.low[:, b], -p.weight[:, b]]) / size
    sense = np.array([0] * n + [5] * 3, dtype=np.int32)
    x, _, flag, _ = daqp.solve(
        np.ascontiguousarray(p.flexibility[:, :, b] / stiff),
        p.offset[:, b] / (stiff * size),
        np.ascontiguousarray(p.columns),
        np.minimum(upper, 1e30),
        np.maximum(lower, -1e30),
        sense,
        primal_tol=1e-9,
    )
    return size * np.asarray(x) if flag > 0 else None


@settings(max_examples=60)
@given(seed=SEEDS, count=st.integers(1, 12))
def test_three_ways_to_say_whether_it_can_rest(seed: int, count: int) -> None:
    """The quick test, the bound programmes and HiGHS agree on which weights can be held at all."""
    p = random_problem(seed, count)
    low, high = p.low[:, 0], p.high[:, 0]
    quick = holdable(p.columns, p.weight, low, high)
    sure = clearly(p)
    assert np.array_equal(quick[sure], can_rest(p.columns, p.weight, low, high)[sure])
    assert np.array_equal(quick[sure], highs_can(p)[sure])


@settings(max_examples=60)
@given(seed=SEEDS, count=COUNTS)
def test_the_first_guess_does_not_matter(seed: int, count: int) -> None:
    """Cold, warm from its own answer, and from a wild guess: the same forces (1e-9 of the weight) and verdicts."""
    p = random_problem(seed, count)
    cold = solve_contacts(p)
    wild = np.random.default_rng(seed).integers(-1, 2, p.low.shape).astype(np.int8)
    for start in (marks_of(cold, p.low, p.high), wild):
        other = solve_contacts(p, start)
        assert np.array_equal(other.held, cold.held)
        apart = np.abs(other.force - cold.force)[:, cold.held].max(axis=0, initial=0.0)
        assert np.all(apart <= BALANCED * p.size[cold.held])


@settings(max_examples=40)
@given(seed=SEEDS, count=COUNTS)
def test_many_at_once_is_one_by_one(seed: int, count: int) -> None:
    """A column's answer does not depend on its neighbours, its place or the number of threads."""
    p = random_problem(seed, count, 40)
    together, apart = solve_contacts(p), [solve_contacts(p.take(slice(b, b + 1))) for b in range(p.count)]
    threaded = solve_contacts(p, threads=2)
    held = np.array([bool(a.held[0]) for a in apart])
    assert np.array_equal(together.held, held)
    force = np.stack([a.force[:, 0] for a in apart], axis=1)
    for other in (together, threaded):
        assert np.all(np.abs(other.force - force)[:, held].max(axis=0, initial=0.0) <= BALANCED * p.size[held])


@settings(max_examples=40)
@given(seed=SEEDS)
def test_no_push_without_touch(seed: int) -> None:
    """Random trees: force >= 0, opening >= 0, and their product nothing (1e-9 of weight times a metre)."""
    case = cut_at_supports(random_case(seed % 100_000))
    state = solved(case_system(case))
    force, opening = state.force[:, 0], state.opening[:, 0]
    weight = case.weight.sum()
    assert state.residual[0] < BALANCED
    assert force.min() >= -BALANCED * weight
    assert opening.min() >= -1e-9
    assert np.abs(force * opening).max() < BALANCED * weight


def moved(case: Case, matrix: Array, shift: Array) -> Case:
    """The whole job turned or mirrored, and shifted."""
    return replace(
        case,
        start=case.start @ matrix.T + shift,
        end=case.end @ matrix.T + shift,
        support_point=case.support_point @ matrix.T + shift,
    )


@settings(max_examples=30)
@given(seed=SEEDS, turn=st.floats(0.0, 6.28), mirror=st.booleans(), x=st.floats(-30.0, 30.0), z=st.floats(-5.0, 5.0))
def test_where_the_job_lies_does_not_matter(seed: int, turn: float, mirror: bool, x: float, z: float) -> None:
    """Moved, turned about the vertical and mirrored, every support carries the same (1e-7 of the weight: arms from an
    origin tens of metres off are added up)."""
    case = cut_at_supports(random_case(seed % 100_000))
    spin = np.array([[np.cos(turn), -np.sin(turn), 0.0], [np.sin(turn), np.cos(turn), 0.0], [0.0, 0.0, 1.0]])
    other = moved(case, spin @ np.diag([1.0, -1.0 if mirror else 1.0, 1.0]), np.array([x, -x / 2, z]))
    here, there = solved(case_system(case)), solved(case_system(other))
    assert np.abs(here.force - there.force).max() < 1e-7 * case.weight.sum()


@settings(max_examples=30)
@given(seed=SEEDS, k=st.floats(0.3, 4.0))
def test_a_model_tree(seed: int, k: float) -> None:
    """All lengths times k, same density: weights go with k3. With a modulus times k, supports times k2 and gaps times
    k, every displacement goes with k, so the same supports carry k3 times as much (similitude)."""
    case = cut_at_supports(random_case(seed % 100_000))
    model = replace(
        moved(case, k * np.eye(3), np.zeros(3)),
        EI=case.EI * k * k**4,
        GJ=case.GJ * k * k**4,
        EA=case.EA * k * k**2,
        weight=case.weight * k**3,
        stiffness=case.stiffness * k**2,
        gap=case.gap * k,
    )
    once, scaled = solved(case_system(case)), solved(case_system(model))
    assert scaled.force == pytest.approx(k**3 * once.force, abs=1e-7 * model.weight.sum())
    assert scaled.opening == pytest.approx(k * once.opening, abs=1e-7)


@settings(max_examples=30)
@given(seed=SEEDS, k=st.floats(0.3, 4.0), bend=st.floats(0.1, 100.0))
def test_three_supports_know_nothing_of_stiffness(seed: int, k: float, bend: float) -> None:
    """Statically determinate: k3 whatever wood and supports give, and whatever the gaps were."""
    case = cut_at_supports(random_case(seed % 100_000))
    three = case.only(standing_three(case))
    model = replace(
        moved(three, k * np.eye(3), np.zeros(3)), weight=three.weight * k**3, EI=bend * three.EI, gap=three.gap * 0.0
    )
    once, scaled = solved(case_system(three)), solved(case_system(model))
    assert scaled.force == pytest.approx(k**3 * once.force, abs=1e-7 * model.weight.sum())


def standing_three(case: Case) -> NDArray[np.bool_]:
    """Three of the supports that hold the tree by themselves."""
    system = case_system(case)
    rows, load = system.rows(slice(0, system.count)), weight_of(system, np.ones(1, dtype=bool))
    corner = linprog(np.zeros(system.count), A_eq=rows, b_eq=-load[:, 0], method="highs-ds").x  # a corner: three carry
    best = np.argsort(corner)[-3:]
    return np.isin(np.arange(system.count), best)


@settings(max_examples=30)
@given(seed=SEEDS, factor=st.floats(1.0, 5.0))
def test_heavier_wood_never_lowers_a_bound(seed: int, factor: float) -> None:
    """The same tree of denser wood: what no support can exceed grows with the density, exactly."""
    case = cut_at_supports(random_case(seed % 100_000))
    light, heavy = (case_system(replace(case, weight=f * case.weight)) for f in (1.0, factor))
    every, low = np.ones(1, dtype=bool), np.zeros(light.count)
    before, after = (
        upper_bounds(s.rows(slice(0, s.count)), weight_of(s, every), low, low + np.inf)[:, 0] for s in (light, heavy)
    )
    assert np.all(after >= before - BALANCED * case.weight.sum())
    assert after == pytest.approx(factor * before, rel=1e-8, abs=1e-6)
    force = solved(heavy).force[:, 0]
    assert np.all(force <= after + BALANCED * factor * case.weight.sum())


@given(share=st.floats(0.0, 1.0))
def test_a_two_way_hold_pulls_to_its_capacity_and_no_further(share: float) -> None:
    """A log overhanging by statics: hinge fibre at the butt holds the tip down with what the lever asks, and lets go
    beyond its capacity. Log 4 m of 1 kN/m, hinge at 0, roof edge at x: hinge force = 4 (x - 2) / x ... downwards."""
    edge = 1.0 + share  # 1..2 m from the butt, so the middle of the log lies beyond the edge
    pull = 4000.0 * (2.0 - edge) / edge
    assembly = wood([[0, 0, 0], [edge, 0, 0]], [[edge, 0, 0], [4, 0, 0]], [-1, 0], [1e7, 1e7], [1e9, 1e9],
                    [1000.0 * edge, 1000.0 * (4 - edge)], MODULUS)  # fmt: skip
    none = np.zeros(3)
    for capacity, held in ((1.01 * pull + 1.0, True), (0.99 * pull - 1.0, False)):
        if capacity < 0.0:
            continue
        contacts = [
            push_up(-1, none, 1e-6, low=-capacity),
            push_up(0, [edge, 0, 0], 1e-6),
            push_up(-1, none, 1e-6, low=-np.inf, force=none, couple=np.array([1.0, 0, 0]), normal=none),
        ]
        state = solved(system_of(assembly, contacts, [0.0, 0.0, 0.0], MODULUS))
        assert bool(state.held[0]) == held
        if held:
            assert state.force[:2, 0] == pytest.approx([-pull, 4000.0 + pull], abs=1e-5)
