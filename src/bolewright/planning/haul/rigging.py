"""Rope, block and slings against what is let down or lifted, each limit with how far it is confirmed."""

from __future__ import annotations

import math

from bolewright.core.base.range import Range
from bolewright.core.base.sourced import Sourced
from bolewright.core.base.vectors import GRAVITY
from bolewright.core.lifting.blocks import block_load, holding_pull
from bolewright.core.lifting.falls import caught, letting_run
from bolewright.core.lifting.ropes import used
from bolewright.core.lifting.slings import choke_factor, leg_tension
from bolewright.job.model import Job
from bolewright.job.out import Rigging
from bolewright.planning.haul.results import Held, LiftOut
from bolewright.planning.passage.words import at_path
from bolewright.planning.results import CutsResult
from bolewright.reference.rigging import careful, choke_steps, rigging

FREE_CHOKE = math.radians(135.0)  # a choke that hangs freely settles there (manual IS-17880)
LEGS_COUNTED = 2  # of more legs on a stiff log two may hold it all
LIFTED, LOWERED = "crane pick", "lower on a line"


def lifts_out(job: Job, cut: CutsResult | None) -> tuple[LiftOut, ...]:
    """Every piece of the plan that hangs on a rope or hook, with what each part of the gear gets. Raises BadInput."""
    gear = job.rigging
    if gear is None or cut is None:
        return ()
    found = []
    for step in cut.chosen.steps:
        if step.method == LOWERED:
            found.append(LiftOut(step.piece, step.method, step.mass_kg, _lowered(gear, step.mass_kg.high * GRAVITY)))
        elif step.method == LIFTED:
            found.append(LiftOut(step.piece, step.method, step.mass_kg, _lifted(gear, step.mass_kg.high * GRAVITY)))
    return tuple(found)


def _lowered(gear: Rigging, weight: float) -> tuple[Held, ...]:
    """Line, block and the hand on the line, for a piece at its heaviest [N]."""
    held = []
    pull = Range.exact(weight)
    if gear.rope is not None:
        pull = _pull(gear, weight, gear.rope.low)
        end = careful("efficiency", "knot" if gear.rope_end == "knot" else "eye splice")
        factor = rigging("design factor", "lowering line")
        # the peak of a caught piece is set against the lowest factor listed, a piece at rest against the highest
        resting = math.isclose(pull.high, weight)
        design = Sourced(factor.value.high if resting else factor.value.low, factor.source, factor.status)
        found = used(pull.high, gear.rope.low, end, design)
        held.append(Held("line", pull, found.limit, found.words, f"{end.source}; {factor.source}", str(found.status)))
    loads = [block_load(end, gear.block_angle.likely) for end in (pull.low, pull.likely, pull.high)]
    limit = gear.block.low if gear.block is not None else None
    words = "no limit given" if limit is None else "inside the limit" if loads[2] <= limit else "outside the limit"
    held.append(Held("block", Range(*loads), limit, words, "statics; the limit on the block", "measured"))
    bark = rigging("wrap friction", "rope on bark")
    turned = gear.wraps * 2.0 * math.pi
    shares = (bark.value.high, bark.value.likely, bark.value.low)
    ends = zip((pull.low, pull.likely, pull.high), shares, strict=True)
    hand = [holding_pull(end, mu, turned) for end, mu in ends]  # of the peak where the piece is caught, not its weight
    held.append(Held("hand on the line", Range(*hand), None, "what it takes to hold it", bark.source, str(bark.status)))
    return tuple(held)


def _pull(gear: Rigging, weight: float, breaking: float) -> Range:
    """Peak pull in the line: at rest, caught, or let run."""
    fall = gear.fall.high
    if fall <= 0.0:
        return Range.exact(weight)
    if gear.run is not None:
        mean = letting_run(weight, fall, gear.run.low)
        return Range(mean, mean, 2.0 * mean)  # a hand brake is not steady: up to twice (judgement)
    modulus = rigging("rope modulus", "low-stretch double braid lowering line, over its breaking strength")
    soft, stiff = (
        caught(weight, fall, gear.rope_length.low, share * breaking)
        for share in (modulus.value.low, modulus.value.high)
    )
    return Range(soft.peak.low, max(soft.peak.likely, soft.peak.low), max(stiff.peak.high, soft.peak.likely))


def _lifted(gear: Rigging, weight: float) -> tuple[Held, ...]:
    """One sling leg of a lift at its heaviest [N]."""
    alone = gear.slings == 1 and gear.hitch != "basket"
    with at_path("rigging.sling_angle"):
        angle = math.pi / 2.0 if alone else gear.sling_angle.low  # one leg hangs plumb
        tension = leg_tension(weight, min(gear.slings, LEGS_COUNTED), angle)
    if gear.sling is None:
        return (Held("sling leg", Range.exact(tension), None, "no limit given", "statics", "derived"),)
    hitch = {"choker": "choker, synthetic", "basket": "basket, legs upright"}
    left = rigging("hitch", hitch[gear.hitch]) if gear.hitch in hitch else None
    limit = gear.sling.low * (left.value.low if left else 1.0)
    limit *= choke_factor(FREE_CHOKE, choke_steps()) if gear.hitch == "choker" else 1.0
    words = "inside the limit" if tension <= limit else "outside the limit"
    source, status = (left.source, str(left.status)) if left else ("tag of the sling", "measured")
    return (Held("sling leg", Range.exact(tension), limit, words, source, status),)
