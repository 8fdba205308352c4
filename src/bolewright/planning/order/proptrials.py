"""Which props open an order: tried at the dead end first, then over the whole order, and built from real timber."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, product

import numpy as np

from bolewright.core.contact.gaps import set_together
from bolewright.core.contact.state import Bools, State, reduced, solve_states
from bolewright.core.cutting.handling import HandlingLimits
from bolewright.core.cutting.judge import Judge, bits_to_mask
from bolewright.core.cutting.order import moves_from
from bolewright.planning.holding.model import Model, model_of, with_only
from bolewright.planning.holding.posts import PropPlace
from bolewright.planning.order.facts import facts_of
from bolewright.planning.order.ownprops import with_own_props
from bolewright.planning.order.props import JACKED, option_for, prop_places, tightened
from bolewright.planning.order.rules import rules_of, worth_solving
from bolewright.planning.order.search import SCREEN, Found, piece_tree, screened, search
from bolewright.planning.order.tried import PropUse, Seen, Tried, largest_force, rows_of

MOST_SINGLE = 2  # props searched over the whole order where none leads on from the dead end
MOST_TRIALS = 60  # props and pairs tried at the dead end
CAP_ROUNDS = 3
OWN = "with your props"


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

    def present(self, props: Sequence[PropUse]) -> Bools:
        """(n,) contacts in place with these props."""
        there = np.ones(self.model.system.count, dtype=bool)
        there[self.first : self.first + 2 * len(JACKED) * len(self.places)] = False
        there[rows_of(props)] = True
        return there

    def together(self, props: Sequence[PropUse]) -> Model | None:
        """The model with these props brought to their forces together; None where they would lift the tree off."""
        return self.model if len(props) == 1 else _together(self.model, self.model.now, props)


def _together(model: Model, state: State, props: Sequence[PropUse]) -> Model | None:
    """Props brought to their forces together against the tree in this state."""
    system, held = set_together(model.system, state, rows_of(props))
    return replace(model, system=system) if held.mean() >= model.job.limits.share.likely else None


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

    Where an order by hand exists already, the best single prop is tried beside it; where that has to leave wood behind,
    first those that do not.
    """
    if plain.found.order.found and not model.job.truck:
        return None  # nobody cuts a limb for a post where the work goes without one
    all_of = candidates(model)
    if all_of is None:
        return None
    ranked = rank(all_of, plain)
    for props in () if plain.found.whole else worth_trying(all_of, ranked, plain, seen):
        tried = built(all_of, list(props), plain, seen)
        if tried is not None and _goes_further(tried.found, plain.found):
            return tried
    return built(all_of, ranked[:1], plain, seen) if plain.found.order.found else None


def _goes_further(found: Found, than: Found) -> bool:
    """Whether there is an order where there was none, or one that leaves nothing behind where one did."""
    return found.whole or (found.order.found and not than.order.found)


def with_own(model: Model, seen: Seen) -> Tried | None:
    """With the props the crew will set, built from real timber; None when they set none, or no timber makes them."""
    own = with_own_props(model.job, model.body)
    if own is None:
        return None
    more, uses = own
    present = np.ones(more.system.count, dtype=bool)
    tried = _within_capacity(more, present, list(uses), model.body.limits, seen, None)
    if tried is not None:
        return replace(tried, title=OWN)
    found = search(more, facts_of(more), model.body.limits, present, seen)
    return None if found.order.found else Tried(OWN, more, found, model.body.limits)


def worth_trying(all_of: Candidates, ranked: list[PropUse], plain: Tried, seen: Seen) -> Iterator[tuple[PropUse, ...]]:
    """Single props, then pairs alike in tightness, then mixed pairs, that lead on from the dead end of the work by
    hand; where none does, the best singles all the same, since another path may open."""
    singles: list[tuple[PropUse, ...]] = [(p,) for p in ranked]
    both = [p for p in combinations(ranked, 2) if p[0].place is not p[1].place]
    alike = [p for p in both if p[0].jacked == p[1].jacked]
    mixed = [p for p in both if p[0].jacked != p[1].jacked]
    some = False
    for props in [*singles, *alike, *mixed][:MOST_TRIALS]:
        if leads_on(all_of, props, plain, seen):
            some = True
            yield props
    if not some:
        yield from singles[:MOST_SINGLE]


def leads_on(all_of: Candidates, props: tuple[PropUse, ...], plain: Tried, seen: Seen) -> bool:
    """Whether the work goes on with these props in place from where it stops without them."""
    model = all_of.together(props)
    if model is None:
        return False
    present, stops = all_of.present(props), plain.found.stops
    return _goes_further(search(model, facts_of(model), plain.limits, present, seen, start=stops), plain.found)


def rank(all_of: Candidates, plain: Tried) -> list[PropUse]:
    """The candidates, the most helpful first: by how much of the samples the best refused cut at the dead end gains."""
    model = all_of.model
    state = plain.found.start if plain.found.whole else plain.found.stops
    tree, facts = piece_tree(model), facts_of(model)
    moves = list(moves_from(tree, tree.beyond(), state))
    some = screened(model, SCREEN)
    rules = rules_of(model, {}).take(some)
    few = replace(facts, mass=facts.mass[:, some])
    scored = []
    for use in all_of.uses():
        which = worth_solving(model, all_of.present((use,)))
        system, everywhere = reduced(model.system, which).take(some), np.ones(len(which), dtype=bool)
        judge = Judge(system, tree, rules.of(which), few, plain.limits, everywhere)
        judged = [m for m in judge(state, moves) if m.method]
        good = sum(1 for m in judged if not m.refused)
        best = max((m.good for m in judged), default=0.0)
        scored.append(((-good, -best, use.jacked), use))
    return [use for _, use in sorted(scored, key=lambda pair: pair[0])]


def built(all_of: Candidates, props: list[PropUse], plain: Tried, seen: Seen) -> Tried | None:
    """The order with these props, each built from real timber for the load it gets; None without order or timber."""
    model = all_of.together(props)
    if model is None:
        return None
    tried = _within_capacity(model, all_of.present(props), props, plain.limits, seen, None)
    if tried is None or not (wood := _round_wood(tried)):
        return tried
    if plain.found.order.found:  # nobody cuts a limb for a post where the work goes without one
        return None
    return _after_cutting(all_of, props, plain, wood, seen)


def _within_capacity(
    model: Model, present: Bools, props: list[PropUse], limits: HandlingLimits, seen: Seen, start: int | None
) -> Tried | None:
    """Search, build the props for the loads found, and search again with their capacities until both agree."""
    facts = facts_of(model)
    caps: dict[str, float] = {}
    for _ in range(CAP_ROUNDS):
        found = search(model, facts, limits, present, seen, start=start, caps=caps)
        if not found.order.found:
            return None
        made = tuple(_made(model, found, p) for p in props)
        if any(p.option is None for p in made):
            return None
        outside = [p for p in made if p.option is not None and not p.option.inside]
        if not outside:
            return _without_the_rest(Tried("with props", model, found, limits, made))
        for p in outside:
            assert p.option is not None
            caps[p.place.sides[0].id] = 0.95 * p.option.capacity / 2.0
    return None


def _without_the_rest(tried: Tried) -> Tried:
    """The same with the props that were tried and not used left out of the model."""
    which = np.flatnonzero(tried.found.present)
    place = {int(full): i for i, full in enumerate(which)}
    props = tuple(replace(p, contacts=(place[p.contacts[0]], place[p.contacts[1]])) for p in tried.props)
    found = replace(
        tried.found,
        present=np.ones(len(which), dtype=bool),
        which=np.array([place[int(full)] for full in tried.found.which], dtype=np.int64),
    )
    return replace(tried, model=with_only(tried.model, which), found=found, props=props)


def _made(model: Model, found: Found, prop: PropUse) -> PropUse:
    return replace(prop, option=option_for(model.job, model.body, prop.place, largest_force(found, prop)))


def _round_wood(tried: Tried) -> list[str]:
    """Limbs that props are to be cut from."""
    options = [p.option for p in tried.props if p.option is not None and p.option.from_tree]
    return list(dict.fromkeys(o.origin.removeprefix("cut from ") for o in options))


def _after_cutting(
    all_of: Candidates, props: list[PropUse], plain: Tried, limbs: list[str], seen: Seen
) -> Tried | None:
    """The same, with the limbs that give the round wood cut first, where that is allowed as the tree lies."""
    model = all_of.model
    tree = piece_tree(model)
    none = all_of.present(())
    judge = Judge(model.system, tree, rules_of(model, {}), facts_of(model), plain.limits, none)
    state, steps = plain.found.start, []
    for limb in limbs:
        piece = next(i for i, p in enumerate(model.body.pieces) if p.member == limb)
        moves = [m for m in moves_from(tree, tree.beyond(), state) if m.at == piece and m.takes >> piece & 1]
        priced = judge(state, moves)
        if not priced or priced[0].refused:
            return None
        steps.append(priced[0])
        state = priced[0].move.after
    order = replace(plain.found.order, steps=tuple(steps), found=True)
    before = Found(order, judge, tree, plain.found.start, none, np.arange(model.system.count))
    keep = bits_to_mask(state, len(model.body.pieces))
    now = solve_states(model.system, [keep], [none])[0]
    for again in product(*([u for u in all_of.uses() if u.place is p.place] for p in props)):
        settled = _together(model, now, again)
        if settled is None:
            continue
        tried = _within_capacity(settled, all_of.present(again), list(again), plain.limits, seen, state)
        if tried is not None:
            there = np.ones(tried.model.system.count, dtype=bool)
            there[[c for p in tried.props for c in p.contacts]] = False
            return replace(tried, first=replace(before, present=there))
    return None
