"""The units a job may be written in, as a small pint registry that is only built when a unit is first read.

The factors are the exact ones of NIST Special Publication 811 (2008), appendix B: international foot 0.3048 m,
avoirdupois pound 0.45359237 kg, standard gravity 9.80665 m/s2. Angle and share are kept as dimensions of their
own, so that "30 %" where an angle is asked for is found out.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import pint

STANDARD_GRAVITY = 9.80665  # m/s2, NIST SP 811, B.8

DEFINITIONS = (
    "meter = [length] = m = metre = meters = metres",
    "kilogram = [mass] = kg = kgs = kilo = kilos = kilograms",
    "second = [time] = s",
    "minute = 60 * second = min = minutes = mins",
    "hour = 3600 * second = h = hr = hrs = hours",
    "radian = [angle] = rad = radians",
    "whole = [share] = _",
    "kilometer = 1000 * meter = km = kilometre",
    "decimeter = 0.1 * meter = dm = decimetre",
    "centimeter = 0.01 * meter = cm = centimetre = centimeters = centimetres",
    "millimeter = 0.001 * meter = mm = millimetre = millimeters = millimetres",
    "inch = 0.0254 * meter = in = inches = ins",
    "foot = 0.3048 * meter = ft = feet",
    "yard = 0.9144 * meter = yd = yards = yds",
    "gram = 0.001 * kilogram = g = grams",
    "tonne = 1000 * kilogram = t = tonnes",
    "pound = 0.45359237 * kilogram = lb = lbs = pounds",
    "ounce = 0.028349523125 * kilogram = oz = ounces",
    "short_ton = 2000 * pound = _ = short_tons",
    "long_ton = 2240 * pound = _ = long_tons",
    "newton = kilogram * meter / second ** 2 = N = newtons",
    "kilonewton = 1000 * newton = kN = kilonewtons",
    "meganewton = 1000000 * newton = MN",
    f"pound_force = {STANDARD_GRAVITY} * pound * meter / second ** 2 = lbf",
    f"kilogram_force = {STANDARD_GRAVITY} * newton = kgf",
    "kip = 1000 * pound_force = _ = kips",
    "pascal = newton / meter ** 2 = Pa = pascals",
    "kilopascal = 1000 * pascal = kPa",
    "megapascal = 1000000 * pascal = MPa",
    "gigapascal = 1000000000 * pascal = GPa",
    "bar = 100000 * pascal = bar",
    "pounds_per_square_inch = pound_force / inch ** 2 = psi",
    "kips_per_square_inch = kip / inch ** 2 = ksi",
    "pounds_per_square_foot = pound_force / foot ** 2 = psf",
    "pounds_per_cubic_foot = pound / foot ** 3 = pcf",
    "mile = 1609.344 * meter = mi = miles",
    "mile_per_hour = mile / hour = mph",
    "knot = 1852 * meter / hour = kt = kts = knots",
    "degree = 0.017453292519943295 * radian = deg = degrees",
    "percent = 0.01 * whole = _ = pct",
)

_TON = 'a "ton" can be three different things: write "short ton" (2000 lb), "long ton" (2240 lb) or "tonne" (1000 kg)'
AMBIGUOUS = {"ton": _TON, "tons": _TON}

_WORD = re.compile(r"[A-Za-z_]+")


class UnknownUnit(ValueError):
    """A word that is not a unit; `word` is the word, `near` the nearest unit known or ""."""

    def __init__(self, word: str, near: str) -> None:
        super().__init__(word)
        self.word = word
        self.near = near


def _vocabulary() -> dict[str, str]:
    """Every spelling of a unit, and in lower case where that is no other unit, to pint's name."""
    exact: dict[str, str] = {}
    for definition in DEFINITIONS:
        name, _, *others = (part.strip() for part in definition.split("="))
        exact.update({spelling: name for spelling in (name, *others) if spelling != "_"})
    folded = {spelling.lower(): name for spelling, name in exact.items()}
    return {**folded, **exact}


VOCABULARY = _vocabulary()


@lru_cache(maxsize=1)
def _registry() -> pint.UnitRegistry[Any]:
    """pint with our definitions alone: its full set takes a third of a second to read, this takes milliseconds."""
    import pint

    registry: pint.UnitRegistry[Any] = pint.UnitRegistry(None)
    for definition in DEFINITIONS:
        registry.define(definition)
    return registry


def _name(word: str) -> str:
    found = VOCABULARY.get(word) or VOCABULARY.get(word.lower())
    if found is None:
        from difflib import get_close_matches

        near = get_close_matches(word.lower(), VOCABULARY, n=1, cutoff=0.6)
        raise UnknownUnit(word, near[0] if near else "")
    return found


@lru_cache(maxsize=1024)
def to_si(unit: str) -> tuple[float, str]:
    """The factor from a unit ("in", "lb/ft^3") to SI, and its dimension as text ("[length]", "[mass]/[length]^3").

    Raises UnknownUnit for a word that is no unit. The unit's grammar is checked by the caller.
    """
    registry = _registry()
    spelled = _WORD.sub(lambda match: _name(match.group()), unit)
    quantity = registry.Quantity(1.0, registry.parse_units(spelled)).to_base_units()
    return float(quantity.magnitude), signature(quantity.dimensionality)


def signature(dimensionality: Mapping[str, Any]) -> str:
    """A dimension as sortable text, so that two of them compare as equal."""
    return " ".join(f"{name}^{power:g}" for name, power in sorted(dimensionality.items()) if power)
