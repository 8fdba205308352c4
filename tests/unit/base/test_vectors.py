"""Axes and clock positions against hand cases (right-handed frame, x forward, y left, z up)."""

import numpy as np
import pytest

from bolewright.core.base.range import Range
from bolewright.core.base.vectors import FORWARD, LEFT, UP, clock_direction, clock_of, twelve_oclock, unit


def test_a_level_stem_has_up_at_twelve_and_right_at_three() -> None:
    assert clock_direction(FORWARD, 12) == pytest.approx(UP)
    assert clock_direction(FORWARD, 3) == pytest.approx(-LEFT)
    assert clock_direction(FORWARD, 6) == pytest.approx(-UP)
    assert clock_direction(FORWARD, 9) == pytest.approx(LEFT)


def test_half_past_one_lies_between_up_and_right() -> None:
    assert clock_direction(FORWARD, 1.5) == pytest.approx(unit([0.0, -1.0, 1.0]))


@pytest.mark.parametrize("hours", [0.5, 3.0, 4.2, 6.0, 9.7, 12.0])
@pytest.mark.parametrize("axis", [[1, 0, 0], [1, 0.3, 0.4], [-2, 1, 0.5], [0, 0, 1], [0, 0, -1]])
def test_clock_of_turns_back_a_clock_direction(axis: list[float], hours: float) -> None:
    assert clock_of(axis, clock_direction(axis, hours)) == pytest.approx(hours)


@pytest.mark.parametrize("axis", [[1, 0, 0], [1, 0.3, 0.4], [0, 0, 1]])
def test_clock_directions_are_square_to_the_axis(axis: list[float]) -> None:
    for hours in np.linspace(0, 12, 25):
        direction = clock_direction(axis, float(hours))
        assert float(direction @ unit(axis)) == pytest.approx(0.0, abs=1e-12)
        assert float(np.linalg.norm(direction)) == pytest.approx(1.0)


def test_a_standing_stem_is_read_as_the_limit_of_tilting_it_forward() -> None:
    nearly = unit([1e-4, 0.0, 1.0])
    assert twelve_oclock([0, 0, 1]) == pytest.approx(twelve_oclock(nearly), abs=1e-3)


def test_a_zero_vector_has_no_direction() -> None:
    with pytest.raises(ValueError, match="no direction"):
        unit([0, 0, 0])


def test_a_range_must_rise_and_scales_with_either_sign() -> None:
    with pytest.raises(ValueError, match="must rise"):
        Range(2.0, 1.0, 3.0)
    assert Range(1.0, 2.0, 4.0).scaled(-1.0) == Range(-4.0, -2.0, -1.0)


def test_the_range_of_samples_is_their_5_50_and_95_per_cent_points() -> None:
    band = Range.of_samples(np.arange(101.0))
    assert (band.low, band.likely, band.high) == pytest.approx((5.0, 50.0, 95.0))
