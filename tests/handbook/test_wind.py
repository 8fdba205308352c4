"""Wind with height against the two published standards, and a gust never made a gust twice.

Sources: EN 1991-1-4:2005, section 4, Tables and Figure 4.2 (exposure factor c_e over terrain); ASCE 7-05 Table 6-3
(velocity pressure exposure coefficients; the row at 30 ft was read in print, the others are from memory).
"""

from __future__ import annotations

import numpy as np
import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.standing.wind import (
    EN_AIR_DENSITY,
    FOOT,
    TERRAIN_WORDS,
    asce_exposure,
    en_exposure,
    en_mean_share,
    en_turbulence,
    gust_share,
    pressure,
    reference_gust,
)

# EN 1991-1-4:2005, worked from Table 4.1 and Eq. 4.3 to 4.8: terrain, z [m], c_r, I_v, c_e
EN_ROWS = [
    ("0", 10, 1.26572, 0.12328, 2.98453), ("I", 10, 1.17263, 0.14476, 2.76851), ("II", 2, 0.70089, 0.27109, 1.42342),
    ("II", 5, 0.87498, 0.21715, 1.92932), ("II", 10, 1.00668, 0.18874, 2.35229), ("II", 20, 1.13838, 0.16690, 2.80995),
    ("III", 2, 0.60598, 0.35544, 1.28086), ("III", 5, 0.60598, 0.35544, 1.28086), ("III", 20, 0.90457, 0.23811, 2.1821),
    ("IV", 5, 0.53956, 0.43429, 1.17617), ("IV", 10, 0.53956, 0.43429, 1.17617), ("IV", 30, 0.79700, 0.29401, 1.94252),
]  # fmt: skip
# ASCE 7-05, Table 6-3, Case 2 (all other structures and main systems): z [ft], Kz for exposures B, C, D
ASCE_ROWS = [
    (15, 0.57, 0.85, 1.03), (20, 0.62, 0.90, 1.08), (30, 0.70, 0.98, 1.16), (40, 0.76, 1.04, 1.22),
    (60, 0.85, 1.13, 1.31), (80, 0.93, 1.21, 1.38), (100, 0.99, 1.26, 1.43),
]  # fmt: skip


@pytest.mark.parametrize(("terrain", "height", "mean", "turbulence", "exposure"), EN_ROWS)
def test_en_profile(terrain: str, height: float, mean: float, turbulence: float, exposure: float) -> None:
    """Roughness factor, turbulence and exposure factor in every terrain, below and above the least height."""
    assert float(en_mean_share(height, terrain)) == pytest.approx(mean, rel=2e-5)
    assert float(en_turbulence(height, terrain)) == pytest.approx(turbulence, abs=1e-5)
    assert float(en_exposure(height, terrain)) == pytest.approx(exposure, rel=2e-5)


@pytest.mark.parametrize(
    ("terrain", "height", "read_off"),
    [("0", 10, 3.0), ("I", 10, 2.8), ("II", 10, 2.35), ("III", 10, 1.7), ("IV", 10, 1.2)],
)
def test_en_exposure_as_the_figure_shows(terrain: str, height: float, read_off: float) -> None:
    """Figure 4.2 of the standard read off at 10 m (from memory, to its line width)."""
    assert float(en_exposure(height, terrain)) == pytest.approx(read_off, rel=0.03)


def test_en_pressure() -> None:
    """q_p at 10 m over terrain II for a basic speed of 20 m/s: 588 Pa (EN 1991-1-4, Eq. 4.8 and 4.10)."""
    assert float(en_exposure(10.0, "II") * pressure(20.0, EN_AIR_DENSITY)) == pytest.approx(588.073, rel=1e-4)


@pytest.mark.parametrize(("feet", "b", "c", "d"), ASCE_ROWS)
def test_asce_exposure(feet: float, b: float, c: float, d: float) -> None:
    """The printed table to its two decimals; C at 60 ft is printed as 1.13 where its own formula gives 1.137."""
    for category, printed in zip("BCD", (b, c, d), strict=True):
        assert float(asce_exposure(feet * FOOT, category)) == pytest.approx(printed, abs=0.0075)


def test_asce_pressure_in_its_own_units() -> None:
    """q = 0.00256 Kz V2: 90 mile/h at 30 ft in exposure C is 20.4 psf."""
    mile_h, psf = 0.44704, 47.880259
    q = float(asce_exposure(30.0 * FOOT, "C") * pressure(90.0 * mile_h)) / psf
    assert q == pytest.approx(20.37, rel=5e-3)


def test_a_gust_is_not_made_a_gust_twice() -> None:
    """At 10 m in open country a recorded gust is the gust there; a mean is raised once, by sqrt(2.352) = 1.534."""
    assert reference_gust(40.0, "gust") == 40.0
    assert reference_gust(40.0, "mean") == pytest.approx(40.0 * 1.5337, rel=1e-4)
    assert float(gust_share(10.0, "EN", "open")) == pytest.approx(1.0, abs=1e-12)
    assert float(gust_share(33.0 * FOOT, "ASCE", "open")) == pytest.approx(1.0, abs=2e-3)


@pytest.mark.parametrize("terrain", TERRAIN_WORDS)
def test_the_two_forms_tell_the_same_story(terrain: str) -> None:
    """From 10 to 30 m the gust in either form differs by a sixth at most; rougher ground is never windier."""
    heights = np.array([10.0, 15.0, 20.0, 30.0])
    en, asce = gust_share(heights, "EN", terrain), gust_share(heights, "ASCE", terrain)
    if terrain != "city":  # ASCE 7-05 has no category as rough as terrain IV
        np.testing.assert_allclose(en, asce, rtol=0.17)
    for form in ("EN", "ASCE"):
        assert np.all(gust_share(heights, form, terrain) <= gust_share(heights, form, "open water") + 1e-12)  # type: ignore[arg-type]


@pytest.mark.parametrize("speed", [-1.0, 200.0])
def test_speeds_that_cannot_be(speed: float) -> None:
    """One sentence."""
    with pytest.raises(BadInput, match="cannot be"):
        reference_gust(speed, "gust")


def test_unknown_terrain() -> None:
    """One sentence with the words there are."""
    with pytest.raises(BadInput, match="suburb"):
        gust_share(10.0, "EN", "moor")
