"""A force, a mass or a length in both unit systems, for sentences that are kept as text."""

from __future__ import annotations

import math


def both_units(force: float) -> str:
    """A force in kN and pounds-force, for sentences that stand in either unit system."""
    return f"{force / 1000.0:.1f} kN ({_three_figures(force / 4.4482216152605)} lbf)"


def both_lengths(length: float) -> str:
    """A length in metres and feet and inches, for sentences that stand in either unit system."""
    inches = round(length / 0.0254)
    feet, rest = divmod(inches, 12)
    if not feet:
        return f"{100.0 * length:.0f} cm ({rest} in)"
    return f"{length:.2f} m ({feet} ft {rest} in)" if rest else f"{length:.2f} m ({feet} ft)"


def both_masses(mass: float) -> str:
    """A mass in kilograms and pounds, for sentences that stand in either unit system."""
    return f"{_three_figures(mass)} kg ({_three_figures(mass / 0.45359237)} lb)"


def _three_figures(number: float) -> str:
    """Whole numbers to three figures, "8,590": more would promise what was never measured."""
    places = 2 - math.floor(math.log10(abs(number))) if abs(number) >= 1.0 else 0
    return f"{round(number, min(places, 0)):,.0f}"
