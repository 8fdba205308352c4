"""Hard bounds against hand statics and against one linear programme per sample (HiGHS, through scipy)."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import linprog

from bolewright.core.base.errors import BadInput
from bolewright.core.base.vectors import UP
from bolewright.core.contact.bounds import can_rest, lower_bounds, upper_bounds

Array = NDArray[np.float64]


def upright(x: Array, y: Array) -> Array:
    """Rows Fz, Mx, My of unit upward forces at (x, y)."""
    return np.array([np.ones_like(x), y, -x])


def down(weight: float, x: float, y: float = 0.0) -> Array:
    """Rows Fz, Mx, My of a weight at (x, y)."""
    return np.array([-weight, -weight * y, weight * x])


def one_programme(columns: Array, weight: Array, low: Array, high: Array, i: int, sign: float) -> float:
    """Largest sign * force of contact i, by the reference solver."""
    cost = np.zeros(columns.shape[1])
    cost[i] = -sign
    answer = linprog(cost, A_eq=columns, b_eq=-weight, bounds=np.stack([low, high], 1), method="highs")
    return {0: -answer.fun if answer.status == 0 else 0.0, 2: np.nan, 3: np.inf}[answer.status]


def test_two_supports_are_the_lever_rule() -> None:
    """Statics: a weight at 3 m of a 4 m span puts 1/4 and 3/4 on the supports; nothing is left to choose."""
    columns, weight = upright(np.array([0.0, 4.0]), np.zeros(2)), down(1000.0, 3.0)
    free = np.full(2, np.inf)
    assert upper_bounds(columns, weight, np.zeros(2), free) == pytest.approx([250.0, 750.0])
    assert lower_bounds(columns, weight, np.zeros(2), free) == pytest.approx([250.0, 750.0])


def test_three_supports_by_hand() -> None:
    """Supports at 0, 4, 10 m, weight 1000 N at 5 m. Middle: at most all but what the far one needs.

    By moments: without the butt support, far = 1000 (5 - 4) / (10 - 4) = 166.67, middle 833.33 (its most); without the
    middle, 500 each (their most). The far one carries at least 166.67, the others may carry nothing.
    """
    columns, weight = upright(np.array([0.0, 4.0, 10.0]), np.zeros(3)), down(1000.0, 5.0)
    free = np.full(3, np.inf)
    assert upper_bounds(columns, weight, np.zeros(3), free) == pytest.approx([500.0, 833.3333333, 500.0])
    assert lower_bounds(columns, weight, np.zeros(3), free) == pytest.approx([0.0, 0.0, 166.6666667], abs=1e-6)


def test_a_limit_on_one_support_raises_the_least_of_the_others() -> None:
    """As above with the middle limited to 300 N: moments about 0: 4 x 300 + 10 far = 5000, so far is 380 to 500."""
    columns, weight = upright(np.array([0.0, 4.0, 10.0]), np.zeros(3)), down(1000.0, 5.0)
    high = np.array([np.inf, 300.0, np.inf])
    assert lower_bounds(columns, weight, np.zeros(3), high)[2] == pytest.approx(380.0)
    assert upper_bounds(columns, weight, np.zeros(3), high) == pytest.approx([500.0, 300.0, 500.0])


def test_two_tie_downs_that_hold_both_ways_have_no_bound() -> None:
    """Three two-way holds on one line leave one free amount: nothing bounds any of them."""
    columns, weight = upright(np.array([0.0, 4.0, 10.0]), np.zeros(3)), down(1000.0, 5.0)
    free = np.full(3, np.inf)
    assert np.all(np.isposinf(upper_bounds(columns, weight, -free, free)))
    assert np.all(np.isneginf(lower_bounds(columns, weight, -free, free)))


@pytest.mark.parametrize(
    ("x", "y", "rests"),
    [(5.0, 0.0, True), (-0.1, 0.0, False), (10.1, 0.0, False), (5.0, 0.01, False), (10.0, 0.0, True)],
)
def test_rest_on_a_line_of_supports(x: float, y: float, rests: bool) -> None:
    """Supports on one line hold only a weight on that line, between the outer two."""
    columns = upright(np.array([0.0, 4.0, 10.0]), np.zeros(3))
    free = np.full(3, np.inf)
    assert bool(can_rest(columns, down(1000.0, x, y), np.zeros(3), free)[0]) is rests
    assert np.all(np.isnan(upper_bounds(columns, down(1000.0, x, y), np.zeros(3), free))) == (not rests)


def test_nothing_holds_nothing() -> None:
    """No supports: no rest, and no crash; supports on top of each other carry what one would."""
    assert not can_rest(np.zeros((3, 0)), down(10.0, 0.0), np.zeros(0), np.zeros(0))[0]
    twice = upright(np.array([2.0, 2.0, 6.0]), np.zeros(3))
    free = np.full(3, np.inf)
    assert upper_bounds(twice, down(100.0, 3.0), np.zeros(3), free) == pytest.approx([75.0, 75.0, 25.0])


def random_case(rng: np.random.Generator) -> tuple[Array, Array, Array, Array]:
    """Supports with one-sided, limited and two-way holds, some on one line; five weights."""
    n = int(rng.integers(1, 8))
    x = rng.uniform(0.0, 15.0, n)
    y = rng.uniform(-2.0, 2.0, n) * float(rng.random() < 0.8)
    low, high = np.zeros(n), np.full(n, np.inf)
    for j in range(n):
        kind = rng.random()
        if kind < 0.2:
            high[j] = rng.uniform(1e3, 2e4)
        elif kind < 0.3:
            low[j], high[j] = -3e3, 4e3
        elif kind < 0.35:
            low[j] = -np.inf
    across = rng.uniform(-1.0, 1.0, 5) * float(np.ptp(y) > 0.0)
    cases = [down(p, a, b) for p, a, b in zip(rng.uniform(8e3, 2e4, 5), rng.uniform(3.0, 12.0, 5), across, strict=True)]
    return upright(x, y), np.array(cases).T, low, high


def test_against_a_linear_programme_per_sample() -> None:
    """Forty random sets of supports, five weights each, both bounds: the same answer as HiGHS, nan and inf included."""
    rng = np.random.default_rng(20)
    answered = 0
    for _ in range(40):
        columns, weight, low, high = random_case(rng)
        most, least = upper_bounds(columns, weight, low, high), lower_bounds(columns, weight, low, high)
        for i in range(columns.shape[1]):
            for b in range(5):
                first = one_programme(columns, weight[:, b], low, high, i, 1.0)
                second = -one_programme(columns, weight[:, b], low, high, i, -1.0)
                tight = 1e-7 * abs(weight[0, b])
                assert most[i, b] == pytest.approx(first, abs=tight, nan_ok=True)
                assert least[i, b] == pytest.approx(second, abs=tight, nan_ok=True)
                answered += not np.isnan(first)
    assert answered > 200


def test_six_equations_against_the_same_programme() -> None:
    """All six equations with tilted normals, by the same corners, against HiGHS."""
    rng = np.random.default_rng(4)
    point, tilt = rng.uniform([0, -2, 0], [12, 2, 3], (9, 3)), rng.normal(UP, 0.5, (9, 3))
    columns = np.concatenate([tilt, np.cross(point, tilt)], axis=1).T
    force = rng.uniform(0.0, 5e3, 9)
    weight = -columns @ force  # so that a rest exists
    free = np.full(9, np.inf)
    most = upper_bounds(columns, weight, np.zeros(9), free)
    reference = [one_programme(columns, weight, np.zeros(9), free, i, 1.0) for i in range(9)]
    assert most == pytest.approx(reference, rel=1e-7, abs=1e-3)


def test_many_corners_fall_back_to_one_programme_per_sample() -> None:
    """Twenty-six contacts and six equations have 53,130 corners; the slow way answers and agrees with HiGHS."""
    rng = np.random.default_rng(5)
    point, tilt = rng.uniform([0, -2, 0], [12, 2, 3], (26, 3)), rng.normal(UP, 0.5, (26, 3))
    columns = np.concatenate([tilt, np.cross(point, tilt)], axis=1).T
    weight = -columns @ rng.uniform(0.0, 5e3, 26)
    free = np.full(26, np.inf)
    most = upper_bounds(columns, weight, np.zeros(26), free, which=(3,))
    assert most[3] == pytest.approx(one_programme(columns, weight, np.zeros(26), free, 3, 1.0), rel=1e-7)
    assert np.isnan(most[4])


def test_nonsense_is_refused() -> None:
    """Sizes that do not agree, numbers that are missing, limits upside down: one sentence each."""
    columns, free = upright(np.array([0.0, 4.0]), np.zeros(2)), np.full(2, np.inf)
    with pytest.raises(BadInput, match="agree in size"):
        upper_bounds(columns, np.zeros(6), np.zeros(2), free)
    with pytest.raises(BadInput, match="missing"):
        upper_bounds(columns, down(np.nan, 1.0), np.zeros(2), free)
    with pytest.raises(BadInput, match="above its upper"):
        upper_bounds(columns, down(1.0, 1.0), np.ones(2), np.zeros(2))
