"""Compass directions: a point of the compass ("NE") or an angle clockwise from north ("75 deg")."""

from __future__ import annotations

import math
from typing import Annotated, Any

from bolewright.job.doors import Door, Reader, refuse
from bolewright.job.fields import Depth
from bolewright.job.quantity import Dimension, Quantity

POINTS = ("N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW")
_ANGLE = Door(Dimension.ANGLE, 0.0, math.radians(360.001), most_words="360 deg")
_HELP = 'Write a side as a point of the compass ("N", "SW", "ENE") or as "75 deg" from north.'


def read_compass(value: Any) -> Quantity:
    """The direction as an angle [rad] clockwise from north, a point of the compass likely to half a point each way."""
    if isinstance(value, Quantity):
        value = value.text
    if isinstance(value, str) and value.strip().upper() in POINTS:
        text = value.strip().upper()
        turn = math.radians(22.5 * POINTS.index(text))
        return Quantity(turn, turn, turn, text, Dimension.ANGLE)
    if isinstance(value, str) and not any(character.isdigit() for character in value):
        raise refuse(_HELP)
    return _ANGLE.read(value)


def _read_shells(value: Any) -> dict[str, Quantity]:
    """Depth of sound wood by side."""
    if not isinstance(value, dict) or not value:
        raise refuse('Write the sides with depths, such as { N = "5 in", E = "4 in" }.')
    door: Door = Depth.__metadata__[0]  # type: ignore[attr-defined]
    read: dict[str, Quantity] = {}
    sides: set[float] = set()
    for side, depth in value.items():
        turn = read_compass(side).likely
        if any(abs(math.remainder(turn - other, math.tau)) < 1e-6 for other in sides):
            raise refuse("Two depths are on the same side: keep one of them.")
        sides.add(turn)
        read[str(side)] = door.read(depth)
    return read


Compass = Annotated[Quantity, Reader(read_compass, {"type": "string", "maxLength": 80, "examples": ["NE", "75 deg"]})]
Shells = Annotated[
    dict[str, Quantity],
    Reader(
        _read_shells,
        {"type": "object", "minProperties": 1, "additionalProperties": {"type": "string"}},
        lambda shells: {side: depth.text for side, depth in shells.items()},
    ),
]
