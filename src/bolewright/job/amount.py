"""Amounts as people write them ("14 ft 6 in", "3 1/2 in", "1,200 lb"): numbers and unit words, no meaning yet."""

from __future__ import annotations

import re
from dataclasses import dataclass

LONGEST_TEXT = 80

_CHARACTERS = str.maketrans(
    {
        "′": "'", "’": "'", "‘": "'", "″": '"', "”": '"', "“": '"', "−": "-", "–": "-", "—": "-", "·": "*", "⋅": "*",
        "²": "^2", "³": "^3", "°": " deg ", "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8",
        "⅝": " 5/8", "⅞": " 7/8", "\u00a0": " ", "\u202f": " ", "\u2009": " ", "…": "..", "\t": " ", "⁄": "/",
    }
)  # fmt: skip

_WORDS = (
    (re.compile(r"\+\s*/?\s*-|\bplus or minus\b", re.I), "±"),
    (re.compile(r"''"), '"'),
    (re.compile(r"\bper\b", re.I), "/"),
    (re.compile(r"\b(?:cubic|cu)\b\.?\s*([A-Za-z]+)\.?", re.I), r"\1^3"),
    (re.compile(r"\b(?:square|sq)\b\.?\s*([A-Za-z]+)\.?", re.I), r"\1^2"),
    (re.compile(r"\b(short|long)\s+(tons?)\b", re.I), r"\1_\2"),
    (re.compile(r"\bmetric\s+tons?\b", re.I), "tonne"),
    (re.compile(r"([A-Za-z])\*\*(\d)"), r"\1^\2"),
    (re.compile(r"\b([A-Za-z]{1,4})\.(?=\s|$)"), r"\1"),  # "46 in." and "14 ft. 6 in."
)

_NUMBER = re.compile(
    r"(?P<whole>[0-9]+)(?:\s+|\s*-\s*)(?P<top>[0-9]+)/(?P<under>[0-9]+)"
    r"|(?P<top2>[0-9]+)/(?P<under2>[0-9]+)"
    r"|(?P<plain>(?:[1-9][0-9]{0,2}(?:,[0-9]{3})+|[0-9]+)(?:\.[0-9]*)?(?:[eE][+-]?[0-9]+)?|\.[0-9]+)",
)
# A power without "^" ("kg/m3") is read as one only when nothing follows that would make it a number: "6ft2in".
_FACTOR = r"[A-Za-z_]+(?:\^-?[0-9]|[23](?![0-9.]|\s*[A-Za-z'\"]))?"
_UNIT = re.compile(rf"%|'|\"|{_FACTOR}(?:\s*[/*]\s*{_FACTOR})*")
_BARE_POWER = re.compile(r"(?<=[A-Za-z])([23])$|(?<=[A-Za-z])([23])(?=\s*[/*])")
_MARKS = {"'": "ft", '"': "in", "%": "percent"}


class Unreadable(ValueError):
    """The text is not an amount; the message says what is wrong, "" when nothing better can be said."""


@dataclass(frozen=True)
class Term:
    """One number with its unit word ("" when there is none)."""

    number: float
    unit: str


@dataclass(frozen=True)
class Parts:
    """An amount taken apart: one value, or two or three of a range, each a run of terms, and the spread after "±"."""

    values: tuple[tuple[Term, ...], ...]
    spread: tuple[Term, ...] | None


def take_apart(text: str) -> Parts:
    """The values and the spread in a text. Raises Unreadable."""
    plain = text.translate(_CHARACTERS)
    for pattern, instead in _WORDS:
        plain = pattern.sub(instead, plain)
    value, *spreads = plain.split("±")
    if len(spreads) > 1:
        raise Unreadable("there is more than one ±")
    values = tuple(_terms(part) for part in re.split(r"\.{2,}", value))
    if len(values) > 3 or (spreads and len(values) > 1):
        raise Unreadable("")
    return Parts(_share_unit(values), _terms(spreads[0]) if spreads else None)


def _share_unit(values: tuple[tuple[Term, ...], ...]) -> tuple[tuple[Term, ...], ...]:
    """In "44..48 in" the unit is written once, at the end: give it to the numbers before."""
    last = values[-1][-1].unit

    def completed(terms: tuple[Term, ...]) -> tuple[Term, ...]:
        return (Term(terms[0].number, last),) if len(terms) == 1 and not terms[0].unit else terms

    return tuple(completed(terms) for terms in values)


def _terms(part: str) -> tuple[Term, ...]:
    """The run of terms in one value; a minus in front turns all of them."""
    rest = part.strip()
    sign = -1.0 if rest.startswith("-") else 1.0
    rest = rest[1:].lstrip() if rest[:1] in "+-" else rest
    found: list[Term] = []
    while rest:
        number = _NUMBER.match(rest)
        if number is None:
            raise Unreadable("")
        rest = rest[number.end() :].lstrip()
        if re.match(r",[0-9]", rest):
            raise Unreadable("a comma is not read as a decimal sign: write a point")
        if re.match(r"-\s*[0-9]", rest) or re.match(r"to\s+[0-9]", rest):
            raise Unreadable('for a range write two points, such as "44..48 in"')
        unit = _UNIT.match(rest)
        found.append(Term(sign * _value(number), _spelled(unit.group()) if unit else ""))
        rest = rest[unit.end() :].lstrip(" ,") if unit else rest
    if not found or any(not term.unit for term in found[1:]) or (len(found) > 1 and not found[0].unit):
        raise Unreadable("")
    return tuple(found)


def _spelled(unit: str) -> str:
    return _BARE_POWER.sub(r"^\1\2", _MARKS.get(unit, unit))


def _value(match: re.Match[str]) -> float:
    """The number of a match: plain, a fraction, or a whole with a fraction."""
    plain = match["plain"]
    if plain is not None:
        return float(plain.replace(",", ""))
    top, under = float(match["top"] or match["top2"]), float(match["under"] or match["under2"])
    if under == 0:
        raise Unreadable("a fraction has nothing under the line")
    return float(match["whole"] or 0) + top / under
