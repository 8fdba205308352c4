"""Everything the template of the letter places. No rating, no claim: what was seen, what lies near, what is asked."""

from __future__ import annotations

from datetime import date as day
from typing import Any

from bolewright.documents.standing import words as w
from bolewright.documents.standing.seen import could_not_see, seen, test_rows
from bolewright.documents.text import all_on_paper, shortened
from bolewright.drawings import units as u
from bolewright.drawings.standing_trace import depth_words
from bolewright.drawings.units import Units
from bolewright.job.model import Job
from bolewright.job.notice import Notice
from bolewright.planning.standing.looked import ReadTest
from bolewright.planning.standing.results import StandResult

TITLE_IN_STRIP = 58


def notice_data(job: Job, result: StandResult, units: Units, date: day | None) -> dict[str, Any]:
    """The data of the letter and of its log."""
    letter = job.notice or Notice.model_construct(to=(), sender=(), ask=(), enclosure=(), delivery=(), reply=())
    inspected = job.inspection
    data = {
        "title": job.job.title,
        "strip_title": shortened(job.job.title, TITLE_IN_STRIP),
        "date": w.day_parts(date),
        "paper": "us-letter" if units == "us" else "a4",
        "to": list(letter.to),
        "sender": _sender(job, letter),
        "tree": w.tree_facts(job, result, units),
        "species": w.species_of(job),
        "looked": {
            "on": w.written(w.inspected_on(job)),
            "by": (inspected.inspector if inspected is not None else None) or "",
            "limits": (inspected.limits if inspected is not None else None) or "",
        },
        "seen": seen(job, result),
        "tests": [_test(test, row, units) for test, row in zip(result.tests, test_rows(result, units), strict=True)],
        "unseen": could_not_see(result),
        "near": [_near(target.what, target.distance_m, target.towards_deg, units) for target in result.targets
                 if target.reach in w.REACHED],
        "height": u.length(result.height_m, units),
        "ask": list(letter.ask),
        "by": w.written(letter.answer_by),
        "contact": _contact(job, letter),
        "enclosure": list(letter.enclosure),
        "delivery": [[w.written(d.date), d.how, d.to or "", d.reference or ""] for d in letter.delivery],
        "reply": [[w.written(r.date), r.by or "", r.how or "", r.said or ""] for r in letter.reply],
    }  # fmt: skip
    found: dict[str, Any] = all_on_paper(data)
    return found


def _sender(job: Job, letter: Notice) -> list[str]:
    """Who writes: as told in the letter, else the company with how to reach it."""
    company = job.company
    if letter.sender or company is None:
        return list(letter.sender)
    return [line for line in (company.name, company.address, company.phone, company.email, company.licence) if line]


def _contact(job: Job, letter: Notice) -> str:
    """How the writer can be reached: as told in the letter, else at the company."""
    company = job.company
    if letter.contact or company is None:
        return letter.contact or ""
    return ", ".join(part for part in (company.phone, company.email) if part)


def _test(test: ReadTest, row: dict[str, str], units: Units) -> str:
    """A test in one line: "Drilled at 2 ft: N 7 in, E 11 in of sound wood"."""
    where = f" at {row['where']}" if row["where"] else ""
    trace = test.trace
    said = f"{depth_words(trace, units)} of sound wood" if trace is not None and trace.met_decay else row["said"]
    return f"{row['kind'][:1].upper()}{row['kind'][1:]}{where}: {said}"


def _near(what: str, distance: float, towards: float, units: Units) -> str:
    """A target by its distance and side alone."""
    return f"{what}, {u.length(distance, units)} to the {w.point(towards)}"
