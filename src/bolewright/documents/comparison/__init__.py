"""Two inspections of one tree side by side: what changed, and whether it is more than the two can be off together."""

from __future__ import annotations

from datetime import date as day

from bolewright.documents.comparison.data import comparison_data
from bolewright.documents.press import Printed, print_document
from bolewright.documents.standing.words import inspected_on
from bolewright.drawings.units import Units
from bolewright.job.model import Job
from bolewright.planning.standing.changes import Comparison

__all__ = ["comparison", "printed_comparison"]

TEMPLATE = "comparison/template.typ"


def comparison(earlier: Job, later: Job, result: Comparison, units: Units = "us", date: day | None = None) -> bytes:
    """The comparison as PDF, on US letter or A4 by the units; the same bytes for the same result and date.

    Without `date` the day of the later inspection is printed.
    """
    return printed_comparison(earlier, later, result, units, date).pdf


def printed_comparison(
    earlier: Job, later: Job, result: Comparison, units: Units = "us", date: day | None = None
) -> Printed:
    """The comparison together with what the typesetter said about it."""
    on = date or inspected_on(later)
    return print_document(TEMPLATE, comparison_data(earlier, later, result, units, on), on)
