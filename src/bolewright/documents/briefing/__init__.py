"""The briefing: what the crew reads, holds in its hands and signs before the first cut."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date as day

from bolewright.documents.briefing.data import briefing_data
from bolewright.documents.briefing.pictures import Pictures
from bolewright.documents.press import Printed, print_document
from bolewright.drawings.units import Units
from bolewright.job.model import Job
from bolewright.planning.results import CutsResult, HoldResult, WeighResult
from bolewright.planning.shapes import Scene

__all__ = ["briefing", "printed_briefing"]

TEMPLATE = "briefing/template.typ"


def briefing(job: Job, weigh: WeighResult, hold: HoldResult, cuts: CutsResult, scene: Scene, units: Units = "us",
             date: day | None = None, drawn: Mapping[str, str] | None = None) -> bytes:  # fmt: skip
    """The briefing as PDF, on US letter or A4 by the units; the same bytes for the same results and date.

    Without `date` the job's own is printed, and where that is missing too the line is left open to be written in.
    Drawings at hand are taken from `drawn` by the names they are written under ("plan.svg", "step-03.svg").
    """
    return printed_briefing(job, weigh, hold, cuts, scene, units, date, drawn).pdf


def printed_briefing(job: Job, weigh: WeighResult, hold: HoldResult, cuts: CutsResult, scene: Scene,
                     units: Units = "us", date: day | None = None,
                     drawn: Mapping[str, str] | None = None) -> Printed:  # fmt: skip
    """The briefing together with what the typesetter said about it."""
    on = date or job.job.date
    pictures = Pictures(scene, hold, units, drawn or {})
    return print_document(TEMPLATE, briefing_data(job, weigh, hold, cuts, pictures, on), on)
