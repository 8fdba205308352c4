"""What presses on the ground: wheels, tyres and tracks by themselves."""

from __future__ import annotations

import math

from bolewright.core.base.errors import BadInput


def nominal_pressure(load: float, radius: float, width: float) -> float:
    """Nominal ground pressure of a wheel [N/m2]: load / (radius x width).

    Picture: a wheel sunk in until its contact is about as long as its radius. On hard ground the contact is shorter
    and the pressure far higher: errs low there.
    Parameters: load [N], wheel radius and width [m]. Raises: BadInput.
    Source: nominal ground pressure W / (r b), Saarilahti (2002).
    Checked by: tests/handbook/test_ground.py
    """
    if min(load, radius, width) <= 0.0:
        raise BadInput("A wheel has a load, radius and width above zero.")
    return load / (radius * width)


def mean_pressure(load: float, area: float) -> float:
    """Mean pressure on a contact [N/m2].

    Parameters: load [N], area [m2]. Raises: BadInput.
    Source: definition.
    Checked by: tests/handbook/test_ground.py
    """
    if area <= 0.0 or load < 0.0:
        raise BadInput("A contact has an area above zero and a load not below.")
    return load / area


def track_pressure(load: float, width: float, length: float, peaks: float = 1.0) -> float:
    """Mean pressure under a pair of tracks [N/m2], times a factor for the peaks under the rollers.

    Picture: the load shared evenly by both tracks. A load out in front can double it at the toe: pass peaks 2.
    Parameters: load [N] on both tracks, width and length of one [m], peaks [-]. Raises: BadInput.
    Source: definition.
    Checked by: tests/handbook/test_ground.py
    """
    if min(width, length) <= 0.0 or peaks < 1.0:
        raise BadInput("Tracks have a width and length above zero, and peaks are not below the mean.")
    return mean_pressure(load, 2.0 * width * length) * peaks


def contact_radius(load: float, pressure: float) -> float:
    """Radius of a circle that carries a wheel load at a tyre's pressure [m].

    Picture: a soft tyre presses about as hard as it is blown up. A stiff carcass or a solid wheel presses harder.
    Parameters: load [N], pressure [N/m2]. Raises: BadInput.
    Source: common rule, contact pressure = tyre pressure.
    Checked by: tests/handbook/test_ground.py
    """
    if load < 0.0 or pressure <= 0.0:
        raise BadInput("A tyre has a pressure above zero and a load not below.")
    return math.sqrt(load / (math.pi * pressure))
