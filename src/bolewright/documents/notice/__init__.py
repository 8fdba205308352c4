"""The letter to the owner of a tree: which tree, what was seen, what is asked; and the record of how it got there."""

from __future__ import annotations

from datetime import date as day

from bolewright.documents.notice.data import notice_data
from bolewright.documents.press import Printed, print_document
from bolewright.documents.standing.words import inspected_on
from bolewright.drawings.units import Units
from bolewright.job.model import Job
from bolewright.planning.standing.results import StandResult

__all__ = ["delivery_log", "notice", "printed_delivery_log", "printed_notice"]

LETTER, LOG = "notice/letter.typ", "notice/log.typ"


def notice(job: Job, result: StandResult, units: Units = "us", date: day | None = None) -> bytes:
    """The letter as PDF, on US letter or A4 by the units; the same bytes for the same job and date.

    What [notice] leaves out stays a line to write on. Without `date` the day of the first delivery is printed, else
    that of the inspection.
    """
    return printed_notice(job, result, units, date).pdf


def printed_notice(job: Job, result: StandResult, units: Units = "us", date: day | None = None) -> Printed:
    """The letter together with what the typesetter said about it."""
    on = _day(job, date)
    return print_document(LETTER, notice_data(job, result, units, on), on)


def delivery_log(job: Job, result: StandResult, units: Units = "us", date: day | None = None) -> bytes:
    """How and when the letter went out and what came back, as PDF with rows to write on."""
    return printed_delivery_log(job, result, units, date).pdf


def printed_delivery_log(job: Job, result: StandResult, units: Units = "us", date: day | None = None) -> Printed:
    """The log together with what the typesetter said about it."""
    on = _day(job, date)
    return print_document(LOG, notice_data(job, result, units, on), on)


def _day(job: Job, date: day | None) -> day | None:
    sent = min((delivery.date for delivery in job.notice.delivery), default=None) if job.notice is not None else None
    return date or sent or inspected_on(job)
