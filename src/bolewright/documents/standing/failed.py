"""A tree that has failed: what gave way and when, in the words its papers share."""

from __future__ import annotations

from typing import Any

from bolewright.documents.standing import words as w
from bolewright.drawings.units import Units
from bolewright.job.model import Job
from bolewright.planning.standing.looked import LookBack
from bolewright.planning.standing.results import StandResult

KINDS = {
    "stem": "the stem broke", "roots": "the roots let go: it tipped with its root plate", "union": "a union split",
    "branch": "a branch broke",
}  # fmt: skip
ANSWERS = {
    "explained by the gust": "The gust explains it",
    "within the spread": "The gust recorded lies within what was needed",
    "failed below the gust computed": "It failed in less wind than was worked out",
    "not enough known": "Not enough is known to compare",
}
BEFORE = (
    "What is worked out in this report is for the tree as it stood before, with what was measured since. It says "
    "nothing about what stands there now."
)


def failed(job: Job, result: StandResult, units: Units) -> dict[str, Any] | None:
    """What the first page of a report says of a tree that has failed; None of one that stands."""
    back, failure = result.look_back, job.failure
    if back is None or failure is None:
        return None
    when = f", {w.written(failure.date)}" if failure.date is not None else ""
    place = f", {w.as_measured(failure.height, units)} up" if failure.kind == "stem" and failure.height else ""
    limb = f" ({back.limb})" if back.limb else ""
    return {"what": f"{KINDS[failure.kind].capitalize()}{limb}{place}{when}.", "before": BEFORE}


def needed(back: LookBack, units: Units) -> list[str]:
    """The look back in plain words, beside its numbers."""
    numbers = f"needed {w.gust(back.needed_m_s, units)}"
    if back.recorded_m_s is not None:
        numbers += f"; recorded {w.speed(back.recorded_m_s, units)}"
    return [f"{ANSWERS[back.answer]}. {back.words}", numbers]
