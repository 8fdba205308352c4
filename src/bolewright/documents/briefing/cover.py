"""The first page: which job, which way of working, the figures that matter most, the hazards."""

from __future__ import annotations

from typing import Any

from bolewright.documents.briefing import words as w
from bolewright.documents.briefing.hazards import hazard_groups
from bolewright.drawings.units import Units
from bolewright.job.model import Job
from bolewright.planning.results import CutsResult, CutStep, HoldResult, Plan, WeighResult

HELD_WORDS = {
    "held": "Held where it lies",
    "not held": "NOT held where it lies",
    "can roll": "CAN ROLL where it lies",
    "can slide": "CAN SLIDE where it lies",
}


def cover(job: Job, weigh: WeighResult, hold: HoldResult, cuts: CutsResult, units: Units) -> dict[str, Any]:
    """Facts, method, figures, hazards; and the dead end when there is no plan."""
    plan = cuts.chosen
    planned = cuts.status == "plan"
    return {
        "facts": [[name, text] for name, text in _facts(job, weigh) if text],
        "lead": job.job.lead or "",
        "held": HELD_WORDS.get(hold.status, hold.status),
        "motion": w.moved(hold.motion, units) if hold.motion and hold.motion.kind != "held" else "",
        "method": w.method_line(plan) if planned else f"No order found {plan.title}",
        "summary": plan.summary,
        "figures": [*_found_figures(weigh, hold, units), *(_plan_figures(plan, units) if planned else [])],
        "hazards": hazard_groups(job, hold, cuts),
        "notes": job.job.notes or "",
        "dead_end": "" if planned else plan.dead_end or "no first step stays inside the limits",
        "opens": [] if planned else list(plan.opens),
    }


def _facts(job: Job, weigh: WeighResult) -> list[tuple[str, str]]:
    facts = job.job
    return [
        ("Site", facts.site or ""),
        ("Owner", facts.owner or ""),
        ("Called by", facts.caller or ""),
        ("Tree", weigh.species),
        ("Hospital", facts.hospital or "not entered: write it here before starting"),
        ("Crew", ", ".join(facts.crew)),
    ]


def _found_figures(weigh: WeighResult, hold: HoldResult, units: Units) -> list[dict[str, str]]:
    tree, plate = w.mass(weigh.total_kg, units), weigh.plate_kg
    beside = f"root plate beside it: {w.mass(plate, units)[0]} ({w.mass(plate, units)[1]})" if plate else "without its roots"
    load = w.force(hold.building_N, units)
    now = {"label": "On the building now", "likely": load[0], "range": load[1], "note": "all of roof and walls"}
    if hold.status == "not held":
        now |= {"likely": "not known", "range": "", "note": "it is not held as entered"}
    return [{"label": "The tree weighs", "likely": tree[0], "range": tree[1], "note": beside}, now]


def _plan_figures(plan: Plan, units: Units) -> list[dict[str, str]]:
    cuts = [step for step in plan.steps if step.action == "cut"]
    peak = w.force(plan.peak_building_N, units)
    figures = [{"label": "Most on the building", "likely": peak[0], "range": peak[1], "note": "at any moment of the plan"}]
    if cuts:
        figures.append(_heaviest(max(cuts, key=lambda step: step.mass_kg.likely), units))
    kinds = f"{len(plan.steps)} steps with setting and taking away" if len(plan.steps) > len(cuts) else "one card for each"
    figures.append({"label": "Cuts", "likely": str(len(cuts)), "range": "", "note": kinds})
    time = {"label": "Time", "likely": w.duration(plan.minutes), "range": "", "note": "sum of the steps, without breaks"}
    return [*figures, time]


def _heaviest(step: CutStep, units: Units) -> dict[str, str]:
    heavy = w.mass(step.mass_kg, units)
    note = f"{step.piece}, step {step.n}" + (f", {step.method}" if step.method else "")
    return {"label": "Heaviest piece", "likely": heavy[0], "range": heavy[1], "note": note}
