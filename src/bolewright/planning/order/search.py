"""Finding an order: screened on some of the samples, then every step of the found order confirmed on all of them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from bolewright.core.contact.state import Bools, reduced
from bolewright.core.contact.supports import Contact
from bolewright.core.cutting.handling import HandlingLimits, PieceFacts
from bolewright.core.cutting.judge import Judge, Rules, Seen, mask_to_bits
from bolewright.core.cutting.order import Asked, Judged, Move, Order, PieceTree, find_order, moves_from
from bolewright.core.tree.spec import STEM
from bolewright.job.model import Job
from bolewright.planning.holding.model import Model
from bolewright.planning.holding.plates import plate_outcomes
from bolewright.planning.order.facts import shadow
from bolewright.planning.order.wanted import stays_and_waits

SPRING = 6.0  # times the movement allowed at a support is what a free limb tip may spring (common practice)
OUT_OF_REACH = 2.0  # times its tolerance: a place further off than this cannot be reached by an allowed step
SCREEN = 32  # samples used to price moves during the search
MOST_ROUNDS = 40  # how often an order may fail on all samples before the search gives up

Progress = Callable[[int], None] | None


@dataclass
class Memory:
    """Solved states of one model with one set of contacts, on some and on all samples: forces do not depend on the
    ways out, so searches with other limits can share them."""

    quick: dict[int, Seen] = field(default_factory=dict)
    full: dict[int, Seen] = field(default_factory=dict)


@dataclass(frozen=True)
class Found:
    """An order with the judge that confirmed it on all samples. present (n,): contacts in place; which: the numbers of
    those the judge solves for."""

    order: Order
    judge: Judge
    tree: PieceTree
    start: int
    present: Bools
    which: NDArray[np.int64]


def rules_of(model: Model, caps: dict[str, float]) -> Rules:
    """What a cut may not do, from the job's limits, the props' capacities [N] and the state as found."""
    job, found, contacts = model.job, model.found, model.contacts
    weight = float(-(model.system.integrals.weight.sum(axis=(0, 1))[2]))
    floor = job.limits.floor.likely * weight
    building = np.array([c.building for c in contacts], dtype=bool)
    limit = np.full(found.force.shape, np.inf)
    given = job.limits.building
    for i, c in enumerate(contacts):
        if c.limit is not None:
            limit[i] = c.limit
        elif c.id in caps:
            limit[i] = caps[c.id]
        elif c.building and given is None:
            limit[i] = found.force[i] + floor
    together = []
    for rows in _saddles(contacts):
        if np.isfinite(limit[rows]).all():
            together.append((rows, limit[list(rows)].sum(axis=0)))
            limit[list(rows)] = np.inf
    total = found.force[building].sum(axis=0) + floor if given is None else np.full(found.force.shape[1], given.likely)
    tolerance = np.array([_tolerance(c, job) for c in contacts])
    return Rules(job.limits.share.likely, limit, building, total, tolerance, tuple(together))


def _saddles(contacts: tuple[Contact, ...]) -> list[tuple[int, ...]]:
    """Contacts that belong to one support, two by two."""
    rows: dict[str, list[int]] = {}
    for i, c in enumerate(contacts):
        rows.setdefault(f"{c.id}/{c.jacked}", []).append(i)
    return [tuple(r) for r in rows.values() if len(r) > 1]


def _tolerance(contact: Contact, job: Job) -> float:
    """How far the wood there may move in one step; the free tips of limbs may spring, but not so far that it rolls."""
    if contact.tolerance is not None:
        return contact.tolerance
    free = contact.kind == "possible" and contact.member != STEM
    return SPRING * job.limits.movement.likely if free else job.limits.movement.likely


def worth_solving(model: Model, present: Bools) -> NDArray[np.int64]:
    """Numbers of the contacts in place that an allowed step can load."""
    near = [
        c.touching or c.kind != "possible" or c.gap <= OUT_OF_REACH * _tolerance(c, model.job) for c in model.contacts
    ]
    return np.flatnonzero(present & np.array(near, dtype=bool))


def piece_tree(model: Model) -> PieceTree:
    """The pieces as the search sees them: either side of a cut may be the one that leaves."""
    stays, waits = stays_and_waits(model)
    parents = tuple(int(p) for p in model.body.parents)
    return PieceTree(parent=parents, stays=stays, ends=standing_ends(model), waits=waits)


def standing_ends(model: Model) -> frozenset[int]:
    """States at which the rest may stand up with its root plate: stubs clear of every building that do not fall
    forward. From there on it is a standing stub, or lies still, and no longer on the building."""
    body = model.body
    if body.grown.spec.plate is None:
        return frozenset()
    stems = [p for p, piece in enumerate(body.pieces) if piece.member == STEM]
    ends, bits = set(), 0
    for p in stems:
        bits |= 1 << p
        outline = shadow(body, tuple(stems[: p + 1]))
        clear = not any(outline.intersects(r.plan) for r in body.site.roofs)
        outcome = plate_outcomes(model, (body.pieces[p].end,))[0].outcome
        if clear and outcome in ("stands up", "stays"):
            ends.add(bits)
    return frozenset(ends)


def search(
    model: Model,
    facts: PieceFacts,
    limits: HandlingLimits,
    present: Bools,
    progress: Progress = None,
    start: int | None = None,
    caps: dict[str, float] | None = None,
    memory: Memory | None = None,
) -> Found:
    """The best order with these contacts in place and these ways out.

    Moves are priced on SCREEN samples; the steps of the order are then priced on all of them, and a step that fails
    there is struck out and the search run again, until an order stands or none is left. start: bits of the pieces on
    at first, those left now when not given. caps [N]: limits of props by contact id, beside the job's own. memory:
    states already solved with the same model and contacts.
    """
    tree, which = piece_tree(model), worth_solving(model, present)
    system, rules = reduced(model.system, which), rules_of(model, caps or {}).of(which)
    everywhere = np.ones(len(which), dtype=bool)
    begin = mask_to_bits(model.left) if start is None else start
    full = Judge(system, tree, rules, facts, limits, everywhere)
    some = screened(model, SCREEN)
    quick = Judge(system.take(some), tree, rules.take(some), _fewer(facts, some), limits, everywhere, ways=full.ways)
    if memory is not None:
        quick.seen, full.seen = memory.quick, memory.full
    for p in range(len(tree.parent)):
        full.way(1 << p)
    full.state(begin)
    struck: dict[tuple[int, int], Judged] = {}
    judge = _Struck(quick, struck)
    load = float(np.median(model.now.force[which[rules.building]].sum(axis=0)))
    order = find_order(tree, judge, load, progress, begin)
    if not order.found and tree.stays and _only_carries(tree, full, order):
        tree = full.tree = quick.tree = replace(tree, stays=order.dead_end)
        order = find_order(tree, judge, load, progress, begin)
    for _ in range(MOST_ROUNDS):
        if not order.found:
            break
        before = states_before(order, begin)
        steps = full.judged([(state, s.move) for state, s in zip(before, order.steps, strict=True)])
        bad = [(s, j) for s, j in zip(before, steps, strict=True) if j.refused]
        if not bad:
            order = Order(tuple(steps), True, max([load, *(s.peak for s in steps)]), order.states_seen)
            break
        struck.update({(state, j.move.takes): j for state, j in bad})
        order = find_order(tree, judge, load, progress, begin)
    return Found(order, full, tree, begin, present, which)


def _only_carries(tree: PieceTree, judge: Judge, order: Order) -> bool:
    """Whether all that is left with the wood marked to stay is there to hold it: without any more of it, what is left
    would not be held."""
    moves = [m for m in moves_from(tree, tree.beyond(), order.dead_end) if m.after]
    return all(float(judge.state(m.after).held.mean()) < judge.rules.share for m in moves)


def states_before(order: Order, start: int) -> list[int]:
    """The state (bits) before each step."""
    return [start, *(s.move.after for s in order.steps)][: len(order.steps)]


@dataclass(frozen=True)
class _Struck:
    """A judge with some moves struck out by the confirmation."""

    judge: Judge
    struck: dict[tuple[int, int], Judged]

    def at_least(self, state: int, moves: list[Move]) -> list[Judged]:
        return self.judge.at_least(state, moves)

    def judged(self, asked: Asked) -> list[Judged]:
        return [self.struck.get((a[0], a[1].takes), j) for a, j in zip(asked, self.judge.judged(asked), strict=True)]


def screened(model: Model, count: int) -> NDArray[np.int64]:
    """Numbers of samples spread over the load on the building, heaviest and lightest among them."""
    building = np.array([c.building for c in model.contacts], dtype=bool)
    order = np.argsort(model.found.force[building].sum(axis=0), kind="stable")
    return np.asarray(order[np.unique(np.linspace(0, len(order) - 1, min(count, len(order))).round().astype(int))])


def _fewer(facts: PieceFacts, index: NDArray[np.int64]) -> PieceFacts:
    return replace(facts, mass=facts.mass[:, index])


def limits_for(job: Job, base: HandlingLimits, crane: float = 0.0) -> HandlingLimits:
    """The crew's ways out with a crane of this capacity [kg]."""
    return replace(base, crane=crane)
