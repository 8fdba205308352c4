"""Tables for moving loads by hand and on wheels: lifting multipliers, push filters, rolling resistance."""

from __future__ import annotations

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range
from bolewright.core.base.sourced import Sourced, Status
from bolewright.core.base.vectors import GRAVITY
from bolewright.reference.tables import table

DURATIONS = ("to 1 h", "1 to 2 h", "2 to 8 h")


def frequency_table(duration: str) -> tuple[tuple[float, float], ...]:
    """(lifts a minute, multiplier) for "to 1 h", "1 to 2 h" or "2 to 8 h". Raises BadInput."""
    rows = [row for row in table("lifting_frequency.csv") if row["duration"] == duration]
    if not rows:
        raise BadInput(f"A spell of lifting is one of {', '.join(DURATIONS)}.")
    return tuple((float(row["per_minute"]), float(row["multiplier"])) for row in rows)


def grip_multiplier(grip: str, height: float) -> Sourced[float]:
    """The multiplier for a good, fair or poor grip with the hands at a height [m]. Raises BadInput."""
    for row in table("lifting_grip.csv"):
        if row["grip"] == grip:
            value = row["below_knuckle"] if height < 0.75 else row["at_or_above"]
            return Sourced(float(value), row["source"], Status(row["status"]))
    raise BadInput("A grip is good, fair or poor.")


def push_filter(what: str = "start or stop, men") -> Sourced[float]:
    """A published limit for pushing or pulling [N]. Raises BadInput with the names known."""
    rows = table("push_filters.csv")
    for row in rows:
        if row["what"] == what:
            unit = GRAVITY if row["unit"] == "kgf" else 1.0
            return Sourced(float(row["force"]) * unit, row["source"], Status(row["status"]))
    raise BadInput(f"A push is one of {'; '.join(row['what'] for row in rows)}.")


def rolling_resistance(surface: str, wheel: str) -> Sourced[float]:
    """Rolling resistance of one wheel on one surface as published. Raises BadInput."""
    for row in table("rolling_resistance.csv"):
        if (row["surface"], row["wheel"]) == (surface, wheel):
            return Sourced(float(row["resistance"]), row["source"], Status(row["status"]))
    raise BadInput(f'There is no rolling resistance of "{wheel}" on "{surface}" in the table.')


def route_resistance(surface: str) -> Sourced[Range]:
    """Rolling resistance of small wheels on a route's surface. Raises BadInput with the surfaces known."""
    rows = table("route_surfaces.csv")
    for row in rows:
        if row["surface"] == surface:
            low, likely, high = (float(row[f"resistance_{end}"]) for end in ("low", "likely", "high"))
            return Sourced(Range(low, likely, high), row["source"], Status(row["status"]))
    raise BadInput(f"A route runs over {', '.join(row['surface'] for row in rows)}.")
