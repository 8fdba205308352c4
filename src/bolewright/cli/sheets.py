"""Drawings and papers of a standing tree as named files ready to be written."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date as day
from pathlib import Path

from bolewright import documents
from bolewright.cli.given import photo_rows
from bolewright.documents.given import PhotoRow
from bolewright.drawings.standing_chart import fragility_chart
from bolewright.drawings.standing_fall import fall_circle
from bolewright.drawings.standing_lookback import needed_against_recorded
from bolewright.drawings.standing_section import section_from_above
from bolewright.drawings.standing_trace import resistance_trace
from bolewright.drawings.units import Units
from bolewright.job.cited import citations
from bolewright.job.model import Job
from bolewright.planning import machine
from bolewright.planning.standing.changes import Comparison
from bolewright.planning.standing.results import StandResult


def standing_sheets(
    job: Job,
    result: StandResult,
    units: Units,
    date: day | None,
    earlier: Job | None = None,
    against: Comparison | None = None,
    photos: Sequence[PhotoRow] = (),
) -> dict[str, bytes]:
    """Tested sections from the ground up, chart, fall circle, results, and every paper the job has entries for."""
    drawn = standing_drawings(job.job.title, result, units)
    files = {name: svg.encode("utf-8") for name, svg in drawn.items()}
    if job.inspection is not None:
        files["inspection.pdf"] = documents.inspection(job, result, units, date, drawn, photos)
    if job.notice is not None:
        files["notice.pdf"] = documents.notice(job, result, units, date)
        files["delivery-log.pdf"] = documents.delivery_log(job, result, units, date)
    if result.look_back is not None:
        files["cause.pdf"] = documents.cause(job, result, units, date, drawn, photos)
    if earlier is not None and against is not None:
        files["comparison.pdf"] = documents.comparison(earlier, job, against, units, date)
    return {**files, "results.json": machine.dumps(machine.stand_answer(result)).encode("utf-8")}


def standing_photos(job: Job, folder: Path) -> tuple[PhotoRow, ...]:
    """The pictures in a folder, those the record names with a small copy to print."""
    cited = citations(job)
    return photo_rows(folder, lambda number, name: any(c.names(number, name) for c in cited))


def standing_drawings(title: str, result: StandResult, units: Units) -> dict[str, str]:
    """Every drawing of a standing tree as SVG, by the name it is written under."""
    tested = [section for section in result.sections if section.measured]
    drawn = {
        f"section-{n:02d}.svg": section_from_above(section, result.worst_towards_deg, units)
        for n, section in enumerate(tested, 1)
    }
    traced = [test for test in result.tests if test.trace is not None]
    drawn |= {f"trace-{n:02d}.svg": resistance_trace(test, units) for n, test in enumerate(traced, 1)}
    drawn |= {"fragility.svg": fragility_chart(result, units), "fall-circle.svg": fall_circle(result, title, units)}
    if result.look_back is not None:
        drawn["look-back.svg"] = needed_against_recorded(result.look_back, units)
    return drawn
