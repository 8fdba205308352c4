"""The assessor's judgement, word for word, with the computed margin beside it, and the options."""

from __future__ import annotations

from typing import Any

from bolewright.documents.standing import words as w
from bolewright.drawings import units as u
from bolewright.drawings.units import Units
from bolewright.planning.both import in_one
from bolewright.planning.standing.rated import OptionAfter, PairRated
from bolewright.planning.standing.results import StandResult
from bolewright.reference.ratings import MEANINGS

OPTION_WORDS = {
    "look again": "look again", "reduce": "cut the top back", "thin": "thin the crown", "raise": "raise the crown",
    "brace": "brace", "prop": "prop", "move target": "move the target", "keep stump": "keep a tall stump",
    "remove": "take it down",
}  # fmt: skip


def judged(result: StandResult, units: Units) -> dict[str, Any]:
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
        "pairs": [_pair(pair, result) for pair in found.pairs] if len(found.pairs) > 1 else [],
        "worst": _worst(result),
        "why": found.why,
        "beside": _beside(result, units),
        "time": found.time_frame or "not said",
        "again": w.day_in(found.reinspect) or "not named",
        "options": [_option(option, units) for option in found.options],
    }


def _pair(pair: PairRated, result: StandResult) -> dict[str, Any]:
    """One part and its target as chosen."""
    target = next((t.what for t in result.targets if t.id == pair.target), pair.target)
    return {
        "name": pair.id,
        "part": pair.part or "not said",
        "target": target or "not said",
        "failure": pair.failure or "not chosen",
        "impact": pair.impact or "not chosen",
        "consequences": pair.consequences or "not chosen",
        "combined": pair.combined or "not chosen",
        "rating": pair.rating or "not chosen",
        "worst": pair.worst,
        "why": pair.why if pair.id else "",
    }


def _worst(result: StandResult) -> str:
    """Which of several pairs is rated worst, in words; "" with one pair or none rated."""
    found = result.judgement
    named = [f"{pair.part or pair.id or 'part not said'} on {pair.target or 'a target not said'}"
             for pair in found.pairs if pair.worst]  # fmt: skip
    return f"{found.worst}: {'; '.join(named)}" if len(found.pairs) > 1 and found.worst else ""


def _left(option: OptionAfter) -> list[list[str]]:
    """What is left of every pair, where there are several; those nothing was chosen for in one line."""
    if len(option.pairs) < 2:
        return []
    rated = [[_name(p), p.rating, "worst" if p.worst else ""] for p in option.pairs if p.rating is not None]
    left = [_name(p) for p in option.pairs if p.rating is None]
    if not rated:
        return [["all", "not chosen", ""]]
    return [*rated, *([[", ".join(left), "not chosen", ""]] if left else [])]


def _name(pair: PairRated) -> str:
    return pair.id or pair.part or "first"


def _beside(result: StandResult, units: Units) -> list[list[str]]:
    return [
        ["Stands the gust it is held against", f"{w.percent(result.share_standing)} of the samples"],
        ["Fails in gusts of", w.gust(result.gust_m_s, units)],
        ["Least margin of the stem", w.factor(min((s.margin for s in result.sections), key=lambda m: m.likely))],
        ["Margin of the roots", w.factor(result.roots.margin)],
    ]


def _done(option: OptionAfter) -> str:
    return "shorten" if option.part and option.kind == "reduce" else OPTION_WORDS.get(option.kind, option.kind)


def _option(option: OptionAfter, units: Units) -> dict[str, Any]:
    by = f", {w.percent(option.by)}" if option.by is not None else ""
    part = f", {option.part}" if option.part else ""
    gust = w.gust(option.gust_m_s, units) if option.gust_m_s is not None else "not worked out"
    carries = f"It carries {u.force_range(option.support_N, units)}." if option.support_N is not None else ""
    again = f"Look again on {w.day_in(option.reinspect)}." if option.reinspect else ""
    return {
        "id": option.id,
        "kind": f"{_done(option)}{part}{by}",
        "gust": f"{option.part}: {gust}" if option.part and option.gust_m_s is not None else gust,
        "words": in_one(option.words, units),
        "rating": option.rating or "not chosen",
        "left": _left(option),
        "chosen": ", ".join(word for word in (option.failure, option.impact, option.consequences) if word),
        "note": " ".join(part for part in (carries, option.note, again) if part),
    }
