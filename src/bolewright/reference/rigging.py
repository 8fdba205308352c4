"""Rigging tables: chokes, bends, design factors, knots, pulleys and friction, each with its source."""

from __future__ import annotations

import math
from functools import cache

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range
from bolewright.core.base.sourced import Sourced, Status
from bolewright.reference.tables import Row, table


@cache
def choke_steps() -> tuple[tuple[float, float], ...]:
    """(angle of choke above which it holds [rad], factor on the choker rating), for `choke_factor`."""
    return tuple((math.radians(float(row["above_deg"])), float(row["factor"])) for row in table("sling_chokes.csv"))


@cache
def bend_points() -> tuple[tuple[float, float], ...]:
    """(sheave over rope diameter, share of strength lost), for `bend_loss`."""
    return tuple((float(row["sheave_over_rope"]), float(row["strength_lost"])) for row in table("wire_rope_bends.csv"))


def rigging(kind: str, what: str) -> Sourced[Range]:
    """A factor of the rigging table as a range, with its source. Raises BadInput with the names known."""
    rows = [row for row in table("rigging.csv") if row["kind"] == kind]
    found = next((row for row in rows if row["what"] == what), None)
    if found is None:
        known = ", ".join(row["what"] for row in rows)
        raise BadInput(f'There is no {kind} for "{what}" in the table; it holds {known}.')
    return _ranged(found)


def careful(kind: str, what: str) -> Sourced[float]:
    """The factor on the careful side: the highest design factor, the lowest efficiency."""
    found = rigging(kind, what)
    value = found.value.high if kind == "design factor" else found.value.low
    return Sourced(value, found.source, found.status)


def _ranged(row: Row) -> Sourced[Range]:
    value = Range(float(row["low"]), float(row["likely"]), float(row["high"]))
    return Sourced(value, row["source"], Status(row["status"]))
