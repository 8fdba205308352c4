"""Laws the hard bounds must keep, whatever the tree."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from bolewright.core.contact.bounds import can_rest, lower_bounds, upper_bounds
from bolewright.core.contact.friction import solve_friction

Array = NDArray[np.float64]
SEEDS = st.integers(0, 2**31)


def tree_on_supports(seed: int, count: int) -> tuple[Array, Array]:
    """Supports (3, n) and four weights (3, 4), most of which can rest."""
    rng = np.random.default_rng(seed)
    x, y = rng.uniform(0.0, 15.0, count), rng.uniform(-3.0, 3.0, count)
    weight = rng.uniform(5e3, 5e4, 4)
    inside = rng.dirichlet(np.ones(count), 4)
    at, across = inside @ x, inside @ y
    return np.array([np.ones(count), y, -x]), np.array([-weight, -weight * across, weight * at])


@given(seed=SEEDS, count=st.integers(3, 9), factor=st.floats(0.1, 10.0))
def test_heavier_scales_the_bounds(seed: int, count: int, factor: float) -> None:
    """Twice the weight, twice every bound (linear programming is positively homogeneous)."""
    columns, weight = tree_on_supports(seed, count)
    low, high = np.zeros(count), np.full(count, np.inf)
    for bound in (upper_bounds, lower_bounds):
        once, more = bound(columns, weight, low, high), bound(columns, factor * weight, low, high)
        np.testing.assert_allclose(more, factor * once, rtol=1e-8, atol=1e-6 * factor * 5e4)


@given(seed=SEEDS, count=st.integers(2, 7))
def test_one_more_contact_never_loses_a_rest(seed: int, count: int) -> None:
    """A tree that can rest still can with one support more, and no bound gets narrower by it."""
    columns, weight = tree_on_supports(seed, count + 1)
    low, high = np.zeros(count + 1), np.full(count + 1, np.inf)
    few, many = can_rest(columns[:, :-1], weight, low[1:], high[1:]), can_rest(columns, weight, low, high)
    assert np.all(many | ~few)
    less = upper_bounds(columns[:, :-1], weight, low[1:], high[1:])[:, few]
    more = upper_bounds(columns, weight, low, high)[:-1][:, few]
    assert np.all(more >= less - 1e-6 * 5e4)


@given(seed=SEEDS, count=st.integers(3, 7))
def test_an_answer_with_stiffness_lies_within_the_bounds(seed: int, count: int) -> None:
    """The forces of one stiff tree on one set of supports are one equilibrium among all of them."""
    columns, weight = tree_on_supports(seed, count)
    rng = np.random.default_rng(seed)
    root = rng.normal(0.0, 1e-4, (count, count))
    wrench, load = np.zeros((6, count)), np.zeros(6)
    wrench[2:5], load[2:5] = columns, weight[:, 0]
    low, high = np.zeros(count), np.full(count, np.inf)
    sag, gap = rng.normal(0.0, 0.02, count), rng.uniform(0.0, 0.05, count)
    answer = solve_friction(root @ root.T, sag, wrench, load, np.full(count, 1e-7), gap, low, high, ())
    assert answer.force is not None
    most, least = upper_bounds(columns, weight[:, 0], low, high), lower_bounds(columns, weight[:, 0], low, high)
    slack = 1e-7 * abs(weight[0, 0])
    assert np.all(answer.force <= most + slack)
    assert np.all(answer.force >= least - slack)
    assert answer.residual < 1e-9
