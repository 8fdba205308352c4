"""Finding an order: screened on some of the samples, then every step of the found order confirmed on all of them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from bolewright.core.contact.state import Bools, reduced
from bolewright.core.cutting.handling import HandlingLimits, PieceFacts
from bolewright.core.cutting.judge import Judge, Seen, mask_to_bits
from bolewright.core.cutting.order import Asked, Judged, Move, Order, PieceTree, find_order, moves_from
from bolewright.core.tree.spec import STEM
from bolewright.job.model import Job
from bolewright.planning.holding.model import Model
from bolewright.planning.holding.plates import plate_outcomes
from bolewright.planning.order.facts import shadow
from bolewright.planning.order.rules import rules_of, worth_solving
from bolewright.planning.order.wanted import CLEAR, over_building, stays_and_waits

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
    those the judge solves for. marked: pieces (bits) the crew marked never to be taken, with all between them; bound:
    there is no order because what is marked needs all the rest to lie on."""

    order: Order
    judge: Judge
    tree: PieceTree
    start: int
    present: Bools
    which: NDArray[np.int64]
    marked: int = 0
    bound: bool = False

    @property
    def left_behind(self) -> int:
        """Pieces (bits) that were to come off and stay on because they hold what is marked."""
        return self.tree.stays & ~self.marked

    @property
    def whole(self) -> bool:
        """Whether there is an order and it leaves nothing behind."""
        return self.order.found and not self.left_behind

    @property
    def stops(self) -> int:
        """The state (bits) in which nothing more is cut."""
        if not self.order.found:
            return self.order.dead_end
        return self.order.steps[-1].move.after if self.order.steps else self.start


def piece_tree(model: Model) -> PieceTree:
    """The pieces as the search sees them: either side of a cut may be the one that leaves."""
    stays, waits = stays_and_waits(model)
    parents = tuple(int(p) for p in model.body.parents)
    near = over_building(model) if model.job.limits.until == CLEAR else 0
    return PieceTree(parent=parents, stays=stays, ends=standing_ends(model), waits=waits, near=near)


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

    start: bits of the pieces on at first, those left now when not given. caps [N]: limits of props by contact id,
    beside the job's own. memory: states already solved with the same model and contacts.
    """
    which, begin = worth_solving(model, present), mask_to_bits(model.left) if start is None else start
    full, quick = _judges(model, facts, limits, which, caps or {}, memory or Memory())
    full.state(begin)
    load = float(np.median(model.now.force[which[full.rules.building]].sum(axis=0)))

    def confirmed() -> Order:
        return _confirmed(full, quick, load, begin, progress)

    marked, order = full.tree.stays, confirmed()
    bound = bool(marked) and not order.found and _only_carries(full, order)
    if bound and order.dead_end != begin:  # what is left only holds what is marked: there the order ends
        full.tree = quick.tree = replace(full.tree, stays=order.dead_end)
        order = confirmed()
    if order.found and not order.steps and begin == full.tree.stays:
        order, bound = Order((), False, float("inf"), order.states_seen, begin), True
    return Found(order, full, full.tree, begin, present, which, marked, bound and not order.found)


def _judges(
    model: Model,
    facts: PieceFacts,
    limits: HandlingLimits,
    which: NDArray[np.int64],
    caps: dict[str, float],
    memory: Memory,
) -> tuple[Judge, Judge]:
    """A judge on all samples and one on SCREEN of them, for the contacts of these numbers."""
    tree, system, rules = piece_tree(model), reduced(model.system, which), rules_of(model, caps).of(which)
    everywhere, some = np.ones(len(which), dtype=bool), screened(model, SCREEN)
    full = Judge(system, tree, rules, facts, limits, everywhere, memory.full)
    # ways out are chosen by the heavy end of all samples, by both alike
    quick = Judge(system.take(some), tree, rules.take(some), facts, limits, everywhere, memory.quick, full.ways)
    return full, quick


def _confirmed(full: Judge, quick: Judge, load: float, begin: int, progress: Progress) -> Order:
    """The best order by the quick judge whose every step the full one allows, priced by the full one.

    A step that fails is struck out and the search run again, until an order stands or none is left. load [N]: on the
    building now.
    """
    struck: dict[tuple[int, Move], Judged] = {}
    for _ in range(MOST_ROUNDS):
        order = find_order(full.tree, _Struck(quick, struck), load, progress, begin)
        if not order.found:
            return order
        asked = list(zip(states_before(order, begin), [s.move for s in order.steps], strict=True))
        steps = full.judged(asked)
        bad = {a: j for a, j in zip(asked, steps, strict=True) if j.refused}
        if not bad:
            return replace(order, steps=tuple(steps), peak=max([load, *(s.peak for s in steps)]))
        struck.update(bad)
    first = next(i for i, j in enumerate(steps) if j.refused)  # given up: the last order is none
    return Order((), False, float("inf"), order.states_seen, asked[first][0], (steps[first],), tuple(steps[:first]))


def _only_carries(judge: Judge, order: Order) -> bool:
    """Whether all that is left at the dead end with the wood marked to stay is there to hold it: without any more of
    it, what is left would not be held."""
    tree = judge.tree
    moves = [m for m in moves_from(tree, tree.beyond(), order.dead_end) if m.after]
    return all(float(judge.state(m.after).held.mean()) < judge.rules.share for m in moves)


def states_before(order: Order, start: int) -> list[int]:
    """The state (bits) before each step."""
    return [start, *(s.move.after for s in order.steps)][: len(order.steps)]


@dataclass(frozen=True)
class _Struck:
    """A judge with some moves struck out by the confirmation."""

    judge: Judge
    struck: dict[tuple[int, Move], Judged]

    def at_least(self, state: int, moves: list[Move]) -> list[Judged]:
        return self.judge.at_least(state, moves)

    def judged(self, asked: Asked) -> list[Judged]:
        return [self.struck.get(a, j) for a, j in zip(asked, self.judge.judged(asked), strict=True)]


def screened(model: Model, count: int) -> NDArray[np.int64]:
    """Numbers of samples spread over the load on the building, heaviest and lightest among them."""
    building = np.array([c.building for c in model.contacts], dtype=bool)
    order = np.argsort(model.found.force[building].sum(axis=0), kind="stable")
    return np.asarray(order[np.unique(np.linspace(0, len(order) - 1, min(count, len(order))).round().astype(int))])


def limits_for(job: Job, base: HandlingLimits, crane: float = 0.0) -> HandlingLimits:
    """The crew's ways out with a crane of this capacity [kg]."""
    return replace(base, crane=crane)
