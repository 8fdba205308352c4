"""Crane picks against the load chart the user typed in: gaps refused, nothing read between the lines."""

from __future__ import annotations

import csv
import math
from dataclasses import dataclass
from itertools import pairwise

from bolewright.core.base.errors import BadInput

POUND, TONNE, FOOT = 4.4482216152605, 9806.65, 0.3048
_RADIUS = {"radius_ft": FOOT, "radius_m": 1.0}
_CAPACITY = {"capacity_lb": POUND, "capacity_kg": 9.80665, "capacity_t": TONNE}
WIDEST_STEP = 2.5  # a step this many times the one before it looks like lines left out
MOST_ROWS = 500


@dataclass(frozen=True)
class LoadChart:
    """Radius [m] and gross capacity there [N], rising radius; one boom length and one set-up."""

    radius: tuple[float, ...]
    capacity: tuple[float, ...]


@dataclass(frozen=True)
class Pick:
    """A piece on the hook against the chart: forces [N], what is left as a share of the net capacity."""

    gross: float
    net: float
    load: float
    chart_radius: float  # the line of the chart that was used
    margin: float  # 1 - load / net
    inside: bool
    words: str


def chart_of(text: str) -> LoadChart:
    """The load chart in a CSV text with the columns radius_ft (or radius_m) and capacity_lb (or _kg, _t), in SI [N].

    Nothing is mended: an empty cell, a repeated or falling radius, a capacity that grows with the radius, or a gap
    that looks like lines left out is refused with the line it stands in.
    Raises: BadInput.
    Source: house rule (a chart is used as printed or not at all).
    Checked by: tests/unit/lifting/test_crane.py
    """
    lines = [line for line in text.strip().splitlines() if line.strip() and not line.lstrip().startswith("#")]
    if len(lines) < 3 or len(lines) > MOST_ROWS:
        raise BadInput(f"A load chart has a heading and 2 to {MOST_ROWS} lines of radius and capacity.")
    rows = list(csv.reader(lines))
    heads = [name.strip().lower() for name in rows[0]]
    radius = _column(heads, _RADIUS, "radius_ft or radius_m")
    capacity = _column(heads, _CAPACITY, "capacity_lb, capacity_kg or capacity_t")
    pairs = []
    for n, row in enumerate(rows[1:], start=2):
        values = [_cell(row, column, heads[column], n) for column in (radius, capacity)]
        pairs.append((values[0] * _RADIUS[heads[radius]], values[1] * _CAPACITY[heads[capacity]]))
    _check(pairs, _RADIUS[heads[radius]])
    return LoadChart(tuple(r for r, _ in pairs), tuple(c for _, c in pairs))


def _column(heads: list[str], known: dict[str, float], words: str) -> int:
    found = [n for n, name in enumerate(heads) if name in known]
    if len(found) != 1:
        raise BadInput(f"The heading of a load chart needs one column called {words}.")
    return found[0]


def _cell(row: list[str], column: int, name: str, line: int) -> float:
    text = row[column].strip() if column < len(row) else ""
    if not text:
        raise BadInput(f"Line {line} of the load chart has no {name}: a chart with holes is not used; fill it in.")
    try:
        value = float(text.replace("_", "x"))
    except ValueError:
        value = math.nan
    if not 0.0 < value < 1e7:
        raise BadInput(f'Line {line} of the load chart: "{text[:20]}" is not a number above zero for {name}.')
    return value


def _check(pairs: list[tuple[float, float]], unit: float) -> None:
    steps: list[float] = []
    for line, ((near, more), (far, less)) in enumerate(pairwise(pairs), start=3):
        if far <= near:
            raise BadInput(f"Line {line} of the load chart: the radius must grow from line to line.")
        if less > more:
            raise BadInput(f"Line {line} of the load chart: a larger radius cannot carry more than a smaller one.")
        if steps and far - near > WIDEST_STEP * max(steps):
            raise BadInput(
                f"The load chart has a hole between radius {near / unit:g} and {far / unit:g}: type the lines between."
            )
        steps.append(far - near)


def gross_capacity(chart: LoadChart, radius: float) -> tuple[float, float]:
    """Gross capacity at a radius [N] and the chart radius used [m]: that of the next larger radius listed.

    Nothing is read between the lines; that errs to the careful side. Below the first radius the first line stands.
    Parameters: radius [m], measured with the load on. Raises: BadInput beyond the chart.
    Source: crane practice: between two radii the larger one counts (common practice).
    Checked by: tests/unit/lifting/test_crane.py
    """
    if not 0.0 <= radius <= chart.radius[-1] + 1e-9:
        raise BadInput(
            f"The chart ends at a radius of {chart.radius[-1]:.1f} m ({chart.radius[-1] / FOOT:.0f} ft): "
            f"nothing is known at {radius:.1f} m ({radius / FOOT:.0f} ft)."
        )
    at = next(n for n, listed in enumerate(chart.radius) if radius <= listed + 1e-9)
    return chart.capacity[at], chart.radius[at]


def net_capacity(gross: float, *taken: float) -> float:
    """What is left for the piece [N]: the chart's value less block, ball, slings, shackles and stowed attachments.

    Parameters: gross and each deduction [N], not negative. Raises: BadInput when nothing is left.
    Source: WAC 296-24-24005(1)(b)(v): hoist blocks, hooks and slings are part of the load.
    Checked by: tests/handbook/test_slings.py
    """
    if any(weight < 0.0 for weight in taken):
        raise BadInput("What hangs on the hook besides the piece cannot weigh less than nothing.")
    net = gross - sum(taken)
    if net <= 0.0:
        raise BadInput("Rigging and attachments take up all the chart allows at this radius: nothing is left to lift.")
    return net


def pick(chart: LoadChart, radius: float, load: float, taken: tuple[float, ...], margin: float) -> Pick:
    """A pick against the chart [N], inside when the margin asked for is left.

    Parameters: radius [m]; load [N], the piece at its heaviest; taken [N], what else hangs there; margin [-] to keep.
    Raises: BadInput.
    Source: as `gross_capacity` and `net_capacity`.
    Checked by: tests/unit/lifting/test_crane.py
    """
    if load < 0.0 or not 0.0 <= margin < 1.0:
        raise BadInput("A pick needs a load that is not negative and a margin from 0 to below 100 %.")
    gross, at = gross_capacity(chart, radius)
    net = net_capacity(gross, *taken)
    left = 1.0 - load / net
    inside = left >= margin
    words = f"{'inside' if inside else 'outside'} the chart with the margin set ({left:.0%} left, {margin:.0%} asked)"
    return Pick(gross, net, load, at, left, inside, words)


def reliable_weight_needed(load: float, rated_at_longest: float, trigger: float = 0.75) -> bool:
    """Whether a weight found by hoisting must be verified before going on: above 75 % of the rating [N].

    Parameters: load and rating at the longest radius to be used [N]; trigger [-].
    Source: 29 CFR 1926.1417(o)(3), recalled, not looked up (from memory).
    Checked by: tests/handbook/test_slings.py
    """
    return load > trigger * rated_at_longest
