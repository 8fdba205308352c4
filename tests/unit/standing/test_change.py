"""When two measurements differ by more than both can be off."""

from __future__ import annotations

import pytest

from bolewright.core.base.range import Range
from bolewright.core.standing.change import told_apart, with_error


def test_two_of_a_kind_by_hand() -> None:
    """GUM, Eq. 10: two values with a standard uncertainty of 1 differ at 95 % from 1.96 x sqrt(2) = 2.772 on."""
    half = 1.644854  # 5 to 95 % of a standard uncertainty of 1
    before = Range(10.0 - half, 10.0, 10.0 + half)
    for rise, told in ((2.76, False), (2.79, True), (-2.76, False), (-2.79, True)):
        after = Range(10.0 + rise - half, 10.0 + rise, 10.0 + rise + half)
        assert told_apart(before, after) is told


def test_the_side_that_faces_the_other_counts() -> None:
    """A depth that may be far less but hardly more: a fall is told only past the wide side of what was before."""
    wide_below = Range(5.0, 10.0, 10.1)
    assert told_apart(wide_below, Range(10.9, 11.0, 11.1))
    assert not told_apart(wide_below, Range(8.9, 9.0, 9.1))


def test_the_same_twice_is_no_change() -> None:
    """Exact values too."""
    assert not told_apart(Range.exact(3.0), Range.exact(3.0))
    assert told_apart(Range.exact(3.0), Range.exact(3.1))


@pytest.mark.parametrize(
    ("low", "high", "expected"), [(0.0, 0.0, (0.0, 0.005, 0.015)), (0.004, 0.006, (0.004, 0.005, 0.006))]
)
def test_usual_error(low: float, high: float, expected: tuple[float, float, float]) -> None:
    """Its own spread where written; else the usual one, and no depth below nothing."""
    given = with_error(0.005, low or 0.005, high or 0.005, 0.01)
    assert (given.low, given.likely, given.high) == pytest.approx(expected)
