"""In what order to cut, and what to prop."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from bolewright.core.base.range import Range
from bolewright.core.cutting.judge import mask_to_bits
from bolewright.job.model import Job
from bolewright.planning.holding.hold import building_load
from bolewright.planning.holding.model import Model, model_of
from bolewright.planning.order.alternatives import BY_HAND, by_hand, with_crane
from bolewright.planning.order.nextcuts import next_cuts
from bolewright.planning.order.openings import openings
from bolewright.planning.order.plans import plan_of
from bolewright.planning.order.proptrials import with_own, with_props
from bolewright.planning.order.search import Memory, standing_ends
from bolewright.planning.order.tried import Tried
from bolewright.planning.order.wanted import (
    CLEAR,
    marks_in_words,
    nothing_to_cut,
    over_building,
    stays_and_waits,
    until_clear,
)
from bolewright.planning.results import CutsResult, Plan

Report = Callable[[str, float], None]
DONE = "Nothing is left to cut."
STUB = "Only the stub on its root plate is left, and no cut of it is planned."
IS_CLEAR = "No wood is on the building or over it: nothing is left to cut until it is clear."
NOT_HELD = "The tree is not held where it lies: secure it before any cut is planned."


def cuts(job: Job, progress: Report | None = None, model: Model | None = None) -> CutsResult:
    """The chosen order of work with its alternatives, or the dead end and what would open it.

    progress(words, share done) is called as the work goes on and may raise to cancel. Raises NotEnoughKnown when
    heights or supports are missing, BadInput for a job that cannot be.
    """
    report = progress or _silent
    report("the tree as found", 0.0)
    model = model_of(job) if model is None else model
    known = _known_at_once(model)
    if known is not None:
        return known
    memory = Memory()
    tried = _searched(model, report, memory)
    hand = next(t for t in tried if t.title == BY_HAND)
    orders = [t for t in tried if t.found.order.found]
    best = min(orders, key=lambda t: t.found.left_behind != 0, default=hand)  # leaving nothing behind goes first
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


def _known_at_once(model: Model) -> CutsResult | None:
    """The answer where no order has to be looked for: nothing to cut, not held, or clear already."""
    left, marked = mask_to_bits(model.left), stays_and_waits(model)[0]
    if not left or left in standing_ends(model):
        return _nothing(model, STUB if left else DONE, "plan")
    if model.now.held.mean() < model.job.limits.share.likely:
        return _nothing(model)
    if not left & ~marked:
        said = nothing_to_cut(model, left, some=False)
        return replace(_nothing(model, f"{said} {marks_in_words(model)}"), next_cuts=next_cuts(model))
    if model.job.limits.until == CLEAR and not over_building(model):
        return _nothing(model, IS_CLEAR, "plan")
    return None


def _searched(model: Model, report: Report, memory: Memory) -> list[Tried]:
    """The ways of doing the work until all is off; where none gets that far and the job leaves it open, those until
    the building is clear."""
    tried = _ways(model, report, memory)
    nearer = None if any(t.found.order.found for t in tried) else until_clear(model)
    if nearer is None:
        return tried
    again = _ways(nearer, report, memory)
    return again if any(t.found.order.found for t in again) else tried


def _ways(model: Model, report: Report, memory: Memory) -> list[Tried]:
    """The ways of doing the work that there are, each with its order or without: the crew's own props first."""
    hand = by_hand(model, _counter(report, "an order by hand", 0.05), memory)
    own = with_own(model, _counter(report, "an order with your props", 0.15))
    props = with_props(model, hand, _counter(report, "places for props", 0.25))
    crane = with_crane(model, _counter(report, "an order with a crane", 0.5), memory)
    return [t for t in (own, hand, props, crane) if t is not None]


def _nothing(model: Model, said: str = NOT_HELD, status: str = "no plan") -> CutsResult:
    """No step at all: there is nothing left to cut, or nothing may be cut before the tree is held."""
    load = Range.of_samples(building_load(model, model.now))
    plan = Plan("none", status, (), (), load, load, 0.0, 0.0, (), said, said if status == "no plan" else "", ())
    return CutsResult(status, plan, (), (), len(model.system.samples), 0, "nothing to check", model.notes, model.filled)


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
