"""Field types of the job models: what kind of value a field takes and how far it may go."""

from __future__ import annotations

import datetime
import math
import re
from typing import Annotated, Any, Literal

from pydantic import Field

from bolewright.job.doors import Door, OrWord, Reader, refuse
from bolewright.job.quantity import Dimension, Quantity, quantity

LONGEST_TRUNK = 100.0  # m; the tallest trees known are near 116 m, and none of that lies on a building
THICKEST_STEM = 6.0  # m

_D = Dimension
_TRUNK_WORDS = "100 m (328 ft)"
_STEM_WORDS = "6 m (19 ft 8 in)"
_SITE_WORDS = "500 m (1640 ft)"

Length = Annotated[Quantity, Door(_D.LENGTH, 0.0, LONGEST_TRUNK, most_words=_TRUNK_WORDS, above=True)]
Distance = Annotated[Quantity, Door(_D.LENGTH, 0.0, LONGEST_TRUNK, most_words=_TRUNK_WORDS)]
Stretch = Annotated[Quantity, Door(_D.LENGTH, 0.0, 2000.0, most_words="2 km (6560 ft)", above=True)]
Diameter = Annotated[Quantity, Door(_D.LENGTH, 0.0, THICKEST_STEM, most_words=_STEM_WORDS, above=True)]
Depth = Annotated[Quantity, Door(_D.LENGTH, 0.0, THICKEST_STEM, most_words=_STEM_WORDS)]
PlateSize = Annotated[Quantity, Door(_D.LENGTH, 0.0, 20.0, most_words="20 m (66 ft)", above=True)]
Coordinate = Annotated[
    Quantity, Door(_D.LENGTH, -500.0, 500.0, least_words="-500 m (-1640 ft)", most_words=_SITE_WORDS)
]
Mass = Annotated[Quantity, Door(_D.MASS, 0.0, 1e6, most_words="1000 tonnes", above=True)]
Force = Annotated[Quantity, Door(_D.FORCE, 0.0, 1e8, most_words="100 MN (22 million lbf)", above=True)]
Pressure = Annotated[Quantity, Door(_D.PRESSURE, 0.0, 1e9, most_words="1000 MPa", above=True)]
Density = Annotated[
    Quantity,
    Door(
        _D.DENSITY, 150.0, 1300.0,
        least_words="150 kg/m^3 (9 lb/ft^3), lighter than any wood",
        most_words="1300 kg/m^3 (81 lb/ft^3), heavier than any green wood",
    ),
]  # fmt: skip
Share = Annotated[Quantity, Door(_D.SHARE, 0.0, 1.0, most_words="the whole (1, or 100 %)")]
Friction = Annotated[Quantity, Door(_D.NUMBER, 0.0, 2.0, most_words="2, more friction than any surface gives")]
Volume = Annotated[Quantity, Door(_D.VOLUME, 0.0, 1000.0, most_words="1000 m^3 (1300 cubic yards)", above=True)]
Duration = Annotated[Quantity, Door(_D.TIME, 0.0, 86400.0 * 30, most_words="30 days")]
Speed = Annotated[Quantity, Door(_D.SPEED, 0.0, 100.0, most_words="100 m/s (220 mph)", above=True)]
_DEG = math.radians(1.0)
LimbAngle = Annotated[Quantity, Door(_D.ANGLE, 0.0, 179.0 * _DEG, most_words="179 deg, straight back along its parent")]
Bearing = Annotated[Quantity, Door(_D.ANGLE, 0.0, 360.001 * _DEG, most_words="360 deg")]
Slope = Annotated[Quantity, Door(_D.ANGLE, -60.001 * _DEG, 60.001 * _DEG, least_words="-60 deg", most_words="60 deg")]
StiffnessOrRigid = Annotated[
    Quantity | Literal["rigid"],
    OrWord(Door(_D.STIFFNESS, 0.0, 1e12, most_words='1000000 kN/mm (write "rigid")', above=True), ("rigid",)),
]

_ID = re.compile(r"[^\W_][\w \-]{0,39}")
_UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff]")
_ID_SHAPE = "letters, digits, spaces, - and _, at most 40 of them, a letter or digit first"


def _read_id(value: Any) -> str:
    if isinstance(value, int | float) and not isinstance(value, bool):
        raise refuse("An id is text: write it in quotes.")
    if not isinstance(value, str) or not _ID.fullmatch(value) or value != value.strip():
        raise refuse(f"An id is a short name: {_ID_SHAPE}.")
    return value


def _read_text(value: Any, longest: int) -> str:
    if not isinstance(value, str):
        raise refuse("This is text: write it in quotes.")
    if _UNPRINTABLE.search(value):
        raise refuse("This text has characters in it that cannot be printed: type it again.")
    if len(value) > longest:
        raise refuse(f"This text has {len(value)} characters: at most {longest} fit here.")
    return value


def _read_clock(value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 <= value <= 12.99:
        raise refuse("A clock position is a number from 0 to 12 without quotes, looking butt to tip: 12 up, 3 right.")
    return float(value)


def _read_wraps(value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 <= value <= 10:
        raise refuse("Turns on a post are a number from 0 to 10 without quotes, such as 1.5.")
    return float(value)


def _read_date(value: Any) -> datetime.date:
    if isinstance(value, datetime.date) and not isinstance(value, datetime.datetime):
        return value
    try:
        return datetime.date.fromisoformat(value)
    except (TypeError, ValueError):
        raise refuse('A date is written year-month-day, such as "2026-03-28".') from None


def _read_yes(value: Any) -> bool:
    if not isinstance(value, bool):
        raise refuse("Write true or false, without quotes.")
    return value


def _whole(least: int, most: int) -> Reader:
    def read(value: Any) -> int:
        if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= most:
            raise refuse(f"Write a whole number from {least} to {most}, without quotes.")
        return value

    return Reader(read, {"type": "integer", "minimum": least, "maximum": most}, int)


Id = Annotated[str, Reader(_read_id, {"type": "string", "minLength": 1, "maxLength": 40})]
Text = Annotated[str, Reader(lambda value: _read_text(value, 300), {"type": "string", "maxLength": 300})]
Notes = Annotated[str, Reader(lambda value: _read_text(value, 10_000), {"type": "string", "maxLength": 10_000})]
Clock = Annotated[float, Reader(_read_clock, {"type": "number", "minimum": 0, "maximum": 12.99}, float)]
Date = Annotated[datetime.date, Reader(_read_date, {"type": "string", "format": "date"})]
Yes = Annotated[bool, Reader(_read_yes, {"type": "boolean"}, bool)]
Count = Annotated[int, _whole(1, 1000)]
Wraps = Annotated[float, Reader(_read_wraps, {"type": "number", "minimum": 0, "maximum": 10}, float)]
Wheels = Annotated[int, _whole(1, 12)]
Steps = Annotated[int, _whole(0, 500)]
Layers = Annotated[int, _whole(1, 4)]
Samples = Annotated[int, _whole(16, 100_000)]
Seed = Annotated[int, _whole(0, 2**31 - 1)]


def filled(text: str, dimension: Dimension, description: str) -> Any:
    """A field with a filled-in value, written as text with its unit; it is read only when a job is."""
    return Field(
        default_factory=lambda: quantity(text, dimension), description=description, json_schema_extra={"default": text}
    )
