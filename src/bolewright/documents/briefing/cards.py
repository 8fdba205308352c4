"""One card per step: what the crew boss holds in the hand at the saw."""

from __future__ import annotations

from typing import Any

from bolewright.documents.briefing import words as w
from bolewright.documents.briefing.hazards import step_cautions
from bolewright.documents.briefing.holding import forces_table
from bolewright.documents.briefing.order import place_data
from bolewright.documents.briefing.pictures import Pictures, cropped, picture
from bolewright.drawings import section, section_view, strip
from bolewright.drawings import units as u
from bolewright.drawings.type_widths import Box
from bolewright.drawings.units import Units
from bolewright.job.model import Job
from bolewright.planning.results import Bind, CutStep, Plan, WeighResult

# The strip's head and foot and the words beside the cut face repeat what the card says in larger type: cut away.
STRIP_CROP = Box(4.0, strip.TOP + 2.0, strip.WIDTH - 4.0, strip.HEIGHT - strip.BOTTOM - 2.0)
FACE_CROP = Box(8.0, 8.0, 384.0, section.HEIGHT - 8.0)


def cards(job: Job, weigh: WeighResult, plan: Plan, pictures: Pictures) -> list[dict[str, Any]]:
    """The cards in order."""
    return [_card(step, job, weigh, plan, pictures) for step in plan.steps]


def _card(step: CutStep, job: Job, weigh: WeighResult, plan: Plan, pictures: Pictures) -> dict[str, Any]:
    """One card."""
    units = pictures.units
    place = next((place for place in plan.places if place.id == step.piece), None) if step.action != "cut" else None
    return {
        "n": step.n,
        "of": len(plan.steps),
        "action": step.action,
        "verb": w.VERBS.get(step.action, step.action),
        "piece": step.piece,
        "takes": w.listed([piece for piece in step.takes if piece != step.piece], 8),
        "method": step.method,
        "mass": w.mass(step.mass_kg, units) if step.mass_kg.high > 0 else ("", ""),
        "where": w.place_on(step.member, step.at_m, units),
        "size": _size(step, weigh, units),
        "strip": cropped(pictures.strip(plan, step.n), STRIP_CROP),
        "saw": _saw(step, job, units) if step.bind is not None else None,
        "place": place_data(place, units) if place is not None else None,
        "stand": step.stand,
        "stays": w.moved(step.stays, units),
        "leaves": w.moved(step.leaves, units) if step.action == "cut" or step.leaves.kind != "held" else "",
        "forces": forces_table(step.forces_before, step.forces_after, units),
        "building": {
            "before": w.force(step.building_before_N, units),
            "after": w.force(step.building_after_N, units),
            "peak": w.force(step.building_peak_N, units),
        },
        "why": step.why,
        "watch": list(step.watch),
        "stop": list(step.stop),
        "minutes": w.duration(step.minutes),
        "recheck": step.recheck,
        "cautions": step_cautions(step, plan),
    }


def _size(step: CutStep, weigh: WeighResult, units: Units) -> str:
    """How thick at the cut, and how long the piece is where that was weighed."""
    if step.action != "cut":
        return ""
    long = next((piece.end_m - piece.start_m for piece in weigh.pieces if piece.id == step.piece), None)
    thick = f"{u.size(step.diameter_m, units)} thick at the cut"
    return thick + (f", {u.length(long, units)} long" if long is not None else "")


def _saw(step: CutStep, job: Job, units: Units) -> dict[str, Any]:
    """Where to start, how deep, where to finish, and the cut face."""
    bind = step.bind
    assert bind is not None
    face = section_view(step.diameter_m, _shell(job, step), bind, (), f"Cut face of step {step.n}", units)
    return {
        "face": cropped(picture(face), FACE_CROP),
        "kind": bind.kind,
        "words": bind.words,
        "squeezed": "" if bind.kind == "no bind" else f"{u.clock(bind.compression_clock)} side",
        "start": f"{u.clock(bind.start_clock)}, at most {u.size(bind.start_depth_m, units)} deep",
        "finish": u.clock(bind.finish_clock),
        "kerf": w.kerf(bind.kerf_mm, units),
        "energy": w.energy(bind.release_J, units),
        "share": _share(bind),
        "spring": bind.spring_pole,
    }


def _share(bind: Bind) -> str:
    """How near the wood is to breaking by itself."""
    share = bind.stress_share
    low, likely, high = (f"{value:.0%}" for value in (share.low, share.likely, share.high))
    return f"{likely} of what breaks it" + (f" ({low} to {high})" if low != high else "")


def _shell(job: Job, step: CutStep) -> tuple[tuple[float, float], ...]:
    """Sound wood entered for the place of the cut, as (clock, depth)."""
    for decay in job.tree.decay:
        if decay.member == step.member and decay.from_.likely <= step.at_m <= decay.to.likely:
            return tuple((clock, depth.likely) for clock, depth in decay.shells)
    return ()
