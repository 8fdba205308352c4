"""Everything the template of the comparison places."""

from __future__ import annotations

from datetime import date as day
from typing import Any

from bolewright.core.base.range import Range
from bolewright.documents.briefing.pictures import picture
from bolewright.documents.standing import words as w
from bolewright.documents.standing.seen import GROUP_WORDS
from bolewright.documents.standing.sources import caution_texts, sources
from bolewright.documents.text import all_on_paper, shortened
from bolewright.drawings.standing_over import sections_over
from bolewright.drawings.standing_words import amount, step
from bolewright.drawings.units import Units
from bolewright.job.model import Job
from bolewright.planning.both import in_one
from bolewright.planning.standing.changes import Change, Comparison, WordChange
from bolewright.planning.standing.results import StandSection
from bolewright.planning.standing.tests import SAME_HEIGHT

TITLE_IN_STRIP = 58
NOTHING = "–"


def comparison_data(earlier: Job, later: Job, result: Comparison, units: Units, date: day | None) -> dict[str, Any]:
    """The data of the comparison."""
    data = {
        "title": later.job.title,
        "strip_title": shortened(later.job.title, TITLE_IN_STRIP),
        "date": w.day_parts(date),
        "paper": "us-letter" if units == "us" else "a4",
        "tree": w.tree_facts(later, result.later, units),
        "sides": [
            ["Record", result.earlier_title, result.later_title],
            ["Day", w.day_in(result.earlier_date) or NOTHING, w.day_in(result.later_date) or NOTHING],
            ["Inspector", result.earlier_inspector or NOTHING, result.later_inspector or NOTHING],
            ["Owner", earlier.job.owner or NOTHING, later.job.owner or NOTHING],
        ],
        "stands": f"Stands {result.stands}" if result.stands != "no difference that can be told" else
        "No difference in the wind it stands can be told",
        "words": [in_one(said, units) for said in result.words],
        "doubts": list(result.doubts),
        "conditions": list(result.conditions),
        "sections": _sections(result, units),
        "measured": [_change(change, units) for change in result.measured],
        "answers": [_change(change, units) for change in result.answers],
        "seen": [_words(word) for word in sorted(result.observations, key=lambda word: not word.changed)],
        "targets": [_words(word) for word in result.targets],
        "rating": [_words(word) for word in result.rating],
        "notes": [in_one(note, units) for note in result.later.notes],
        "sources": sources(result.later, units),
        "cautions": caution_texts(),
        "inspector": result.later_inspector,
    }  # fmt: skip
    found: dict[str, Any] = all_on_paper(data)
    return found


def _sections(result: Comparison, units: Units) -> list[dict[str, Any]]:
    """Every place tested both times, the later section with the earlier one over it."""
    dates = (w.day_in(result.earlier_date), w.day_in(result.later_date))
    return [picture(sections_over(then, now, dates, units)) for then, now in _both(result)]


def _both(result: Comparison) -> list[tuple[StandSection, StandSection]]:
    tested = [section for section in result.earlier.sections if section.measured]
    found = []
    for now in result.later.sections:
        then = next((s for s in tested if abs(s.height_m - now.height_m) <= SAME_HEIGHT), None)
        if now.measured and then is not None:
            found.append((then, now))
    return found


def _change(change: Change, units: Units) -> dict[str, Any]:
    moved = step(change.change, change.kind, units) if change.change is not None else ""
    yearly = step(change.per_year, change.kind, units) if change.per_year is not None and moved else ""
    return {
        "what": in_one(change.what, units),
        "before": _value(change.before, change, units),
        "after": _value(change.after, change, units),
        "change": moved,
        "yearly": f"{yearly} a year" if yearly else "",
        "verdict": change.verdict,
        "changed": change.verdict == "changed",
        "usual": change.usual_error,
    }


def _value(value: Range | None, change: Change, units: Units) -> str:
    return NOTHING if value is None else amount(value, change.kind, units)


def _words(word: WordChange) -> dict[str, Any]:
    return {
        "group": GROUP_WORDS.get(word.group, word.group),
        "what": word.what,
        "before": word.before or NOTHING,
        "after": word.after or NOTHING,
        "words": word.words,
        "changed": word.changed,
    }
