"""How far soil gives under pressure: modulus of subgrade reaction from bearing ratio, and by size of contact."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from bolewright.core.base.errors import BadInput

PCI = 4.4482216152605 / 0.0254**3  # N/m3 in one lb/in3
PLATE = 0.3  # m, the plate Terzaghi's values belong to


def subgrade_faa(bearing_ratio: float) -> float:
    """Modulus of subgrade reaction from the California bearing ratio in per cent [N/m3]: (1500 CBR / 26)^0.7788 pci.

    Parameters: bearing_ratio [%]. Raises: BadInput.
    Source: FAA AC 150/5320-6E (2009). Checked on soil for pavements, not on lawns.
    Checked by: tests/handbook/test_ground.py
    """
    return float(_positive(1500.0 * bearing_ratio / 26.0) ** 0.7788 * PCI)


def subgrade_pca(bearing_ratio: float) -> float:
    """The same by the other published relation [N/m3]: 53.438 CBR^0.5719 pci; up to half as much again.

    Parameters: bearing_ratio [%]. Raises: BadInput.
    Source: Packard; Barker and Alexander (2012).
    Checked by: tests/handbook/test_ground.py
    """
    return float(53.438 * _positive(bearing_ratio) ** 0.5719 * PCI)


def between_points(value: float, points: Sequence[tuple[float, float]]) -> float:
    """A value read from a table of pairs on straight lines (n, 2); refused outside the table.

    Parameters: value and points in any one unit, SI for table doors. Raises: BadInput.
    Source: house rule, linear interpolation.
    Checked by: tests/handbook/test_ground.py
    """
    ordered = sorted(points)
    if not ordered[0][0] <= value <= ordered[-1][0]:
        raise BadInput(f"The table runs from {ordered[0][0]:g} to {ordered[-1][0]:g}: {value:g} is outside it.")
    for (low, first), (high, second) in pairwise(ordered):
        if value <= high:
            return first + (second - first) * (value - low) / (high - low)
    return ordered[-1][1]


def subgrade_for_size(plate_value: float, width: float, sandy: bool) -> float:
    """Modulus of subgrade reaction under a contact `width` wide [N/m3], from the value of a 0.3 m plate.

    Picture: a wider contact stirs the soil deeper and gives more at the same pressure.
    Parameters: plate_value [N/m3], width [m]. Raises: BadInput.
    Source: Terzaghi (1955), recalled: clay k 0.3/B, sand k ((B + 0.3) / 2B)^2 (from memory).
    Checked by: tests/handbook/test_ground.py
    """
    _positive(width)
    return plate_value * (((width + PLATE) / (2.0 * width)) ** 2 if sandy else PLATE / width)


def _positive(value: float) -> float:
    if value <= 0.0:
        raise BadInput("Bearing ratio and width are more than zero.")
    return value
