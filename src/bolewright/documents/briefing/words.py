"""Results as the words a briefing prints: likely value apart from its range, so that each can have its own size."""

from __future__ import annotations

import math
from collections.abc import Sequence

from bolewright.core.base.range import Range
from bolewright.drawings import units as u
from bolewright.drawings.units import Units
from bolewright.planning.results import CutStep, Motion, Plan

Pair = tuple[str, str]  # likely value with its unit; "low to high", empty when rounding leaves no range
VERBS = {"cut": "Cut", "place": "Set", "remove": "Take away"}
FOOT_POUND_J = u.POUND_FORCE_N * u.FOOT_M
POUND_PER_CUBIC_FOOT = u.POUND_KG / u.FOOT_M**3


def force(value: Range, units: Units) -> Pair:
    """A force, ("1,240 lb", "980 to 1,560")."""
    return apart(u.force_range(value, units))


def mass(value: Range, units: Units) -> Pair:
    """A mass, ("240 lb", "190 to 300")."""
    return apart(u.mass_range(value, units))


def apart(text: str) -> Pair:
    """A number with its range as two texts."""
    likely, _, rest = text.partition(" (")
    return likely, rest.removesuffix(")")


def bound(newtons: float, touching: bool, units: Units) -> str:
    """The most a support can carry in any state of rest."""
    if not touching or math.isnan(newtons):
        return "–"
    return u.force(newtons, units)


def change(value: Range, units: Units) -> str:
    """A change of load in words: "1,200 lb more (900 to 1,500)"."""
    turned = value if value.likely >= 0 else value.scaled(-1.0)
    likely, rest = force(turned, units)
    if likely == u.force(0.0, units):
        return "no change"
    return f"{likely} {'more' if value.likely >= 0 else 'less'}" + (f" ({rest})" if rest else "")


def moved(motion: Motion, units: Units) -> str:
    """A movement in words with how far and what stops it."""
    if motion.kind == "held":
        return motion.words
    onto = f", until it rests on {motion.rests_on}" if motion.rests_on else ""
    if motion.distance_m is not None:
        return f"{motion.words}, about {u.length(motion.distance_m, units)}{onto}"
    return f"{motion.words}{onto or ', nothing found that stops it'}"


def kerf(value_mm: Range, units: Units) -> str:
    """How far the kerf closes, "closes 1/8 in (1/16 to 3/16)". One that opens "stays open": it is no sign to steer by,
    since what is squeezed still pinches before the last fibre goes; how far it may close is said where it may."""
    closing = value_mm.scaled(-1.0)
    likely, high = (u.small(v / 1000, units) for v in (closing.likely, closing.high))
    none = u.small(0.0, units)
    if closing.likely <= 0.0:
        most = u.small(max(closing.high, 0.0) / 1000, units)
        return "stays open" if most == none else f"stays open; it may close {most}"
    low = u.small(abs(closing.low) / 1000, units)
    if closing.low < 0 and low != none:
        return f"closes {likely} ({_bare(high)} at most; or opens, {low} at most)"
    return f"closes {likely}" if low == high else f"closes {likely} ({_bare(low)} to {_bare(high)})"


def _bare(text: str) -> str:
    """A length without its unit."""
    return text.rsplit(" ", 1)[0]


def energy(joules: Range, units: Units) -> str:
    """Stored energy let go, "13 ft-lb (10 to 17)"."""
    unit, size = ("ft-lb", FOOT_POUND_J) if units == "us" else ("J", 1.0)
    low, likely, high = (v / size for v in (joules.low, joules.likely, joules.high))
    step = 1.0 if likely >= 10 else 0.1
    number = [u.thousands(v, step) for v in (likely, low, high)]
    return f"{number[0]} {unit}" + (f" ({number[1]} to {number[2]})" if number[1] != number[2] else "")


def density(value: Range, units: Units) -> str:
    """Green density, "56 lb/ft³ (52 to 60)" or "900 kg/m³ (830 to 960)"."""
    unit, size, step = ("lb/ft³", POUND_PER_CUBIC_FOOT, 1.0) if units == "us" else ("kg/m³", 1.0, 10.0)
    low, likely, high = (u.thousands(v / size, step) for v in (value.low, value.likely, value.high))
    return f"{likely} {unit} ({low} to {high})"


def duration(minutes: float) -> str:
    """A time in hours and quarters: "1 h 45 min"."""
    whole, rest = divmod(max(1, round(minutes / 15)) * 15, 60)
    return " ".join(part for part in (f"{whole} h" if whole else "", f"{rest} min" if rest else "") if part)


def count(number: int, word: str) -> str:
    """A number with its noun: "1 cut", "3 cuts"."""
    return f"{number} {word}" if number == 1 else f"{number} {word}s"


def place_on(member: str, at: float, units: Units) -> str:
    """Where on the tree: "stem, 14 ft from the butt", "L3, 2 ft from its base", "L3, at its base"."""
    base = "the butt" if member == "stem" else "its base"
    far = u.length(at, units)
    return f"{member}, at {base}" if far == u.length(0.0, units) else f"{member}, {far} from {base}"


def what(step: CutStep) -> str:
    """A step in few words: "Cut L4 with L4a, L4b", "Set P1"."""
    others = listed([piece for piece in step.takes if piece != step.piece])
    return f"{VERBS.get(step.action, step.action)} {step.piece}" + (f" with {others}" if others else "")


def listed(names: Sequence[str], most: int = 4) -> str:
    """Names in a row, cut off after a few: "S7, S8, S9 and 6 more"."""
    if len(names) <= most:
        return ", ".join(names)
    return f"{', '.join(names[: most - 1])} and {len(names) - most + 1} more"


def method_line(plan: Plan) -> str:
    """The way of working in one line: "By hand: 9 cuts in 11 steps, about 4 h"."""
    cuts = sum(step.action == "cut" for step in plan.steps)
    title = plan.title[:1].upper() + plan.title[1:]
    return f"{title}: {count(cuts, 'cut')} in {count(len(plan.steps), 'step')}, about {duration(plan.minutes)}"
