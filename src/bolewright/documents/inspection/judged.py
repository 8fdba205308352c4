"""The assessor's judgement, word for word, with the computed margin beside it, and the options."""

from __future__ import annotations

from typing import Any

from bolewright.documents.standing import words as w
from bolewright.drawings.units import Units
from bolewright.job.model import Job
from bolewright.planning.standing.results import OptionAfter, StandResult
from bolewright.reference.ratings import MEANINGS

OPTION_WORDS = {
    "look again": "look again", "reduce": "cut the top back", "thin": "thin the crown", "raise": "raise the crown",
    "brace": "brace", "prop": "prop", "move target": "move the target", "keep stump": "keep a tall stump",
    "remove": "take it down",
}  # fmt: skip


def judged(job: Job, result: StandResult, units: Units) -> dict[str, Any]:
    """What was chosen, what the two published tables make of it, what was worked out beside it."""
    found = result.judgement
    target = next((t.what for t in result.targets if t.id == found.target), found.target)
    chosen = [
        ["Likelihood that it fails", found.failure or "not chosen", MEANINGS.get(found.failure or "", "")],
        ["Likelihood that it then hits", found.impact or "not chosen", MEANINGS.get(found.impact or "", "")],
        ["Consequences", found.consequences or "not chosen", MEANINGS.get(found.consequences or "", "")],
    ]
    return {
        "part": found.part or "not said",
        "target": target or "not said",
        "chosen": chosen,
        "combined": found.combined or "not chosen",
        "rating": found.rating or "not chosen",
        "source": found.source,
        "why": found.why,
        "beside": _beside(result, units),
        "time": found.time_frame or "not said",
        "again": w.day_in(found.reinspect) or "not named",
        "options": [_option(job, option, units) for option in found.options],
    }


def _beside(result: StandResult, units: Units) -> list[list[str]]:
    return [
        ["Stands the gust it is held against", f"{w.percent(result.share_standing)} of the samples"],
        ["Fails in gusts of", w.gust(result.gust_m_s, units)],
        ["Least margin of the stem", w.factor(min((s.margin for s in result.sections), key=lambda m: m.likely))],
        ["Margin of the roots", w.factor(result.roots.margin)],
    ]


def _option(job: Job, option: OptionAfter, units: Units) -> dict[str, str]:
    own = job.rating.option if job.rating is not None else ()
    note = next((o.note for o in own if o.id == option.id), None) or ""
    by = f", {w.percent(option.by)}" if option.by is not None else ""
    return {
        "id": option.id,
        "kind": f"{OPTION_WORDS.get(option.kind, option.kind)}{by}",
        "gust": w.gust(option.gust_m_s, units) if option.gust_m_s is not None else "not worked out",
        "words": option.words,
        "combined": option.combined or "",
        "rating": option.rating or "not chosen",
        "note": note,
    }
