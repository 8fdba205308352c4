"""The rescue services' post table, kept as a ceiling: anything rated above it is flagged, never silently passed."""

from __future__ import annotations

import math
from itertools import pairwise

from bolewright.core.props.timber import INCH, PSI

_FOOT, _POUND = 12.0 * INCH, 4.4482216152605
SOURCE = "FEMA / USACE urban search and rescue post table, Douglas-fir or southern pine (from memory)"
_TABLE: dict[float, tuple[tuple[float, float], ...]] = {  # dressed side [in]: (height [ft], load [lb])
    3.5: ((8.0, 8000.0), (10.0, 5000.0), (12.0, 3500.0)),
    5.5: ((12.0, 20000.0), (16.0, 12000.0), (20.0, 7500.0)),
}


def table_load(width: float, depth: float, height: float) -> float | None:
    """Load of the rescue post table for one square post [N]; None for a size that is not in it.

    Between the heights printed the load goes with a power of the height; a shorter post is held to the first
    value, a longer one goes down with the square of the height. From memory: a flag, not a limit.

    Parameters: dressed sides and height [m].
    Source: US&R Structures Specialist Field Operations Guide, post table (from memory).
    Checked by: tests/handbook/test_columns.py (sanity range against 0.30 E A / (l/d)^2)
    """
    side = round(width / INCH, 2)
    if abs(width - depth) > 1e-6 or side not in _TABLE:
        return None
    rows = _TABLE[side]
    feet = height / _FOOT
    if feet <= rows[0][0]:
        return rows[0][1] * _POUND
    if feet >= rows[-1][0]:
        return rows[-1][1] * (rows[-1][0] / feet) ** 2 * _POUND
    for (low, high_load), (high, low_load) in pairwise(rows):
        if feet <= high:
            power = math.log(low_load / high_load) / math.log(high / low)
            return float(high_load * (feet / low) ** power * _POUND)
    return None


def old_rule_load(width: float, depth: float, height: float, modulus: float = 1.6e6 * PSI) -> float:
    """Load of the long-column rule used before 1991 [N]: 0.30 E A / (l/d)^2. A look beside the table.

    Source: NDS editions before 1991 (from memory).
    Checked by: tests/handbook/test_columns.py
    """
    return 0.30 * modulus * width * depth / (height / min(width, depth)) ** 2
