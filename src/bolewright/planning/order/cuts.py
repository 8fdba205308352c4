"""In what order to cut, what to prop, and what each first cut would do."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from bolewright.core.base.range import Range
from bolewright.core.cutting.judge import Judge, mask_to_bits, pieces_of
from bolewright.core.cutting.order import moves_from
from bolewright.job.model import Job
from bolewright.planning.holding.hold import building_load
from bolewright.planning.holding.model import Model, model_of
from bolewright.planning.order.alternatives import by_hand, with_crane
from bolewright.planning.order.facts import facts_of
from bolewright.planning.order.openings import openings
from bolewright.planning.order.plans import plan_of
from bolewright.planning.order.proptrials import with_props
from bolewright.planning.order.refused import in_full
from bolewright.planning.order.search import Memory, piece_tree, rules_of
from bolewright.planning.results import CutsResult, NextCut, Plan

Report = Callable[[str, float], None]
DONE = "Nothing is left to cut."
NOT_HELD = "The tree is not held where it lies: secure it before any cut is planned."


def cuts(job: Job, progress: Report | None = None, model: Model | None = None) -> CutsResult:
    """The chosen order of work with its alternatives, or the dead end and what would open it.

    progress(words, share done) is called as the work goes on and may raise to cancel. Raises NotEnoughKnown when
    heights or supports are missing, BadInput for a job that cannot be.
    """
    report = progress or _silent
    report("the tree as found", 0.0)
    model = model_of(job) if model is None else model
    if not model.left.any():
        return _nothing(model, DONE, "plan")
    if model.now.held.mean() < job.limits.share.likely:
        return _nothing(model)
    memory = Memory()
    tried = [by_hand(model, _counter(report, "an order by hand", 0.05), memory)]
    props = with_props(model, tried[0], _counter(report, "places for props", 0.25))
    if props is not None:
        tried.append(props)
    crane = with_crane(model, _counter(report, "an order with a crane", 0.5), memory)
    if crane is not None:
        tried.append(crane)
    best = next((t for t in tried if t.found.order.found), tried[0])
    opens: tuple[str, ...] = ()
    if not best.found.order.found:
        opens = openings(model, best, _counter(report, "what would open an order", 0.6), memory)
    report("forces of every step", 0.75)
    plans = [plan_of(t, opens if t is best else ()) for t in tried]
    chosen = plans[tried.index(best)]
    report("the plan again by another method", 0.9)
    return CutsResult(
        status=chosen.status,
        chosen=chosen,
        alternatives=tuple(p for p in plans if p is not chosen),
        next_cuts=next_cuts(model),
        samples=len(model.system.samples),
        states_seen=sum(t.found.order.states_seen for t in tried),
        rechecked=_rechecked(chosen),
        notes=model.notes,
        filled_in=model.filled,
    )


def next_cuts(model: Model) -> tuple[NextCut, ...]:
    """Every cut possible now, the ones that help the building most first."""
    facts, tree, begin = facts_of(model), piece_tree(model), mask_to_bits(model.left)
    present = np.ones(model.system.count, dtype=bool)
    judge = Judge(model.system, tree, rules_of(model, {}), facts, model.body.limits, present)
    moves = [m for m in moves_from(tree, tree.beyond(), begin) if m.at >= 0]
    judged = judge(begin, moves)
    judge.solve([m.after for m in moves], near=begin)
    on, now = judge.rules.building, building_load(model, model.now)
    rows = []
    for j in judged:
        takes = pieces_of(j.move.takes)
        if j.move.at not in takes and takes != [0]:  # the butt side only where it is the butt piece alone
            continue
        after = judge.seen[j.move.after]
        change = (after.force[on].sum(axis=0) - now)[after.held] if after.held.any() else np.zeros(1)
        rows.append(
            NextCut(
                piece=model.body.pieces[j.move.at if j.move.at in takes else 0].id,
                takes=tuple(model.body.pieces[p].id for p in takes),
                mass_kg=Range.of_samples(facts.mass[takes].sum(axis=0)),
                building_change_N=Range.of_samples(change),
                allowed=not j.refused,
                why=in_full(model, present, judge, begin, j) or j.method,
            )
        )
    return tuple(sorted(rows, key=lambda r: (not r.allowed, r.building_change_N.likely)))


def _nothing(model: Model, said: str = NOT_HELD, status: str = "no plan") -> CutsResult:
    """No step at all: there is nothing left to cut, or nothing may be cut before the tree is held."""
    load = Range.of_samples(building_load(model, model.now))
    plan = Plan("none", status, (), (), load, load, 0.0, 0.0, (), said, said if status == "no plan" else "", ())
    return CutsResult(
        status, plan, (), (), len(model.system.samples), 0, "nothing to check", model.notes, model.filled
    )


def _rechecked(plan: Plan) -> str:
    words = [s.recheck for s in plan.steps if s.recheck]
    return f"{len(words)} states checked again by a second method" if words else "no states to check"


def _silent(_: str, __: float) -> None:
    return None


def _counter(report: Report, words: str, share: float) -> Callable[[int], None]:
    """Tells how many states have been seen, now and then."""

    def seen(count: int) -> None:
        if count % 50 == 0:
            report(f"{words}: {count} states", share)

    report(words, share)
    return seen
