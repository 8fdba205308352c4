"""Everything the template of the inspection report places, as plain texts, lists and drawings."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date as day
from typing import Any

from bolewright.documents.given import PhotoRow
from bolewright.documents.inspection.judged import judged
from bolewright.documents.inspection.numbers import limbs, reach, roots, seasons, stem, wind
from bolewright.documents.inspection.summary import ANSWERS, summary
from bolewright.documents.standing import words as w
from bolewright.documents.standing.failed import failed
from bolewright.documents.standing.photos import photographs
from bolewright.documents.standing.pictures import StandPictures
from bolewright.documents.standing.seen import could_not_see, left_out, observation_groups, test_rows
from bolewright.documents.standing.sources import caution_texts, sources
from bolewright.documents.text import all_on_paper, shortened
from bolewright.drawings.units import Units
from bolewright.job.model import Job
from bolewright.planning.both import in_one
from bolewright.planning.standing.results import StandResult

TITLE_IN_STRIP = 58
NOT_SAID = "not written down"


def inspection_data(job: Job, result: StandResult, pictures: StandPictures, photos: Sequence[PhotoRow],
                    date: day | None) -> dict[str, Any]:  # fmt: skip
    """The data of the report."""
    units = pictures.units
    data = {
        "title": job.job.title,
        "strip_title": shortened(job.job.title, TITLE_IN_STRIP),
        "date": w.day_parts(date),
        "paper": "us-letter" if units == "us" else "a4",
        "failed": failed(job, result, units),
        "cover": cover(job, result, units),
        "observations": observation_groups(job, result),
        "left_out": left_out(job, result),
        "tests": test_rows(result, units),
        "traces": pictures.traces(),
        "sections": pictures.sections(),
        "stem": stem(result, units),
        "wind": wind(job, result, units),
        "seasons": seasons(result, units),
        "chart": pictures.chart(),
        "roots": roots(result, units),
        "limbs": limbs(result, units),
        "narrows": narrows(result, units),
        "fall": pictures.fall(),
        "reach": reach(result, units),
        "judged": judged(result, units),
        "notes": [in_one(note, units) for note in result.notes],
        "photos": photographs(job, photos),
        "sources": sources(result, units),
        "cautions": caution_texts(),
        "sign": {"inspector": _inspector(job)},
    }
    found: dict[str, Any] = all_on_paper(data)
    return found


def cover(job: Job, result: StandResult, units: Units) -> dict[str, Any]:
    """The first page: which tree, for whom, what could not be seen, the answer twice over."""
    inspected = job.inspection
    return {
        "facts": [
            ["Site", job.job.site or NOT_SAID],
            ["Owner", job.job.owner or NOT_SAID],
            ["Asked by", job.job.caller or NOT_SAID],
            ["Inspector", _inspector(job) or NOT_SAID],
            ["Day", w.written(w.inspected_on(job)) or NOT_SAID],
        ],
        "tree": w.tree_facts(job, result, units),
        "asked": (inspected.assignment if inspected is not None else None) or "",
        "limits": (inspected.limits if inspected is not None else None) or "",
        "unseen": could_not_see(result),
        "answer": ANSWERS[result.status] if result.look_back is None else "This tree has failed",
        "summary": summary(job, result, units),
        "notes": job.job.notes or "",
    }


def _inspector(job: Job) -> str:
    return (job.inspection.inspector if job.inspection is not None else None) or ""


def narrows(result: StandResult, units: Units) -> list[dict[str, str]]:
    """The unknowns that move the answer most, and what would measure each."""
    return [
        {
            "name": item.name,
            "measure": item.measure,
            "span": w.span(item.gust_low_m_s, item.gust_high_m_s, units),
            "then": w.gust(item.then_m_s, units) if item.then_m_s is not None else "",
        }
        for item in result.narrows[:4]
    ]
