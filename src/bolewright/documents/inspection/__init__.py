"""The inspection report of a standing tree: what was seen and tested, what follows from it, what was chosen."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date as day

from bolewright.documents.given import PhotoRow
from bolewright.documents.inspection.data import inspection_data
from bolewright.documents.press import Printed, print_document
from bolewright.documents.standing.pictures import StandPictures
from bolewright.documents.standing.words import inspected_on
from bolewright.drawings.units import Units
from bolewright.job.model import Job
from bolewright.planning.standing.results import StandResult

__all__ = ["inspection", "printed_inspection"]

TEMPLATE = "inspection/template.typ"


def inspection(job: Job, result: StandResult, units: Units = "us", date: day | None = None,
               drawn: Mapping[str, str] | None = None, photos: Sequence[PhotoRow] = ()) -> bytes:  # fmt: skip
    """The report as PDF, on US letter or A4 by the units; the same bytes for the same result and date.

    Without `date` the day of the inspection is printed. Drawings at hand are taken from `drawn` by the names they are
    written under ("section-01.svg"); of `photos` those the record names are printed, all
    are listed with their hashes.
    """
    return printed_inspection(job, result, units, date, drawn, photos).pdf


def printed_inspection(
    job: Job,
    result: StandResult,
    units: Units = "us",
    date: day | None = None,
    drawn: Mapping[str, str] | None = None,
    photos: Sequence[PhotoRow] = (),
) -> Printed:
    """The report together with what the typesetter said about it."""
    on = date or inspected_on(job)
    pictures = StandPictures(result, units, drawn or {})
    return print_document(TEMPLATE, inspection_data(job, result, pictures, photos, on), on)
