"""Whether two measurements of the same thing differ by more than both can be off."""

from __future__ import annotations

import math

from bolewright.core.base.range import Range

TWO_SIDED = 1.959964 / 1.644854  # a 5 to 95 % half range against the 95 % bound of a difference


def told_apart(before: Range, after: Range) -> bool:
    """Whether the likely values lie further apart than two independent errors explain in 19 cases of 20.

    Each range is 5 to 95 % of its measurement, same unit both [any]; the side that faces the other value counts.
    Errors common to both (the same tape, the same hand) cancel in truth and are not taken off, so it errs towards
    telling no change.

    Source: combined standard uncertainty of a difference, JCGM 100:2008 (GUM), Eq. 10; normal errors.
    Checked by: tests/unit/standing/test_change.py
    """
    rise = after.likely - before.likely
    if rise >= 0.0:
        ends = before.high - before.likely, after.likely - after.low
    else:
        ends = before.likely - before.low, after.high - after.likely
    return abs(rise) > TWO_SIDED * math.hypot(*ends) + 1e-12


def with_error(value: float, low: float, high: float, usual: float) -> Range:
    """A measured value [any unit] with its own spread where one was written, else with the usual error either way.

    Never below zero where the value is not.

    Plain: house rule.
    """
    if low < high:
        return Range(low, value, high)
    down = value - usual
    return Range(max(down, 0.0) if value >= 0.0 else down, value, value + usual)
