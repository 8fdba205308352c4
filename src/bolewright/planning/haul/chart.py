"""The crane's load chart as typed in, read back in words before anything hangs on it."""

from __future__ import annotations

from bolewright.core.base.vectors import GRAVITY
from bolewright.core.lifting.crane import chart_of
from bolewright.planning.both import both_lengths, both_masses
from bolewright.planning.passage.words import at_path


def chart_words(text: str) -> str:
    """What a chart says at both its ends and how many radii it lists. Raises BadInput for one with holes."""
    with at_path("crane.chart"):
        chart = chart_of(text)
    near, far = (f"{both_masses(chart.capacity[n] / GRAVITY)} at {both_lengths(chart.radius[n])}" for n in (0, -1))
    return f"The chart lists {len(chart.radius)} radii, from about {near} to about {far}, less hook and slings."
