"""What roots hold against the published pulling tests.

Sources: Byrne 2005, thesis, University of British Columbia; Nicoll et al. 2006, Can. J. For. Res. 36:1871-1883;
Smiley 2008, Arboric. Urban For. 34(2):123-128 and the red maple trial, Arboric. Urban For. 40(4):230 (2014);
Peltola et al. 1999; Forests 2023, 14(3):533; Lundstroem et al. 2007; Peltola et al. 2000, For. Ecol. Manage. 135:143.
"""

from __future__ import annotations

import numpy as np
import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.standing.anchorage import (
    DEEP_GAIN,
    plate_capacity,
    pull_test_capacity,
    roots_cut,
    trench_loss,
    turning_capacity,
)
from bolewright.reference.standing import anchorage_for, anchorage_table

SLOPES = {
    "Pinus contorta": 145.6,
    "Picea glauca x engelmannii": 118.6,
    "Thuja plicata": 94.5,
    "Tsuga heterophylla": 77.4,
}


def test_shipped_slopes_are_as_printed() -> None:
    """Byrne 2005: critical turning moment per stem mass."""
    assert {row.species: row.slope for row in anchorage_table()} == SLOPES


def test_band_for_a_species() -> None:
    """Tested kinds get their own slope in the middle; any other a band wider than all four."""
    other = anchorage_for("Quercus rubra").value
    assert other.low <= min(SLOPES.values()) / 1.3
    assert other.high >= max(SLOPES.values()) * 1.3
    assert other.low < np.mean(list(SLOPES.values())) < other.high
    pine = anchorage_for("Pinus contorta").value
    assert pine.likely == 145.6
    assert pine.high / pine.low <= 4.0 + 1e-9


def test_capacity_by_hand() -> None:
    """A stem of 500 kg at 118.6 N m/kg: 59.3 kN m."""
    assert float(turning_capacity(500.0, 118.6)) == pytest.approx(59300.0)


def test_deep_rooting_gains_10_to_15_percent() -> None:
    """Nicoll et al. 2006."""
    assert (DEEP_GAIN.low, DEEP_GAIN.high) == (1.10, 1.15)


def test_roots_cut() -> None:
    """Smiley 2008: half of the buttress roots 30 %, one (of about five) 12 %; 2014: a straight line."""
    assert roots_cut(0.5).likely == pytest.approx(0.30)
    assert roots_cut(0.2).likely == pytest.approx(0.12)
    shares = np.linspace(0.0, 0.5, 11)
    line = np.array([roots_cut(s).likely for s in shares])
    np.testing.assert_allclose(np.diff(line, 2), 0.0, atol=1e-12)


def test_beyond_half_the_roots_the_answer_is_wide() -> None:
    """Nothing was measured beyond half: all roots gone may hold nothing."""
    gone = roots_cut(1.0)
    assert gone.high == pytest.approx(1.0)
    assert gone.low == pytest.approx(0.6)


@pytest.mark.parametrize(("diameters", "loss"), [(0.0, 0.35), (3.0, 0.0), (5.0, 0.0)])
def test_trench(diameters: float, loss: float) -> None:
    """Smiley 2008: 35 % at the trunk, none that could be measured beyond three stem diameters."""
    assert trench_loss(diameters * 0.4, 0.4).likely == pytest.approx(loss)


def test_trench_between_falls_steadily() -> None:
    """Never more with more distance."""
    losses = [trench_loss(x, 0.5).likely for x in np.linspace(0.0, 2.0, 21)]
    assert np.all(np.diff(losses) <= 1e-12)


def test_plate_weight() -> None:
    """Peltola et al. 1999 by hand: a plate 2.4 m across and 0.8 m deep is 5791 kg; x g x 0.8 / 0.3 = 151 kN m."""
    assert plate_capacity(2.4, 0.8, 1600.0) == pytest.approx(9.80665 * 1600.0 * np.pi * 1.2**2 * 0.8 * 0.8 / 0.3)
    assert plate_capacity(2.4, 0.8, 1600.0) == pytest.approx(151.4e3, rel=1e-3)


def test_pull_test() -> None:
    """2.5 times the moment at a quarter of a degree."""
    assert pull_test_capacity(40e3, np.radians(0.25)).likely == pytest.approx(100e3)
    assert pull_test_capacity(20e3, np.radians(0.125)).likely == pytest.approx(100e3)


def test_hold_goes_with_height_and_diameter_squared() -> None:
    """The form of Peltola et al. 2000 for uprooting, not its numbers: stem mass goes with H dbh2, the hold with it."""
    thin, thick = 20.0 * 0.3**2, 25.0 * 0.5**2
    mass = np.array([thin, thick]) * np.pi / 4.0 * 0.4 * 900.0
    capacity = turning_capacity(mass, 118.6)
    assert capacity[1] / capacity[0] == pytest.approx(thick / thin)


@pytest.mark.parametrize("bad", [-0.1, 1.2])
def test_shares_that_cannot_be(bad: float) -> None:
    """One sentence."""
    with pytest.raises(BadInput, match="between 0 and 100"):
        roots_cut(bad)


def test_pull_tests_that_cannot_be() -> None:
    """Too much tilt for the line, or no pull."""
    with pytest.raises(BadInput, match=r"0\.5 deg"):
        pull_test_capacity(1e3, np.radians(1.0))
    with pytest.raises(BadInput):
        pull_test_capacity(0.0, np.radians(0.25))
    with pytest.raises(BadInput):
        trench_loss(-1.0, 0.3)
