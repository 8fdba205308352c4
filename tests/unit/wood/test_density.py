"""Density arithmetic and refusals."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bolewright.core.base.errors import BadInput
from bolewright.core.wood import check_density, density_range, green_density, log_density


def test_green_density_by_hand() -> None:
    """Specific gravity 0.60 at 68.27 % is 1010 kg/m3 (white oak)."""
    assert float(green_density(0.60, 0.6827)) == pytest.approx(1009.6, abs=0.1)


def test_log_density_by_hand() -> None:
    """White oak: (1009.6 + 0.16 x 1057.7)/1.16 = 1016 kg/m3."""
    assert float(log_density(1009.6, 1057.7, 0.16)) == pytest.approx(1016.2, abs=0.1)


def test_arrays_go_through() -> None:
    """One value per sample comes back with the shape that went in."""
    assert log_density(np.full((4, 3), 900.0), 1000.0, np.full(3, 0.1)).shape == (4, 3)


@given(st.floats(300, 1200), st.floats(300, 1200), st.floats(0, 0.3))
def test_a_mixture_lies_between_its_parts(wood: float, bark: float, share: float) -> None:
    """Wood and bark bound the log."""
    assert min(wood, bark) - 1e-9 <= float(log_density(wood, bark, share)) <= max(wood, bark) + 1e-9


@pytest.mark.parametrize("density", [1300.1, 5000.0, 60.0, 0.0, -900.0, float("nan")])
def test_densities_no_log_has_are_refused(density: float) -> None:
    """Above 1300 kg/m3, below 150, or no number: one sentence with the path."""
    with pytest.raises(BadInput) as caught:
        check_density(density)
    assert caught.value.path == "tree.density"
    assert "kg/m3" in caught.value.sentence


@pytest.mark.parametrize("density", [150.0, 1217.0, 1300.0])
def test_densities_a_log_can_have_pass(density: float) -> None:
    """The bounds themselves pass."""
    check_density(density)


def test_the_heaviest_published_value_is_inside() -> None:
    """Published values stretch the range on either side."""
    found = density_range(800.0, 0.9, 1.1, (620.0, 960.0))
    assert (found.low, found.likely, found.high) == (620.0, 800.0, 960.0)


def test_saturation_caps_the_spread_but_not_a_published_value() -> None:
    """No spread beyond a log full of water; a published value stands."""
    assert density_range(1000.0, 0.9, 1.4, (), 1150.0).high == 1150.0
    assert density_range(1000.0, 0.9, 1.4, (1190.0,), 1150.0).high == 1190.0
    assert density_range(1250.0, 0.9, 1.4).high == 1300.0


def test_density_range_refuses_a_likely_value_that_is_none() -> None:
    """The same refusal as at the door."""
    with pytest.raises(BadInput):
        density_range(1400.0, 0.9, 1.1)
