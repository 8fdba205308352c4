"""The quick test of whether anything can hold a weight, on cases anyone can see."""

from __future__ import annotations

import numpy as np
import pytest

from bolewright.core.contact.holdable import holdable

FREE = np.inf
# Posts at the corners of a table 2 m by 1 m; rows are vertical force and the moments about x and y.
X, Y = np.array([0.0, 2.0, 0.0, 2.0]), np.array([0.0, 0.0, 1.0, 1.0])
TABLE = np.stack([np.ones(4), Y, -X])


def at(x: float, y: float, weight: float = 100.0) -> np.ndarray:
    """The weight rows of a load at a place."""
    return np.array([[-weight], [-weight * y], [weight * x]])


def held(columns: np.ndarray, weight: np.ndarray, low: list[float], high: list[float]) -> bool:
    return bool(holdable(columns, weight, np.array(low), np.array(high))[0])


@pytest.mark.parametrize(
    ("x", "y", "expected"),
    [(1.0, 0.5, True), (0.01, 0.01, True), (2.0, 1.0, True), (1.0, 0.0, True), (2.01, 0.5, False), (1.0, -0.01, False)],
)
def test_inside_the_feet(x: float, y: float, expected: bool) -> None:
    """Held exactly while the load lies over the feet; on the edge counts as held."""
    assert held(TABLE, at(x, y), [0.0] * 4, [FREE] * 4) == expected


def test_feet_with_a_most() -> None:
    """Four feet of 30 N carry 100 N in the middle, and not at a quarter point, where two would have to carry 75."""
    assert held(TABLE, at(1.0, 0.5), [0.0] * 4, [30.0] * 4)
    assert not held(TABLE, at(0.5, 0.5), [0.0] * 4, [30.0] * 4)
    assert not held(TABLE, at(1.0, 0.5, 130.0), [0.0] * 4, [30.0] * 4)


def test_a_foot_that_holds_down() -> None:
    """Foot 0 bolted for 20 N: a load beyond the far side by x is held while 100 x / 2 stays under it. Two feet at
    x = 2 take the push."""
    assert held(TABLE, at(2.35, 0.4), [-20.0, 0.0, 0.0, 0.0], [FREE] * 4) is True
    assert held(TABLE, at(2.45, 0.0), [-20.0, 0.0, 0.0, 0.0], [FREE] * 4) is False


def test_two_feet_hold_only_what_lies_between_them() -> None:
    pair = TABLE[:, :2]
    assert held(pair, at(1.3, 0.0), [0.0] * 2, [FREE] * 2)
    assert not held(pair, at(1.3, 0.05), [0.0] * 2, [FREE] * 2)


def test_one_foot_and_none() -> None:
    one = TABLE[:, 1:2]
    assert held(one, at(2.0, 0.0), [0.0], [FREE])
    assert not held(one, at(1.9, 0.0), [0.0], [FREE])
    assert not held(one, at(2.0, 0.0), [0.0], [99.0])
    none = np.zeros((3, 0))
    assert not held(none, at(0.0, 0.0), [], [])
    assert held(none, np.zeros((3, 1)), [], [])


def test_many_weights_at_once() -> None:
    """Each column by itself."""
    weights = np.concatenate([at(1.0, 0.5), at(3.0, 0.5), at(0.2, 0.9)], axis=1)
    assert holdable(TABLE, weights, np.zeros(4), np.full(4, FREE)).tolist() == [True, False, True]
