"""Everything the template of the briefing places, as plain texts, lists and drawings."""

from __future__ import annotations

from datetime import date as day
from typing import Any

from bolewright.documents.briefing.cards import cards
from bolewright.documents.briefing.cover import cover
from bolewright.documents.briefing.holding import holding
from bolewright.documents.briefing.order import next_cuts, overview, places, ways
from bolewright.documents.briefing.pictures import Pictures
from bolewright.documents.briefing.sources import method, sources
from bolewright.documents.text import all_on_paper, shortened
from bolewright.job.model import Job
from bolewright.planning.results import CutsResult, HoldResult, Plan, WeighResult

TITLE_IN_STRIP = 58


def briefing_data(job: Job, weigh: WeighResult, hold: HoldResult, cuts: CutsResult, pictures: Pictures,
                  date: day | None) -> dict[str, Any]:  # fmt: skip
    """The data of the briefing; without a plan there are no cards, no gear and nothing to sign."""
    units = pictures.units
    plan = cuts.chosen if cuts.status == "plan" else None
    data = {
        "title": job.job.title,
        "strip_title": shortened(job.job.title, TITLE_IN_STRIP),
        "date": _date(date),
        "paper": "us-letter" if units == "us" else "a4",
        "planned": plan is not None,
        "cover": cover(job, weigh, hold, cuts, units),
        "drawings": _drawings(pictures, plan),
        "holding": holding(weigh, hold, units),
        "places": places(cuts.chosen, units),
        "overview": overview(plan, units) if plan else [],
        "cards": cards(job, weigh, plan, pictures) if plan else [],
        "chart": pictures.chart(plan) if plan and plan.steps else None,
        "ways": ways(cuts, units),
        "next_cuts": next_cuts(cuts, units),
        "gear": list(plan.gear) if plan else [],
        "sources": sources(job, weigh, hold, cuts, units),
        "method": method(job, hold, cuts, units),
        "lead": job.job.lead or "",
        "crew": list(job.job.crew),
    }
    found: dict[str, Any] = all_on_paper(data)
    return found


def _date(date: day | None) -> dict[str, Any]:
    """The day in words and as numbers; empty where it is not known."""
    if date is None:
        return {"words": "", "parts": None}
    return {"words": f"{date.day} {date:%B} {date.year}", "parts": [date.year, date.month, date.day]}


def _drawings(pictures: Pictures, plan: Plan | None) -> list[dict[str, Any]]:
    """The sheets that come before the tables: as found, then with the numbered cuts, then from above."""
    found = [{"heading": "The tree as found", **pictures.as_found()}]
    if plan is not None:
        found.append({"heading": "Order of cuts", **pictures.numbered(plan)})
    heading = "Drop zones and what must not be hit" if plan else "From above"
    return [*found, {"heading": heading, **pictures.from_above(plan)}]
