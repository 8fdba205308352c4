"""Decay of a standing tree, written down or drilled, as stretches of the part that came down."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from bolewright.core.tree.spec import STEM
from bolewright.job.model import Job
from bolewright.job.quantity import Quantity
from bolewright.planning.standing.defaults import TEST_REACH
from bolewright.planning.standing.tests import Measured


def decay_written(job: Job, names: set[str], cut: float, turn: float) -> Iterator[dict[str, Any]]:
    """Stretches written down of these members, those of the stem from the cut on."""
    for decay in (d for d in job.tree.decay if d.member in names):
        row = decay.model_dump(by_alias=True, exclude_unset=True, exclude_none=True)
        if decay.member == STEM:
            if decay.to.likely <= cut + 0.05:
                continue
            if cut > 0.0:
                row |= {"from": length_text(max(decay.from_.likely - cut, 0.0), decay.from_)}
                row |= {"to": length_text(decay.to.likely - cut, decay.to)}
            if decay.readings:
                row["readings"] = _turned({float(c): d.text for c, d in decay.readings.items()}, turn)
        yield row


def decay_tested(sections: tuple[Measured, ...], job: Job, cut: float, turn: float) -> Iterator[dict[str, Any]]:
    """Every tested section as a stretch of decay a metre either way, halfway to the next test at most."""
    written = [(d.from_.likely, d.to.likely) for d in job.tree.decay if d.member == STEM]
    ordered = sorted(sections, key=lambda m: m.at)
    for n, m in enumerate(ordered):
        if any(start <= m.at <= end for start, end in written):
            continue
        low = m.at - TEST_REACH if n == 0 else max(m.at - TEST_REACH, (ordered[n - 1].at + m.at) / 2.0)
        high = m.at + TEST_REACH if n == len(ordered) - 1 else min(m.at + TEST_REACH, (ordered[n + 1].at + m.at) / 2.0)
        low = max(low, cut, *(end for start, end in written if end <= m.at), 0.0)
        high = min([high, *(start for start, end in written if start >= m.at)])
        if high <= cut + 0.05 or all(depth >= 0.98 * m.diameter / 2.0 for _, depth in m.readings):
            continue
        shells = _turned({clock: f"{100.0 * depth:.1f} cm" for clock, depth in m.readings}, turn)
        yield {"from": f"{low - cut:.2f} m", "to": f"{high - cut:.2f} m", "readings": shells}


def _turned(shells: dict[float, str], turn: float) -> dict[str, str]:
    """Depths by clock position, turned on, to a tenth of an hour."""
    moved = {f"{(clock + turn) % 12.0 or 12.0:.1f}".removesuffix(".0"): depth for clock, depth in shells.items()}
    return {"12" if clock == "0" else clock: depth for clock, depth in moved.items()}


def length_text(value: float, like: Quantity) -> str:
    """A length written in the units another was written in."""
    metric = "m" in like.text.replace("in", "").replace("inch", "")
    if metric:
        return f"{value:.2f} m"
    feet, inches = divmod(round(value / 0.0254, 1), 12.0)
    return f"{feet:.0f} ft {inches:.1f} in" if feet else f"{inches:.1f} in"
