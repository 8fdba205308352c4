"""Finding an order: screened on some of the samples, then every step of the found order confirmed on all of them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from bolewright.core.contact.actions import Array
from bolewright.core.contact.state import Bools
from bolewright.core.cutting.handling import HandlingLimits, PieceFacts
from bolewright.core.cutting.judge import Judge, Rules
from bolewright.core.cutting.order import Judged, Move, Order, PieceTree, find_order
from bolewright.job.model import Job
from bolewright.planning.model import Model

SCREEN = 48  # samples used to price moves during the search
MOST_ROUNDS = 40  # how often an order may fail on all samples before the search gives up

Progress = Callable[[int], None] | None


@dataclass(frozen=True)
class Found:
    """An order with the judge that confirmed it on all samples."""

    order: Order
    judge: Judge
    tree: PieceTree


def rules_of(model: Model) -> Rules:
    """What a cut may not do, from the job's limits and the state as found."""
    job, found, contacts = model.job, model.found, model.contacts
    weight = float(-(model.system.integrals.weight.sum(axis=(0, 1))[2]))
    floor = job.limits.floor.likely * weight
    building = np.array([c.building for c in contacts], dtype=bool)
    limit = np.full(found.force.shape, np.inf)
    given = job.limits.building
    for i, c in enumerate(contacts):
        if c.limit is not None:
            limit[i] = c.limit
        elif c.building and given is None:
            limit[i] = found.force[i] + floor
    total = found.force[building].sum(axis=0) + floor if given is None else np.full(found.force.shape[1], given.likely)
    tolerance = np.array([c.tolerance if c.tolerance is not None else job.limits.movement.likely for c in contacts])
    return Rules(job.limits.share.likely, limit, building, total, tolerance)


def piece_tree(model: Model) -> PieceTree:
    """The pieces as the search sees them: either side of a cut may be the one that leaves."""
    return PieceTree(parent=tuple(int(p) for p in model.body.parents))


def search(
    model: Model, facts: PieceFacts, limits: HandlingLimits, present: Bools, progress: Progress = None
) -> Found:
    """The best order with these contacts in place and these ways out.

    Moves are priced on SCREEN samples; the steps of the order are then priced on all of them, and a step that fails
    there is struck out and the search run again, until an order stands or none is left.
    """
    tree, rules = piece_tree(model), rules_of(model)
    full = Judge(model.system, tree, rules, facts, limits, present)
    some = _spread_samples(model, SCREEN)
    quick = Judge(
        model.system.take(some), tree, rules.take(some), _fewer(facts, some), limits, present, ways=full.ways
    )
    for bits in (tree.everything,):
        for p in range(len(tree.parent)):
            full.way(1 << p)
        full.state(bits)
    struck: dict[tuple[int, int], Judged] = {}
    judge = _Struck(quick, struck)
    start = float(np.median(model.found.force[rules.building].sum(axis=0)))
    order = find_order(tree, judge, start, progress)
    for _ in range(MOST_ROUNDS):
        if not order.found:
            break
        steps = confirmed(full, tree, order)
        bad = [(s, j) for s, j in zip(_states(tree, order), steps, strict=True) if j.refused]
        if not bad:
            order = Order(tuple(steps), True, max([start, *(s.peak for s in steps)]), order.states_seen)
            break
        struck.update({(state, j.move.takes): j for state, j in bad})
        order = find_order(tree, judge, start, progress)
    return Found(order, full, tree)


def confirmed(full: Judge, tree: PieceTree, order: Order) -> list[Judged]:
    """The steps of an order priced on all samples."""
    return [full(state, [s.move])[0] for state, s in zip(_states(tree, order), order.steps, strict=True)]


def _states(tree: PieceTree, order: Order) -> list[int]:
    """The state before each step."""
    return [tree.everything, *(s.move.after for s in order.steps)][: len(order.steps)]


@dataclass(frozen=True)
class _Struck:
    """A judge with some moves struck out by the confirmation."""

    judge: Judge
    struck: dict[tuple[int, int], Judged]

    def __call__(self, state: int, moves: list[Move]) -> list[Judged]:
        return [self.struck.get((state, j.move.takes), j) for j in self.judge(state, moves)]


def _spread_samples(model: Model, count: int) -> Array:
    """Numbers of samples spread over the load on the building, heaviest and lightest among them."""
    building = np.array([c.building for c in model.contacts], dtype=bool)
    order = np.argsort(model.found.force[building].sum(axis=0), kind="stable")
    return np.asarray(order[np.unique(np.linspace(0, len(order) - 1, min(count, len(order))).round().astype(int))])


def _fewer(facts: PieceFacts, index: Array) -> PieceFacts:
    return replace(facts, mass=facts.mass[:, index])


def limits_for(job: Job, base: HandlingLimits, crane: float = 0.0) -> HandlingLimits:
    """The crew's ways out with a crane of this capacity [kg]."""
    return HandlingLimits(base.carry, base.drop, base.drop_height, base.roll, base.line, crane)
