"""What was filled in and where it comes from, and the limits the plan was held to."""

from __future__ import annotations

from functools import partial
from typing import Any

from bolewright.core.base.sourced import Status
from bolewright.documents.briefing import words as w
from bolewright.documents.briefing.hazards import cautions_used
from bolewright.documents.text import in_words
from bolewright.drawings.units import Units
from bolewright.job.model import Job
from bolewright.planning.filled import as_set, job_defaults
from bolewright.planning.results import CutsResult, FilledIn, HoldResult, WeighResult

WEAKEST_FIRST = (
    Status.MEMORY, Status.COMMON_PRACTICE, Status.ESTIMATE, Status.REGRESSION, Status.DERIVED, Status.CONFIRMED,
    Status.MEASURED,
)  # fmt: skip
STATUS_MEANINGS = {
    Status.MEMORY: "recalled, not confirmed: check before relying on it",
    Status.COMMON_PRACTICE: "the trade does so; no published source",
    Status.ESTIMATE: "modelled from confirmed values of other species or sizes",
    Status.REGRESSION: "kept by others as a test of a published example",
    Status.DERIVED: "follows from mechanics or from confirmed values",
    Status.CONFIRMED: "read in the source named",
    Status.MEASURED: "entered by you",
}


def sources(job: Job, weigh: WeighResult, hold: HoldResult, cuts: CutsResult, units: Units) -> dict[str, Any]:
    """Filled-in values, the least certain first, what the status words mean, and the sources of the cautions."""
    rows = {(row.path, row.value): row for row in (*weigh.filled_in, *hold.filled_in, *cuts.filled_in)}
    rows |= {(row.path, row.value): row for row in job_defaults(job)}
    density = FilledIn(
        "wood density", w.density(weigh.density_kg_m3, units), f"green, {weigh.species}", weigh.density_source,
        weigh.density_status,
    )  # fmt: skip
    own = [] if any(row.path == "tree.density" for row in rows.values()) else [density]
    ranked = sorted([*own, *rows.values()], key=lambda row: _rank(row.status))
    cautions = cautions_used(job, hold, cuts)
    used = {row.status for row in ranked} | {caution.status for caution in cautions}
    return {
        "rows": [filled_row(row, units) for row in ranked],
        "meanings": [[str(status), STATUS_MEANINGS[status]] for status in WEAKEST_FIRST if status in used],
        "cautions": [[caution.text, caution.source, str(caution.status)] for caution in cautions],
    }


def _rank(status: str) -> int:
    order = [str(word) for word in WEAKEST_FIRST]
    return order.index(status) if status in order else -1


def filled_row(row: FilledIn, units: Units) -> dict[str, str]:
    """A value that was filled in, as the table of them places it."""
    what = in_words(row.path.removeprefix("standing."))
    return {"path": what, "value": row.said(units), "why": row.why, "source": row.source, "status": str(row.status)}


def method(job: Job, hold: HoldResult, cuts: CutsResult, units: Units) -> dict[str, Any]:
    """The limits set and the extent of the search, for the page on what the numbers are."""
    return {
        "samples": f"{cuts.samples or hold.samples:,}",
        "states": f"{cuts.states_seen:,}",
        "residual": "" if hold.residual != hold.residual else f"{hold.residual:.0e}",
        "rechecked": cuts.rechecked,
        "notes": list(cuts.notes),
        "limits": _limits(job, units),
    }


def _limits(job: Job, units: Units) -> list[list[str]]:
    """The limits as they were written, those filled in in the units of the paper."""
    limits, handling = job.limits, job.handling
    said = partial(as_set, job, units)
    return [
        ["Share of samples inside every limit", said("limits.share")],
        ["Rise let pass, of the whole weight", said("limits.floor")],
        ["Most a support point may move in a step", said("limits.movement")],
        ["Most on the building in all", str(limits.building) if limits.building else "what it carries as found"],
        ["Carried by hand", said("handling.hand")],
        ["Let fall free", f"{said('handling.drop')}, no higher than {said('handling.drop_height')}"],
        ["Rolled off", said("handling.roll")],
        ["On a lowering line", said("handling.line")],
        ["Crane, at the working radius", str(handling.crane) if handling.crane else "no crane entered"],
    ]
