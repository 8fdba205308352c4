"""Masses and lengths inside sentences, in both systems of units, and sentences of core given their place in the job."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from bolewright.core.base.errors import BadInput

POUND, FOOT = 0.45359237, 0.3048


def mass_words(kilograms: float) -> str:
    """ "150 kg (330 lb)"."""
    return f"{kilograms:.0f} kg ({kilograms / POUND:.0f} lb)"


def length_words(metres: float) -> str:
    """ "0.46 m (1 ft 6 in)"."""
    feet, inches = divmod(round(metres / FOOT * 12.0), 12)
    both = f"{feet} ft {inches} in" if feet and inches else f"{feet} ft" if feet else f"{inches} in"
    return f"{metres:.2f} m ({both})"


@contextmanager
def at_path(path: str) -> Iterator[None]:
    """A fault of core found inside is said again with the place of the value in the job."""
    try:
        yield
    except BadInput as fault:
        raise BadInput(fault.sentence, fault.path or path) from fault
