"""The plan as tables: what to put in place, the order at a glance, the other ways, every cut possible now."""

from __future__ import annotations

from typing import Any

from bolewright.documents.briefing import words as w
from bolewright.drawings import units as u
from bolewright.drawings.units import Units
from bolewright.planning.results import CutsResult, Place, Plan

MOST_WAYS = 4


def places(plan: Plan, units: Units) -> list[dict[str, Any]]:
    """What is put in place, in order of the plan, each with its checks."""
    return [{**place_data(place, units), "step": _step_of(place, plan)} for place in plan.places]


def place_data(place: Place, units: Units) -> dict[str, Any]:
    """One prop, crib, chock, line or hook."""
    return {
        "name": place.id if place.kind in place.id else f"{place.id} ({place.kind})",
        "where": w.place_on(place.member, place.at_m, units),
        "foot": foot(place, units),
        "timber": place.timber,
        "tightness": place.tightness,
        "force": w.force(place.force_N, units),
        "capacity": u.force(place.capacity_N, units),
        "checks": [
            {
                "name": name,
                "demand": u.force(demand, units),
                "capacity": u.force(capacity, units),
                "source": source,
                "word": "inside" if demand <= capacity else "OUTSIDE",
            }
            for name, demand, capacity, source in place.checks
        ],
        "why": place.why,
    }


def foot(place: Place, units: Units) -> str:
    """Where the foot or anchor goes, in distances a crew can tape."""
    x, y, z = place.foot
    side = (
        f"{u.length(abs(y), units)} to the {'left' if y > 0 else 'right'}" if abs(y) >= 0.05 else "on the stem's line"
    )
    high = f", {u.length(z, units)} up" if z > 0.3 else ""
    behind = "forward of" if x >= 0 else "behind"
    return f"{u.length(abs(x), units)} {behind} the butt, {side}{high}"


def _step_of(place: Place, plan: Plan) -> str:
    step = next((step.n for step in plan.steps if step.action == "place" and step.piece == place.id), None)
    return f"step {step}" if step is not None else "before step 1"


def overview(plan: Plan, units: Units) -> list[dict[str, Any]]:
    """One row per step."""
    return [
        {
            "n": step.n,
            "action": step.action,
            "what": w.what(step),
            "method": step.method,
            "mass": w.mass(step.mass_kg, units) if step.mass_kg.high > 0 else ("", ""),
            "peak": w.force(step.building_peak_N, units)[0],
            "after": w.force(step.building_after_N, units),
            "spring": step.bind is not None and step.bind.spring_pole,
        }
        for step in plan.steps
    ]


def ways(cuts: CutsResult, units: Units) -> list[dict[str, Any]]:
    """The chosen plan and the others beside it."""
    plans = (cuts.chosen, *cuts.alternatives)[:MOST_WAYS]
    return [_way(plan, k == 0 and cuts.status == "plan", units) for k, plan in enumerate(plans)]


def _way(plan: Plan, chosen: bool, units: Units) -> dict[str, Any]:
    found = plan.status == "plan"
    heavy = max((s.mass_kg for s in plan.steps if s.action == "cut"), key=lambda m: m.likely, default=None)
    dash = ("–", "")
    over = "nothing" if plan.exceedance_N <= 0 else u.force(plan.exceedance_N, units)
    return {
        "title": plan.title,
        "answer": "chosen" if chosen else "an order exists" if found else "no order",
        "steps": str(len(plan.steps)) if found else "–",
        "places": ", ".join(
            place.id if place.kind in place.id else f"{place.id} ({place.kind})" for place in plan.places
        )
        or ("none" if found else "–"),
        "peak": w.force(plan.peak_building_N, units) if found else dash,
        "heaviest": w.mass(heavy, units) if heavy is not None else dash,
        "over": over if found else "–",
        "time": w.duration(plan.minutes) if found else "–",
        "words": plan.summary if found else f"{plan.dead_end} {' Or: '.join(plan.opens)}",
    }


def next_cuts(cuts: CutsResult, units: Units) -> list[dict[str, Any]]:
    """Every cut possible on the tree as found, and what it would do."""
    return [
        {
            "piece": w.listed(cut.takes) or cut.piece,
            "mass": w.mass(cut.mass_kg, units),
            "change": w.change(cut.building_change_N, units),
            "word": "inside" if cut.allowed else "outside",
            "why": cut.why,
        }
        for cut in cuts.next_cuts
    ]
