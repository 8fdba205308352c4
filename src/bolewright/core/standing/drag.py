"""Drag of a crown that folds up in the wind, and of a bare stem that does not."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.base.errors import BadInput
from bolewright.core.standing.wind import AIR_DENSITY

Floats = NDArray[np.float64]
CAP = 20.0  # m/s: highest speed of the tunnel tests; above it the drag number is held
CALM = 4.0  # m/s: lowest speed of the tests; below it the crown stands as in still air
STEM_DRAG = 1.0  # of a rough round stem across its flow (from memory: 0.7 to 1.2)


def streamlining(speed: ArrayLike) -> Floats:
    """Drag number over its value at 20 m/s [-] for the still-air area, at speeds [m/s].

    Between 4 and 20 m/s measured drag rose with the speed, not its square (the crown folds up), so the number falls
    as 1/U. Above 20 m/s nothing was measured: the number is held there and drag rises with the square, which errs
    high if the crown goes on folding.

    Source: Rudnicki, Mitchell and Novak 2004, Can. J. For. Res. 34(3); Vollsinger et al. 2005, Can. J. For. Res. 35(5).
    Checked by: tests/handbook/test_drag.py
    """
    return np.asarray(CAP / np.clip(np.asarray(speed, float), CALM, CAP))


def crown_drag(speed: ArrayLike, area: ArrayLike, drag_number: ArrayLike) -> Floats:
    """Drag [N] of a crown with still-air frontal area [m2] in steady wind [m/s].

    `drag_number` [-] is that at 20 m/s on the still-air area. Tests were of crowns of a few metres: a large crown is
    stiffer and may take more.

    Source: F = rho Cd A U2/2, with `streamlining`.
    Checked by: tests/handbook/test_drag.py
    """
    u = np.asarray(speed, float)
    number = np.asarray(drag_number, float) * streamlining(u)
    return np.asarray(0.5 * AIR_DENSITY * number * np.asarray(area, float) * u**2)


def area_left(speed: ArrayLike, at_cap: float) -> Floats:
    """Share of its still-air frontal area that a crown shows at speeds [m/s], from the share at 20 m/s [-].

    Only the end at 20 m/s is published; in between a power of the speed from 4 m/s on. Shown, not used for the drag.

    Raises BadInput for a share outside (0, 1].

    Source: end points of Rudnicki et al. 2004 and Vollsinger et al. 2005; the curve between is a house rule.
    Checked by: tests/handbook/test_drag.py
    """
    if not 0.0 < at_cap <= 1.0:
        raise BadInput(f"The share of area left has to lie above 0 and at most 1, not {at_cap:g}.", "drag")
    power = np.log(at_cap) / np.log(CAP / CALM)
    return np.asarray((np.clip(np.asarray(speed, float), CALM, CAP) / CALM) ** power)


def stem_drag(speed: ArrayLike, diameter: ArrayLike, length: ArrayLike) -> Floats:
    """Drag [N] of bare stem of this diameter and length [m] square to steady wind [m/s].

    Source: F = rho Cd d l U2/2, Cd 1.0 from memory (rough cylinders 0.7 to 1.2).
    Checked by: tests/handbook/test_drag.py
    """
    shown = np.asarray(diameter, float) * np.asarray(length, float)
    return np.asarray(0.5 * AIR_DENSITY * STEM_DRAG * shown * np.asarray(speed, float) ** 2)
