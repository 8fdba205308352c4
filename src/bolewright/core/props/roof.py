"""What ordinary roofs are designed for, to set beside a tree's load. A comparison, never a leave to load a roof."""

from __future__ import annotations

from bolewright.core.base.errors import BadInput

PSF = 4.4482216152605 / 0.3048**2
SQUARE_FOOT = 0.3048**2
FULL, LEAST = 20.0 * PSF, 12.0 * PSF


def roof_live_load(area: float, rise_in_twelve: float) -> float:
    """Live load an ordinary roof member is designed for [N/m2] of plan, reduced for the area it serves and its pitch.

    Picture: workers and tools spread over the roof. A fork on one rafter is nothing like it.
    Parameters: tributary area [m2], rise in twelve [-]. Raises: BadInput.
    Source: ASCE 7 section 4.8 and IBC 1607.13.2, recalled: 20 R1 R2 psf, between 12 and 20 (from memory).
    Checked by: tests/handbook/test_roof.py
    """
    if area < 0.0 or rise_in_twelve < 0.0:
        raise BadInput("A roof has an area and a pitch not below zero.")
    feet = area / SQUARE_FOOT
    by_area = min(max(1.2 - 0.001 * feet, 0.6), 1.0)
    by_pitch = min(max(1.2 - 0.05 * rise_in_twelve, 0.6), 1.0)
    return min(max(FULL * by_area * by_pitch, LEAST), FULL)
