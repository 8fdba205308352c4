"""How pressure from wheels and boards spreads in the soil below."""

from __future__ import annotations

import math

from bolewright.core.base.errors import BadInput


def under_point(load: float, depth: float, aside: float = 0.0) -> float:
    """Upright stress in the soil below a point load [N/m2].

    Picture: springy soil of one kind all the way down. Soft topsoil on firm ground takes more than this: errs low.
    Parameters: load [N], depth below it and distance aside [m]. Raises: BadInput.
    Source: Boussinesq, 3 P z^3 / (2 pi R^5); Bowles 5th ed. section 11-13.
    Checked by: tests/handbook/test_ground.py
    """
    _below(depth)
    return float(3.0 * load * depth**3 / (2.0 * math.pi * math.hypot(depth, aside) ** 5))


def under_circle(pressure: float, radius: float, depth: float) -> float:
    """Upright stress below the middle of an evenly loaded circle [N/m2].

    Parameters: pressure [N/m2], radius and depth [m]. Raises: BadInput.
    Source: Boussinesq over a circle, q (1 - (1 + (a/z)^2)^-1.5).
    Checked by: tests/handbook/test_ground.py
    """
    _below(depth)
    return float(pressure * (1.0 - (1.0 + (radius / depth) ** 2) ** -1.5))


def spread_two_to_one(load: float, width: float, length: float, depth: float) -> float:
    """Mean upright stress at a depth when the load spreads one sideways for two down [N/m2].

    Parameters: load [N]; width, length and depth [m]. Raises: BadInput.
    Source: common rule of soil mechanics, P / ((B + z)(L + z)).
    Checked by: tests/handbook/test_ground.py
    """
    if min(width, length) <= 0.0 or depth < 0.0:
        raise BadInput("A loaded area has a width and length above zero, and depth is not negative.")
    return load / ((width + depth) * (length + depth))


def _below(depth: float) -> None:
    if depth <= 0.0:
        raise BadInput("The stress is asked for below the surface: give a depth above zero.")
