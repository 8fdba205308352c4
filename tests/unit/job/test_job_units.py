"""Unit factors against published ones, and against pint's own full set of definitions."""

from __future__ import annotations

import pint
import pytest

from bolewright.job.quantity import Dimension, quantity
from bolewright.job.units import STANDARD_GRAVITY, VOCABULARY, UnknownUnit, to_si

# NIST Special Publication 811 (2008), appendix B.8: exact factors.
EXACT = {
    "ft": 0.3048,
    "in": 0.0254,
    "yd": 0.9144,
    "lb": 0.45359237,
    "t": 1000.0,
    "short_ton": 907.18474,
    "long_ton": 1016.0469088,
    "kgf": 9.80665,
    "bar": 1e5,
    "mi": 1609.344,
    "mph": 0.44704,
}
# The same appendix: factors given to seven figures.
SEVEN_FIGURES = {
    "oz": 2.834952e-2,
    "lbf": 4.448222,
    "kip": 4.448222e3,
    "psi": 6.894757e3,
    "ksi": 6.894757e6,
    "psf": 4.788026e1,
    "pcf": 1.601846e1,
    "lb/ft^3": 1.601846e1,
    "lbf/in": 1.751268e2,
    "lbf/ft": 1.459390e1,
    "deg": 1.745329e-2,
    "knot": 5.144444e-1,
    "km/h": 2.777778e-1,
}
PINT_NAMES = {"short_ton": "short_ton", "psf": "lbf/ft**2", "pcf": "lb/ft**3"}


@pytest.mark.parametrize(("unit", "factor"), EXACT.items())
def test_exact_factors(unit: str, factor: float) -> None:
    """NIST SP 811, appendix B.8, the factors in bold there."""
    assert to_si(unit)[0] == pytest.approx(factor, rel=1e-15)


@pytest.mark.parametrize(("unit", "factor"), SEVEN_FIGURES.items())
def test_seven_figure_factors(unit: str, factor: float) -> None:
    """NIST SP 811, appendix B.8; the last figure is rounded there."""
    assert to_si(unit)[0] == pytest.approx(factor, rel=3e-7)


def test_standard_gravity() -> None:
    """NIST SP 811, appendix B.8: 9.80665 m/s2, exact."""
    assert STANDARD_GRAVITY == 9.80665


@pytest.mark.parametrize("unit", [*EXACT, *SEVEN_FIGURES, "N/mm", "kN/m", "kPa", "MPa", "kg/m^3", "cm", "mm"])
def test_factors_against_pints_own_definitions(unit: str) -> None:
    """pint's full registry, which we do not load, gives the same SI value."""
    full = pint.UnitRegistry()
    theirs = full.Quantity(1.0, PINT_NAMES.get(unit, unit)).to_base_units().magnitude
    assert to_si(unit)[0] == pytest.approx(theirs, rel=1e-12)


@pytest.mark.parametrize("unit", sorted(VOCABULARY))
def test_every_spelling_is_read(unit: str) -> None:
    """No spelling in the vocabulary is dead."""
    assert to_si(unit)[0] > 0


def test_an_unknown_unit_names_the_nearest() -> None:
    """A slip of the pen is met with the unit that was meant."""
    with pytest.raises(UnknownUnit) as caught:
        to_si("fett")
    assert caught.value.near == "feet"


def test_a_pound_is_a_mass_or_a_force_as_asked() -> None:
    """One pound-force is 4.4482216152605 N exactly (NIST SP 811, B.8: 0.45359237 x 9.80665)."""
    assert quantity("1 lb", Dimension.MASS).likely == pytest.approx(0.45359237, rel=1e-15)
    assert quantity("1 lb", Dimension.FORCE).likely == pytest.approx(4.4482216152605, rel=1e-14)
    assert quantity("1 kg", Dimension.FORCE).likely == pytest.approx(9.80665, rel=1e-15)
    assert quantity("1 lb/ft^2", Dimension.PRESSURE).likely == pytest.approx(47.88026, rel=3e-7)
