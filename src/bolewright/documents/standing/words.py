"""Numbers and facts of a standing tree as the words its papers print."""

from __future__ import annotations

import re
from datetime import date as day
from typing import Any

from bolewright.core.base.range import Range
from bolewright.drawings import units as u
from bolewright.drawings.standing_words import compass, gusts
from bolewright.drawings.units import Units
from bolewright.job.model import Job
from bolewright.job.quantity import Quantity
from bolewright.planning.standing.results import StandResult
from bolewright.reference.names import find_species

METRIC = re.compile(r"[0-9.]\s*(mm|cm|m)\b")
FOOTED = re.compile(r"[0-9.]\s*(ft|in|feet|foot|inch|inches)\b|['\"]")
REACHED = ("under the crown", "in the sector", "in the circle")
POINTS = {
    "N": "north", "NE": "north-east", "E": "east", "SE": "south-east", "S": "south", "SW": "south-west", "W": "west",
    "NW": "north-west",
}  # fmt: skip


def gust(value: Range, units: Units) -> str:
    """A range of gusts, "111 mph (66 to 186)"."""
    return gusts(value, units)


def speed(value: float, units: Units) -> str:
    """One gust."""
    return u.speed(value, units)


def factor(value: Range) -> str:
    """A margin, "1.9 (1.0 to 3.4)"."""
    low, likely, high = (f"{v:.1f}" for v in (value.low, value.likely, value.high))
    return likely if low == high else f"{likely} ({low} to {high})"


def share(value: Range) -> str:
    """A share, "9 % (2 to 18)"."""
    low, likely, high = (f"{v * 100:.0f}" for v in (value.low, value.likely, value.high))
    return f"{likely} %" if low == high else f"{likely} % ({low} to {high})"


def percent(value: float) -> str:
    """A share without a range, "33 %"."""
    return f"{value * 100:.0f} %"


def point(degrees: float) -> str:
    """The nearest point of the compass in full, "south-east"."""
    return POINTS[compass(degrees).split(" ")[0]]


def as_measured(value: Quantity | None, units: Units) -> str:
    """A measured length as it was written; in the other system's units first where the paper is printed in those."""
    if value is None:
        return ""
    text = str(value)
    other = METRIC if units == "us" else FOOTED
    return f"{u.length(value.likely, units)} (measured: {text})" if other.search(text) else text


def written(date: day | None) -> str:
    """A day in words, "" when it is not known."""
    return f"{date.day} {date:%B} {date.year}" if date is not None else ""


def day_parts(date: day | None) -> dict[str, Any]:
    """The day in words and as numbers, as the look's sheet takes it."""
    return {"words": written(date), "parts": None if date is None else [date.year, date.month, date.day]}


def day_in(text: str) -> str:
    """A day written 2027-05-20, in words; anything else as it is."""
    try:
        return written(day.fromisoformat(text))
    except ValueError:
        return text


def species_of(job: Job) -> str:
    """The kind of tree, common and scientific."""
    row = find_species(job.tree.species)
    return f"{row.common_name} ({row.scientific_name})" if row.scientific_name else row.common_name


def inspected_on(job: Job) -> day | None:
    """Day of the inspection, else the job's."""
    found = job.inspection.date if job.inspection is not None else None
    return found or job.job.date


def tree_facts(job: Job, result: StandResult, units: Units) -> list[list[str]]:
    """Which tree it is: kind, size and place, what was entered and nothing else."""
    standing = job.standing
    rows = [
        ("Species", species_of(job)),
        ("Diameter at breast height", as_measured(job.tree.dbh, units)),
        ("Height", as_measured(standing.height, units) if standing else u.length(result.height_m, units)),
        ("Crown width", as_measured(standing.crown_width, units) if standing else ""),
        ("Stands", position_of(job)),
    ]
    return [[name, text] for name, text in rows if text]


def position_of(job: Job) -> str:
    """Where the tree stands, as exactly as it was written down."""
    return (job.notice.position if job.notice is not None else None) or job.job.site or ""


def first_to_fail(result: StandResult, units: Units) -> str:
    """What gives way first: the roots, or the stem at a height."""
    if result.breaks_first == "roots":
        return "the roots"
    return f"the stem, {u.length(result.breaks_first_height_m, units)} above the ground"


def span(one: float, other: float, units: Units) -> str:
    """Two gusts, the lower first: "72 mph to 157 mph"."""
    low, high = sorted((one, other))
    return f"{u.speed(low, units)} to {u.speed(high, units)}"
