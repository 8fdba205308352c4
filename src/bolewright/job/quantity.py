"""Quantity: a value with its spread in SI, together with the text it was read from."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from bolewright.job.amount import LONGEST_TEXT, Term, Unreadable, take_apart
from bolewright.job.units import AMBIGUOUS, STANDARD_GRAVITY, UnknownUnit, to_si


class Dimension(StrEnum):
    """What a value measures. The word is the one used in sentences."""

    LENGTH = "length"
    MASS = "mass"
    FORCE = "force"
    ANGLE = "angle"
    DENSITY = "density"
    STIFFNESS = "stiffness"
    PRESSURE = "pressure"
    SPEED = "speed"
    VOLUME = "volume"
    SHARE = "share"
    NUMBER = "plain number"
    TIME = "time"


_SIGNATURES = {
    Dimension.LENGTH: "[length]^1",
    Dimension.MASS: "[mass]^1",
    Dimension.FORCE: "[length]^1 [mass]^1 [time]^-2",
    Dimension.ANGLE: "[angle]^1",
    Dimension.DENSITY: "[length]^-3 [mass]^1",
    Dimension.STIFFNESS: "[mass]^1 [time]^-2",
    Dimension.PRESSURE: "[length]^-1 [mass]^1 [time]^-2",
    Dimension.SPEED: "[length]^1 [time]^-1",
    Dimension.VOLUME: "[length]^3",
    Dimension.SHARE: "[share]^1",
    Dimension.NUMBER: "[share]^1",
    Dimension.TIME: "[time]^1",
}
# "400 lb" where a force is asked for means pound-force, "1500 lb/ft^2" a pressure: the mass form, times gravity.
_MASS_FORM = {
    Dimension.FORCE: "[mass]^1",
    Dimension.STIFFNESS: "[length]^-1 [mass]^1",
    Dimension.PRESSURE: "[length]^-2 [mass]^1",
}
_NAMES = {text: dimension for dimension, text in _SIGNATURES.items() if dimension is not Dimension.NUMBER}
UNITLESS = frozenset({Dimension.SHARE, Dimension.NUMBER})

EXAMPLES: dict[Dimension, tuple[str, ...]] = {
    Dimension.LENGTH: ("46 in", "14 ft 6 in", "1.2 m"),
    Dimension.MASS: ("80 lb", "500 kg"),
    Dimension.FORCE: ("400 lbf", "400 lb", "2 kN"),
    Dimension.ANGLE: ("50 deg",),
    Dimension.DENSITY: ("900 kg/m^3", "56 lb/ft^3"),
    Dimension.STIFFNESS: ("300 N/mm", "2000 lbf/in"),
    Dimension.PRESSURE: ("1500 psf", "75 kPa"),
    Dimension.SPEED: ("70 mph", "115 km/h", "32 m/s"),
    Dimension.SHARE: ("30 %", "0.3"),
    Dimension.NUMBER: ("0.4", "0.3..0.5"),
    Dimension.TIME: ("20 min", "1.5 h"),
    Dimension.VOLUME: ("12 yd^3", "9 m^3"),
}


class BadQuantity(ValueError):
    """A text that is not the quantity asked for; the message is one plain sentence that says what to write."""


@dataclass(frozen=True)
class Quantity:
    """Low, likely and high in SI (5, 50 and 95 % points; all equal when no spread was given) and the text as typed."""

    low: float
    likely: float
    high: float
    text: str
    dimension: Dimension

    def __post_init__(self) -> None:
        if not self.low <= self.likely <= self.high:
            raise ValueError(f"a quantity must rise: {self.low} .. {self.likely} .. {self.high}")

    @property
    def has_spread(self) -> bool:
        """Whether low and high differ."""
        return self.low < self.high

    def __str__(self) -> str:
        return self.text


def a(dimension: Dimension) -> str:
    """The dimension with its article: "a length", "an angle"."""
    return f"an {dimension}" if dimension is Dimension.ANGLE else f"a {dimension}"


def such_as(dimension: Dimension) -> str:
    """What to write instead: `write a length such as "46 in", "14 ft 6 in" or "1.2 m"`."""
    quoted = [f'"{example}"' for example in EXAMPLES[dimension]]
    listed = f"{', '.join(quoted[:-1])} or {quoted[-1]}" if len(quoted) > 1 else quoted[0]
    return f"write {a(dimension)} such as {listed}"


@lru_cache(maxsize=4096)
def quantity(text: str, dimension: Dimension) -> Quantity:
    """The quantity in a text, in SI, with its spread. Raises BadQuantity.

    Spread is written "1.2 m ± 5 cm", "1.2 m +- 5 cm", "46 in ± 5 %", "44..48 in" or "44..45..48 in".
    """
    typed = text.strip()
    if not typed:
        raise BadQuantity(f"This is empty: {such_as(dimension)}.")
    if not typed.isprintable():
        raise BadQuantity(f"This has characters in it that cannot be read: {such_as(dimension)}.")
    if len(typed) > LONGEST_TEXT:
        raise BadQuantity(f"This text is too long for {a(dimension)}: {such_as(dimension)}.")
    try:
        ends = _ends(typed, dimension)
    except Unreadable as fault:
        why = f" ({fault})" if str(fault) else ""
        raise BadQuantity(f'"{typed}" cannot be read as {a(dimension)}{why}: {such_as(dimension)}.') from None
    if not all(math.isfinite(end) for end in ends):
        raise BadQuantity(f'"{typed}" is too large to be real: {such_as(dimension)}.')
    return Quantity(*ends, text=typed, dimension=dimension)


def _ends(typed: str, dimension: Dimension) -> tuple[float, float, float]:
    """Low, likely, high in SI."""
    parts = take_apart(typed)
    values = [_si(_with_unit(terms, parts.spread), typed, dimension) for terms in parts.values]
    if len(values) > 1:
        if sorted(values) != values:
            raise BadQuantity(f'"{typed}" runs backwards: write the smaller value first.')
        return values[0], values[1] if len(values) == 3 else (values[0] + values[1]) / 2, values[-1]
    if parts.spread is None:
        return values[0], values[0], values[0]
    spread = _spread(parts.spread, values[0], typed, dimension)
    return values[0] - spread, values[0], values[0] + spread


def _with_unit(terms: tuple[Term, ...], spread: tuple[Term, ...] | None) -> tuple[Term, ...]:
    """In "1.2 ± 0.05 m" the unit is written once, behind the spread."""
    if spread and len(terms) == 1 and not terms[0].unit:
        return (Term(terms[0].number, spread[-1].unit),)
    return terms


def _spread(terms: tuple[Term, ...], value: float, typed: str, dimension: Dimension) -> float:
    """Half the width: an amount of the same kind, or a percentage of the value."""
    if dimension not in UNITLESS and len(terms) == 1 and terms[0].unit in ("percent", "pct"):
        spread = abs(value) * terms[0].number / 100
    else:
        spread = _si(terms, typed, dimension)
    if spread < 0:
        raise BadQuantity(f'"{typed}" has a spread below zero: write it without the minus.')
    return spread


def _si(terms: tuple[Term, ...], typed: str, dimension: Dimension) -> float:
    """The sum of the terms in SI."""
    return math.fsum(term.number * _factor(term.unit, typed, dimension) for term in terms)


def _factor(unit: str, typed: str, dimension: Dimension) -> float:
    """SI per unit, with pounds and kilograms read as forces where a force is asked for."""
    if not unit:
        if dimension in UNITLESS:
            return 1.0
        raise BadQuantity(f'"{typed}" has no unit: {such_as(dimension)}.')
    if unit.lower() in AMBIGUOUS:
        raise BadQuantity(f'In "{typed}", {AMBIGUOUS[unit.lower()]}.')
    try:
        factor, found = to_si(unit)
    except UnknownUnit as fault:
        near = f' (did you mean "{fault.near}"?)' if fault.near else ""
        raise BadQuantity(f'"{fault.word}" in "{typed}" is no unit known here{near}: {such_as(dimension)}.') from None
    if found == _SIGNATURES[dimension]:
        return factor
    if found == _MASS_FORM.get(dimension):
        return factor * STANDARD_GRAVITY
    wrong = f"is {a(_NAMES[found])}" if found in _NAMES else "measures something else"
    raise BadQuantity(f'"{typed}" {wrong}, but {a(dimension)} is asked for: {such_as(dimension)}.')
