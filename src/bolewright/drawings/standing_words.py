"""Words that the drawings and the text of a standing tree share: gusts and compass directions."""

from __future__ import annotations

import math
import re

from bolewright.core.base.range import Range
from bolewright.drawings import units as u
from bolewright.drawings.units import Units
from bolewright.job.compass import POINTS as SIXTEEN
from bolewright.planning.standing.results import LossBeside, RuleBeside

POINTS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")
HIGHEST = 100.0  # m/s, the last gust looked at: it stands for all beyond it


def compass(degrees: float) -> str:
    """A direction as a point of the compass and in degrees: "SE (128 deg)"."""
    return f"{POINTS[round(degrees / 45.0) % 8]} ({degrees:.0f} deg)"


def side(degrees: float) -> str:
    """A direction as one of sixteen points of the compass and in degrees: "ESE (110 deg)"."""
    return f"{SIXTEEN[round(degrees / 22.5) % 16]} ({degrees:.0f} deg)"


def formula_words(formula: LossBeside) -> str:
    """A one-line formula with its loss and how far that is from the loss worked out: "(d/D)^4 19 %, 14 under"."""
    off = round(100.0 * formula.error)
    said = "as worked out" if off == 0 else f"{abs(off)} {'over' if off > 0 else 'under'}"
    return f"{formula.name} {formula.loss * 100:.0f} %, {said}"


def rule_words(rule: RuleBeside) -> str:
    """A rule of thumb with what it looks at here and its limit."""
    if rule.name.startswith("wall"):
        return f"{rule.name} {rule.limit:.2f} of the radius: here {rule.value:.2f}"
    places = 0 if rule.limit > 1.0 else 2
    return f"{rule.name} {rule.value:.{places}f} (limit {rule.limit:.{places}f})"


def amount(value: Range, kind: str, units: Units) -> str:
    """A measured or computed value of a comparison with its range, in the unit of its kind."""
    if kind == "speed":
        return gusts(value, units)
    if kind == "moment":
        return u.moment_range(value, units)
    one = {"length": u.length, "size": u.size}.get(kind)
    ends = [_number(x, kind) if one is None else one(x, units) for x in (value.likely, value.low, value.high)]
    return ends[0] if ends[1] == ends[2] else f"{ends[0]} ({ends[1]} to {ends[2]})"


def _number(value: float, kind: str) -> str:
    if kind == "angle":
        return f"{math.degrees(value):.1f} deg"
    return f"{value:.0%}" if kind == "share" else f"{value:.2f}"


def step(value: float, kind: str, units: Units) -> str:
    """A change of a value, with its sign: "+1.5 in", "-12%"; "" where rounding leaves none."""
    size = abs(value)
    if kind in ("length", "size"):
        said = u.size(size, units) if kind == "size" else u.length(size, units)
    elif kind == "speed":
        said = u.speed(size, units)
    else:
        said = _number(size, kind) if kind != "moment" else u.moment_range(Range.exact(size), units)
    return f"{'+' if value >= 0.0 else '-'}{said}" if re.search("[1-9]", said) else ""


def gusts(value: Range, units: Units) -> str:
    """A range of gusts: "75 mph (60 to 92)", "over 224 mph" where it never failed in any gust looked at."""
    most = u.speed(HIGHEST, units)
    if value.low >= HIGHEST:
        return f"over {most}"
    if value.likely >= HIGHEST:
        return f"over {most} (from {u.speed(value.low, units)})"
    return u.speed_range(value, units) + (" or more" if value.high >= HIGHEST else "")
