"""A force, a mass or a length in both unit systems, for sentences that are kept as text."""

from __future__ import annotations


def both_units(force: float) -> str:
    """A force in kN and pounds-force, for sentences that stand in either unit system."""
    return f"{force / 1000.0:.1f} kN ({force / 4.4482216152605:.0f} lbf)"


def both_lengths(length: float) -> str:
    """A length in metres and feet and inches, for sentences that stand in either unit system."""
    inches = round(length / 0.0254)
    feet, rest = divmod(inches, 12)
    return f"{length:.2f} m ({feet} ft {rest} in)" if feet else f"{100.0 * length:.0f} cm ({rest} in)"


def both_masses(mass: float) -> str:
    """A mass in kilograms and pounds, for sentences that stand in either unit system."""
    return f"{mass:.0f} kg ({mass / 0.45359237:.0f} lb)"
