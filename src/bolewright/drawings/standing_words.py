"""Words that the drawings and the text of a standing tree share: gusts and compass directions."""

from __future__ import annotations

from bolewright.core.base.range import Range
from bolewright.drawings import units as u
from bolewright.drawings.units import Units

POINTS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")
HIGHEST = 100.0  # m/s, the last gust looked at: it stands for all beyond it


def compass(degrees: float) -> str:
    """A direction as a point of the compass and in degrees: "SE (128 deg)"."""
    return f"{POINTS[round(degrees / 45.0) % 8]} ({degrees:.0f} deg)"


def gusts(value: Range, units: Units) -> str:
    """A range of gusts: "75 mph (60 to 92)", "over 224 mph" where it never failed in any gust looked at."""
    most = u.speed(HIGHEST, units)
    if value.low >= HIGHEST:
        return f"over {most}"
    if value.likely >= HIGHEST:
        return f"over {most} (from {u.speed(value.low, units)})"
    return u.speed_range(value, units) + (" or more" if value.high >= HIGHEST else "")
