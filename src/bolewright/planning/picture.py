"""A length read off a photograph by a scale in it: two points of known distance, and two more in the same plane."""

from __future__ import annotations

import math

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range

Ends = tuple[float, float, float, float]  # x1, y1, x2, y2 in pixels of the upright picture
SHORTEST = 5.0  # the two points of a scale stand at least so many times farther apart than they may be off
HOLDS = (
    "Read off the picture: it holds only in the plane of the scale, seen squarely. What is nearer to the camera than "
    "the scale reads too long, what is farther away too short. The range counts how far a tap may be off and the "
    "spread of the length as typed, nothing else."
)


def apart(ends: Ends) -> float:
    """How far two points of a picture are from each other [pixels]."""
    return math.hypot(ends[2] - ends[0], ends[3] - ends[1])


def length_read(scale: Range, scale_ends: Ends, ends: Ends, off: float, scale_off: float | None = None) -> Range:
    """The length between two points of a picture [m], from a scale in the same plane.

    Similar triangles: in a plane parallel to the picture every length has the same number of pixels a metre. Each end
    may be off by `off` pixels along the line (`scale_off` for the ends of the scale), independently of the others, so
    the relative spreads of the two distances and of the scale's own length add as squares.

    Parameters: scale [m] between scale_ends; ends, off, scale_off [pixels].
    Raises BadInput when the points of the scale stand too near to each other for any answer.
    Source: pinhole projection, Hartley and Zisserman, Multiple View Geometry, 2nd ed., section 6.1 (from memory); the
    addition of independent spreads as squares: JCGM 100:2008, 5.1.2.
    Checked by: tests/unit/planning/test_picture.py.
    """
    known, found = apart(scale_ends), apart(ends)
    scale_off = off if scale_off is None else scale_off
    check_scale(known, scale_off)
    taps = (math.sqrt(2.0) * off, math.sqrt(2.0) * scale_off * found / known)
    likely = scale.likely * found / known
    low, high = (
        math.hypot(*(t * scale.likely / known for t in taps), likely * abs(end - scale.likely) / scale.likely)
        for end in (scale.low, scale.high)
    )
    return Range(max(0.0, likely - low), likely, likely + high)


def check_scale(known: float, off: float) -> None:
    """Raises BadInput when the two points of a scale [pixels apart] stand too near to each other."""
    if known < SHORTEST * off:
        raise BadInput(
            "The two points of the scale are too near to each other to measure by: take something longer, or make the "
            "picture larger and tap again.", "scale"
        )  # fmt: skip
