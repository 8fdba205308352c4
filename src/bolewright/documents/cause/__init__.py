"""The cause-of-failure record: what was seen, what was measured, what follows, and what somebody thinks, kept apart."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date as day

from bolewright.core.base.errors import NotEnoughKnown
from bolewright.documents.cause.data import cause_data
from bolewright.documents.given import PhotoRow
from bolewright.documents.press import Printed, print_document
from bolewright.documents.standing.pictures import StandPictures
from bolewright.documents.standing.words import inspected_on
from bolewright.drawings.units import Units
from bolewright.job.model import Job
from bolewright.planning.standing.results import StandResult

__all__ = ["cause", "printed_cause"]

TEMPLATE = "cause/template.typ"


def cause(job: Job, result: StandResult, units: Units = "us", date: day | None = None,
          drawn: Mapping[str, str] | None = None, photos: Sequence[PhotoRow] = ()) -> bytes:  # fmt: skip
    """The record as PDF; the same bytes for the same result and date. Raises NotEnoughKnown without a [failure]."""
    return printed_cause(job, result, units, date, drawn, photos).pdf


def printed_cause(job: Job, result: StandResult, units: Units = "us", date: day | None = None,
                  drawn: Mapping[str, str] | None = None, photos: Sequence[PhotoRow] = ()) -> Printed:  # fmt: skip
    """The record together with what the typesetter said about it."""
    if job.failure is None or result.look_back is None:
        raise NotEnoughKnown("No failure is written down: fill in [failure] with what was found.", "failure")
    on = date or inspected_on(job)
    pictures = StandPictures(result, units, drawn or {})
    return print_document(TEMPLATE, cause_data(job, result, pictures, photos, on), on)
