"""A force, a mass or a length in both unit systems, for sentences that are kept as text."""

from __future__ import annotations

import math
import re

_NUMBER = r"\d[\d,.]*(?: and \d[\d,.]*)?"
_BOTH = re.compile(rf"({_NUMBER} (?:kN|m|cm|kg)) \(({_NUMBER} (?:lbf|lb|ft|in)(?: \d+ in)?)\)")


def both_units(force: float) -> str:
    """A force in kN and pounds-force, for sentences that stand in either unit system."""
    return f"{force / 1000.0:.1f} kN ({three_figures(force / 4.4482216152605)} lbf)"


def both_lengths(length: float) -> str:
    """A length in metres and feet and inches, for sentences that stand in either unit system."""
    return f"{in_metres(length)} ({in_feet(length)})"


def both_masses(mass: float) -> str:
    """A mass in kilograms and pounds, for sentences that stand in either unit system."""
    return f"{three_figures(mass)} kg ({three_figures(mass / 0.45359237)} lb)"


def in_one(text: str, units: str) -> str:
    """A sentence that gives amounts in both unit systems, in one of them: "at 0.61 m (2 ft)" is "at 2 ft"."""
    return _BOTH.sub(lambda found: found[2 if units == "us" else 1], text)


def in_metres(length: float) -> str:
    """A length in metres, under a foot in centimetres."""
    return f"{length:.2f} m" if round(length / 0.0254) >= 12 else f"{100.0 * length:.0f} cm"


def in_feet(length: float) -> str:
    """A length in feet and inches."""
    feet, rest = divmod(round(length / 0.0254), 12)
    if not feet:
        return f"{rest} in"
    return f"{feet} ft {rest} in" if rest else f"{feet} ft"


def in_inches(length: float, step: float = 0.1) -> str:
    """A small length in inches to a step of an inch."""
    return f"{round(length / 0.0254 / step) * step:.{max(0, round(-math.log10(step)))}f} in"


def in_us_density(low: float, likely: float, high: float) -> str:
    """A density [kg/m3] in pounds per cubic foot, with its range where it has one."""
    ends = [f"{value / 16.018463:.0f}" for value in (low, likely, high)]
    return f"{ends[1]} lb/ft3" + (f" ({ends[0]} to {ends[2]})" if ends[0] != ends[2] else "")


def three_figures(number: float) -> str:
    """Whole numbers to three figures, "8,590": more would promise what was never measured."""
    places = 2 - math.floor(math.log10(abs(number))) if abs(number) >= 1.0 else 0
    return f"{round(number, min(places, 0)):,.0f}"
