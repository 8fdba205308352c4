"""Amounts as people write them. Expected values are worked by hand from 0.0254 m to the inch."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bolewright.job.quantity import BadQuantity, Dimension, Quantity, quantity

D = Dimension
IN, FT, LB = 0.0254, 0.3048, 0.45359237

SINGLE = [
    ("46 in", D.LENGTH, 46 * IN),
    ("46in", D.LENGTH, 46 * IN),
    ("46 IN.", D.LENGTH, 46 * IN),
    ("14 ft 6 in", D.LENGTH, 174 * IN),
    ("14ft6in", D.LENGTH, 174 * IN),
    ("14ft2in", D.LENGTH, 170 * IN),
    ("14 ft. 6 in.", D.LENGTH, 174 * IN),
    ("6' 2\"", D.LENGTH, 74 * IN),
    ("6'2\"", D.LENGTH, 74 * IN),
    ("6′ 2″", D.LENGTH, 74 * IN),
    ("6’ 2 ½”", D.LENGTH, 74.5 * IN),
    ("3 1/2 in", D.LENGTH, 3.5 * IN),
    ("3-1/2 in", D.LENGTH, 3.5 * IN),
    ("1/2 in", D.LENGTH, 0.5 * IN),
    (".5 m", D.LENGTH, 0.5),
    ("1.2e0 m", D.LENGTH, 1.2),
    ("-1 ft 6 in", D.LENGTH, -18 * IN),
    ("−2 ft", D.LENGTH, -24 * IN),
    ("2 feet 3 inches", D.LENGTH, 27 * IN),
    ("1,200 lb", D.MASS, 1200 * LB),
    ("2 short tons", D.MASS, 4000 * LB),
    ("1.5 tonnes", D.MASS, 1500.0),
    ("1 metric ton", D.MASS, 1000.0),
    ("900 kg/m^3", D.DENSITY, 900.0),
    ("900 kg/m3", D.DENSITY, 900.0),
    ("900 kg/m³", D.DENSITY, 900.0),
    ("900 kg / m**3", D.DENSITY, 900.0),
    ("56 lb/cu ft", D.DENSITY, 56 * LB / FT**3),
    ("56 lb per cubic foot", D.DENSITY, 56 * LB / FT**3),
    ("300 N/mm", D.STIFFNESS, 3e5),
    ("1500 lb/sq ft", D.PRESSURE, 1500 * LB * 9.80665 / FT**2),
    ("75 deg", D.ANGLE, math.radians(75)),
    ("75°", D.ANGLE, math.radians(75)),
    ("30 %", D.SHARE, 0.3),
    ("30%", D.SHARE, 0.3),
    ("0.3", D.SHARE, 0.3),
    ("0.4", D.NUMBER, 0.4),
]

SPREAD = [
    ("1.2 m ± 5 cm", D.LENGTH, 1.15, 1.2, 1.25),
    ("1.2 m +- 5 cm", D.LENGTH, 1.15, 1.2, 1.25),
    ("1.2 m +/- 5 cm", D.LENGTH, 1.15, 1.2, 1.25),
    ("1.2 ± 0.05 m", D.LENGTH, 1.15, 1.2, 1.25),
    ("46 in ± 5 %", D.LENGTH, 43.7 * IN, 46 * IN, 48.3 * IN),
    ("44..48 in", D.LENGTH, 44 * IN, 46 * IN, 48 * IN),
    ("44 in .. 4 ft", D.LENGTH, 44 * IN, 46 * IN, 48 * IN),
    ("44…48 in", D.LENGTH, 44 * IN, 46 * IN, 48 * IN),
    ("44..45..48 in", D.LENGTH, 44 * IN, 45 * IN, 48 * IN),
    ("3 ft 8 in..4 ft", D.LENGTH, 44 * IN, 46 * IN, 48 * IN),
    ("0.3..0.5", D.NUMBER, 0.3, 0.4, 0.5),
    ("30 % ± 5 %", D.SHARE, 0.25, 0.3, 0.35),  # points of a share, not a part of it
    ("850 ± 50 kg/m3", D.DENSITY, 800.0, 850.0, 900.0),
]

REFUSED = [
    ("46", D.LENGTH, "no unit"),
    ("44..48", D.LENGTH, "no unit"),
    ("46 kg", D.LENGTH, "is a mass, but a length"),
    ("30 %", D.ANGLE, "is a share, but an angle"),
    ("400 lbf", D.MASS, "is a force, but a mass"),
    ("5 m/s", D.LENGTH, "is a speed"),
    ("5 m^2", D.LENGTH, "measures something else"),
    ("40 kN", D.SPEED, "is a force"),
    ("46 fett", D.LENGTH, 'did you mean "feet"'),
    ("3 tons", D.MASS, "three different things"),
    ("1,2 m", D.LENGTH, "comma"),
    ("1200,5 mm", D.LENGTH, "comma"),
    ("44-48 in", D.LENGTH, "two points"),
    ("44 to 48 in", D.LENGTH, "two points"),
    ("48..44 in", D.LENGTH, "backwards"),
    ("about a foot", D.LENGTH, "cannot be read"),
    ("3 ft 8", D.LENGTH, "cannot be read"),
    ("46 in in", D.LENGTH, "cannot be read"),
    ("", D.LENGTH, "empty"),
    ("..", D.LENGTH, "cannot be read"),
    ("± 5 cm", D.LENGTH, "cannot be read"),
    ("5 m ±", D.LENGTH, "cannot be read"),
    ("5 m ± 1 cm ± 2 cm", D.LENGTH, "more than one"),
    ("5 m ± -1 cm", D.LENGTH, "below zero"),
    ("1/0 in", D.LENGTH, "nothing under the line"),
    ("1e999 m", D.LENGTH, "too large"),
    ("nan m", D.LENGTH, "cannot be read"),
    ("inf", D.LENGTH, "cannot be read"),
    ("4\x1b[31m6 in", D.LENGTH, "characters"),
    ("1" * 100 + " in", D.LENGTH, "too long"),
]


@pytest.mark.parametrize(("text", "dimension", "value"), SINGLE)
def test_single_values(text: str, dimension: Dimension, value: float) -> None:
    """Without a spread low, likely and high are one, and the text is kept."""
    read = quantity(text, dimension)
    assert read.likely == pytest.approx(value, rel=1e-12)
    assert (read.low, read.high) == (read.likely, read.likely)
    assert not read.has_spread
    assert str(read) == text


@pytest.mark.parametrize(("text", "dimension", "low", "likely", "high"), SPREAD)
def test_spreads(text: str, dimension: Dimension, low: float, likely: float, high: float) -> None:
    """The three ways of writing a spread."""
    read = quantity(text, dimension)
    assert (read.low, read.likely, read.high) == pytest.approx((low, likely, high), rel=1e-12)
    assert read.has_spread


@pytest.mark.parametrize(("text", "dimension", "words"), REFUSED)
def test_what_cannot_be_read(text: str, dimension: Dimension, words: str) -> None:
    """One sentence that says what is wrong and what to write."""
    with pytest.raises(BadQuantity) as caught:
        quantity(text, dimension)
    sentence = str(caught.value)
    assert words in sentence
    assert sentence.endswith(".")
    assert sentence.isprintable()


def test_a_quantity_has_to_rise() -> None:
    """A quantity made by hand is held to the same order."""
    with pytest.raises(ValueError, match="rise"):
        Quantity(2.0, 1.0, 3.0, "x", D.LENGTH)


UNITS = {"in": IN, "ft": FT, "cm": 0.01, "mm": 0.001, "m": 1.0, "yd": 0.9144}
numbers = st.decimals(min_value=0, max_value=9999, places=3)


@given(numbers, st.sampled_from(sorted(UNITS)))
def test_any_number_with_a_unit_is_that_many_units(number: object, unit: str) -> None:
    """Written and read again, with and without a space."""
    expected = float(str(number)) * UNITS[unit]
    assert quantity(f"{number} {unit}", D.LENGTH).likely == pytest.approx(expected, rel=1e-12, abs=1e-15)
    assert quantity(f"{number}{unit}", D.LENGTH).likely == pytest.approx(expected, rel=1e-12, abs=1e-15)


@given(st.integers(0, 200), st.integers(0, 11), st.integers(0, 15))
def test_feet_inches_and_sixteenths(feet: int, inches: int, sixteenths: int) -> None:
    """A tape reading in any of its spellings is the same length."""
    expected = (feet * 12 + inches + sixteenths / 16) * IN
    for text in (f"{feet} ft {inches} {sixteenths}/16 in", f"{feet}' {inches} {sixteenths}/16\""):
        assert quantity(text, D.LENGTH).likely == pytest.approx(expected, rel=1e-12, abs=1e-15)


@given(numbers, numbers, st.sampled_from(sorted(UNITS)), st.sampled_from(sorted(UNITS)))
def test_a_spread_is_as_wide_as_it_says(value: object, spread: object, unit: str, other: str) -> None:
    """High less low is twice the spread, whatever the units, and the range form agrees with it."""
    read = quantity(f"{value} {unit} ± {spread} {other}", D.LENGTH)
    half = float(str(spread)) * UNITS[other]
    assert read.high - read.low == pytest.approx(2 * half, rel=1e-9, abs=1e-9)
    assert read.likely == pytest.approx((read.low + read.high) / 2, rel=1e-9, abs=1e-9)


@given(st.text(max_size=60), st.sampled_from(list(Dimension)))
def test_no_text_breaks_the_reader(text: str, dimension: Dimension) -> None:
    """Any text gives a quantity or one printable sentence."""
    try:
        read = quantity(text, dimension)
    except BadQuantity as fault:
        assert str(fault).isprintable()
    else:
        assert math.isfinite(read.low)
        assert math.isfinite(read.high)


ATOMS = ["1", "46", "1/2", ",", ".", "..", "±", "+-", "-", "/", "^", "3", " ", "in", "ft", "lb", "m", "'", '"', "%",
         "cu ", "per", "e5", "ton", "_", "deg", "½", "kg"]  # fmt: skip


@given(st.lists(st.sampled_from(ATOMS), max_size=12), st.sampled_from(list(Dimension)))
def test_no_heap_of_pieces_breaks_the_reader(atoms: list[str], dimension: Dimension) -> None:
    """The same, with texts that look like quantities."""
    try:
        read = quantity("".join(atoms), dimension)
    except BadQuantity as fault:
        assert str(fault).endswith(".")
    else:
        assert read.low <= read.likely <= read.high
