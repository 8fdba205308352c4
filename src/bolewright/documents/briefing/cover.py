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
        "dead_end": "" if planned else plan.dead_end or "no order stays inside the limits",
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
    tree, beside = w.mass(weigh.total_kg, units), "without its roots"
    if weigh.plate_kg is not None:
        plate = w.mass(weigh.plate_kg, units)
        beside = f"root plate beside it: {plate[0]} ({plate[1]})"
    load = w.force(hold.building_N, units)
    now = _figure("On the building now", load, "all of roof and walls")
    if hold.status == "not held":
        now |= {"likely": "not known", "range": "", "note": "it is not held as entered"}
    return [_figure("The tree weighs", tree, beside), now]


def _plan_figures(plan: Plan, units: Units) -> list[dict[str, str]]:
    cuts = [step for step in plan.steps if step.action == "cut"]
    peak = w.force(plan.peak_building_N, units)
    figures = [_figure("Most on the building", peak, "at any moment of the plan")]
    if cuts:
        figures.append(_heaviest(max(cuts, key=lambda step: step.mass_kg.likely), units))
    more = len(plan.steps) > len(cuts)
    kinds = f"{len(plan.steps)} steps with setting and taking away" if more else "one card for each"
    time = _figure("Time", (w.duration(plan.minutes), ""), "sum of the steps, without breaks")
    return [*figures, _figure("Cuts", (str(len(cuts)), ""), kinds), time]


def _figure(label: str, pair: w.Pair, note: str) -> dict[str, str]:
    return {"label": label, "likely": pair[0], "range": pair[1], "note": note}


def _heaviest(step: CutStep, units: Units) -> dict[str, str]:
    note = f"{step.piece}, step {step.n}" + (f", {step.method}" if step.method else "")
    return _figure("Heaviest piece", w.mass(step.mass_kg, units), note)
