"""The ways to do it, side by side: by hand, with props, with a crane."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from bolewright.core.contact.actions import Array
from bolewright.core.contact.state import Bools
from bolewright.core.cutting.handling import HandlingLimits
from bolewright.core.cutting.judge import Judge
from bolewright.core.cutting.order import moves_from
from bolewright.core.props.option import PropOption
from bolewright.planning.facts import facts_of
from bolewright.planning.model import Model, model_of
from bolewright.planning.props import JACKED, PropPlace, option_for, prop_places, tightened
from bolewright.planning.search import SCREEN, Found, Memory, limits_for, piece_tree, rules_of, screened, search

Seen = Callable[[int], None]
MOST_SINGLE = 4  # props searched in full, best first
MOST_PAIRS = 4


@dataclass(frozen=True)
class PropUse:
    """A prop of a plan: where, the indices of its two contacts, the force it is jacked to, and how it is built."""

    place: PropPlace
    contacts: tuple[int, int]
    jacked: float
    option: PropOption | None


@dataclass(frozen=True)
class Tried:
    """One way of doing it with the order that was found, or not."""

    title: str
    model: Model
    found: Found
    limits: HandlingLimits
    props: tuple[PropUse, ...] = ()


def by_hand(model: Model, seen: Seen, memory: Memory) -> Tried:
    """With what the crew has, no props added, no crane."""
    present = np.ones(model.system.count, dtype=bool)
    found = search(model, facts_of(model), model.body.limits, present, seen, memory=memory)
    return Tried("by hand", model, found, model.body.limits)


def with_crane(model: Model, seen: Seen, memory: Memory) -> Tried | None:
    """With a crane of the capacity entered; None when none was."""
    crane = model.job.handling.crane
    if crane is None:
        return None
    limits = limits_for(model.job, model.body.limits, crane.likely)
    present = np.ones(model.system.count, dtype=bool)
    found = search(model, facts_of(model), limits, present, seen, memory=memory)
    return Tried("with crane", model, found, limits)


@dataclass(frozen=True)
class Candidates:
    """The same tree with every prop that could be tried as a contact; none is in place until `present` says so."""

    model: Model
    places: list[PropPlace]
    first: int  # index of the first candidate contact

    def uses(self) -> list[PropUse]:
        """Every place with every tightness."""
        return [
            PropUse(place, self._pair(i, j), self.model.contacts[self._pair(i, j)[0]].jacked * 2.0, None)
            for i, place in enumerate(self.places)
            for j in range(len(JACKED))
        ]

    def _pair(self, place: int, tightness: int) -> tuple[int, int]:
        at = self.first + 2 * (len(JACKED) * place + tightness)
        return (at, at + 1)

    def present(self, props: tuple[PropUse, ...]) -> Bools:
        """(n,) contacts in place with these props."""
        there = np.ones(self.model.system.count, dtype=bool)
        there[self.first : self.first + 2 * len(JACKED) * len(self.places)] = False
        there[[c for p in props for c in p.contacts]] = True
        return there


def candidates(model: Model) -> Candidates | None:
    """The props to try; None when there is no place for one."""
    places = prop_places(model.body)
    if not places:
        return None
    weight = float(-model.system.integrals.weight[:, :4, 2].sum())
    extra = tuple(tightened(places, weight))
    more = model_of(model.job, extra, model.body)
    first = next(i for i, c in enumerate(more.contacts) if c is extra[0])
    return Candidates(more, places, first)


def with_props(model: Model, plain: Tried, seen: Seen) -> Tried | None:
    """With one or two props that the timber on the truck or the tree itself can make; None where none opens an order.

    Where an order by hand exists already, the best single prop is tried beside it.
    """
    all_of = candidates(model)
    if all_of is None:
        return None
    ranked = rank(all_of, plain)
    tries: list[tuple[PropUse, ...]] = [(p,) for p in ranked[:MOST_SINGLE]]
    if not plain.found.order.found:
        pairs = [p for p in combinations(ranked[: 2 * MOST_SINGLE], 2) if p[0].place is not p[1].place]
        tries += pairs[:MOST_PAIRS]
    for props in tries:
        tried = built(all_of, props, plain.limits, seen)
        if tried is not None:
            return tried
        if plain.found.order.found:
            return None
    return None


def rank(all_of: Candidates, plain: Tried) -> list[PropUse]:
    """The candidates, the most helpful first: by how much of the samples the best refused cut at the dead end gains."""
    model, order = all_of.model, plain.found.order
    state = plain.found.tree.everything if order.found else order.dead_end
    tree, facts = piece_tree(model), facts_of(model)
    moves = list(moves_from(tree, tree.beyond(), state))
    some = screened(model, SCREEN)
    system, rules = model.system.take(some), rules_of(model, {}).take(some)
    few = replace(facts, mass=facts.mass[:, some])
    scored = []
    for use in all_of.uses():
        judge = Judge(system, tree, rules, few, plain.limits, all_of.present((use,)))
        judged = [m for m in judge(state, moves) if m.method]
        good = sum(1 for m in judged if not m.refused)
        best = max((m.good for m in judged), default=0.0)
        scored.append(((-good, -best, use.jacked), use))
    return [use for _, use in sorted(scored, key=lambda pair: pair[0])]


def built(all_of: Candidates, props: tuple[PropUse, ...], limits: HandlingLimits, seen: Seen) -> Tried | None:
    """The order with these props, each built from real timber for the load it gets; None without order or timber."""
    facts = facts_of(all_of.model)
    caps: dict[str, float] = {}
    for _ in range(3):
        found = search(all_of.model, facts, limits, all_of.present(props), seen, caps=caps)
        if not found.order.found:
            return None
        made = tuple(_made(all_of, found, p) for p in props)
        if any(p.option is None for p in made):
            return None
        outside = [p for p in made if p.option is not None and not p.option.inside]
        if not outside:
            return Tried("with props", all_of.model, found, limits, made)
        for p in outside:
            assert p.option is not None
            caps[p.place.sides[0].id] = 0.95 * p.option.capacity / 2.0
    return None


def _made(all_of: Candidates, found: Found, prop: PropUse) -> PropUse:
    force = largest_force(found, prop)
    return replace(prop, option=option_for(all_of.model.job, all_of.model.body, prop.place, force))


def largest_force(found: Found, prop: PropUse) -> float:
    """The heavy end of the most a prop carries over the order, sudden release counted [N]."""
    forces = forces_over(found, prop)
    rises = np.maximum(np.diff(forces, axis=0, prepend=forces[:1]), 0.0)
    return float(np.percentile((forces + rises).max(axis=0), 95.0))


def forces_over(found: Found, prop: PropUse) -> Array:
    """(states, B) what a prop carries in every state of the order [N]."""
    states = [found.start, *(s.move.after for s in found.order.steps if s.move.after)]
    return np.array([found.judge.state(bits).force[list(prop.contacts)].sum(axis=0) for bits in states], dtype=float)
