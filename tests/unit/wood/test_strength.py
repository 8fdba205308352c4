"""Strength to reckon with."""

from __future__ import annotations

import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.wood import green_strength, strength_from_density


def test_range_by_hand() -> None:
    """57 MPa clear: 45.6 likely, 1 - 1.645 x 0.16 = 0.7368 of it low."""
    found = green_strength(57e6, "bending")
    assert found.likely == pytest.approx(45.6e6)
    assert found.low == pytest.approx(45.6e6 * 0.7368)
    assert found.high == pytest.approx(45.6e6 * 1.2632)


def test_an_estimated_mean_spreads_wider() -> None:
    """Scatter of the estimate joins the variation between pieces."""
    sure, guessed = green_strength(50e6, "bending"), green_strength(50e6, "bending", scatter=0.12)
    assert guessed.low == pytest.approx(40e6 * (1.0 - 1.645 * 0.2))
    assert guessed.low < sure.low < sure.high < guessed.high


def test_stiffness_takes_no_clear_wood_factor() -> None:
    """Likely stiffness is the mean."""
    assert green_strength(9e9, "stiffness").likely == 9e9


def test_denser_wood_is_stronger() -> None:
    """The power law rises."""
    weak, strong = strength_from_density("broadleaf", "bending", [0.4, 0.6])
    assert strong / weak == pytest.approx(1.5**1.21, rel=1e-6)


@pytest.mark.parametrize(("mean", "factor"), [(0.0, 0.8), (-5e6, 0.8), (50e6, 0.0), (50e6, 1.2)])
def test_nonsense_is_refused(mean: float, factor: float) -> None:
    """No negative strength, no factor that makes wood stronger than clear wood."""
    with pytest.raises(BadInput):
        green_strength(mean, "bending", factor=factor)
