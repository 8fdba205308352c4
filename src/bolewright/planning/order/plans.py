"""From a way of doing it to the plan on paper: places first, then the steps, gear and a summary."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from bolewright.core.base.range import Range
from bolewright.core.contact.gaps import set_together
from bolewright.core.contact.state import State, solve_states
from bolewright.core.cutting.judge import bits_to_mask, pieces_of
from bolewright.core.cutting.order import Judged
from bolewright.core.props.option import PropOption
from bolewright.planning.both import both_lengths, both_masses, both_units
from bolewright.planning.holding.hold import building_load
from bolewright.planning.holding.model import Model
from bolewright.planning.holding.motions import HELD
from bolewright.planning.order.recheck import rechecked
from bolewright.planning.order.refused import in_full
from bolewright.planning.order.steps import forces_by_support, steps_of
from bolewright.planning.order.tried import PropUse, Tried, forces_over, largest_force, rows_of
from bolewright.planning.order.wanted import marks_in_words, nothing_to_cut, staying_in_words
from bolewright.planning.results import CutStep, Place, Plan

GEAR = {
    "lower on a line": "lowering line, block and friction device rated for the heaviest piece lowered, tag line",
    "crane pick": "crane with operator, two slings a pick, radio or hand signals agreed",
    "free drop": "barriers for the drop zone",
    "roll off": "peavey or bars and chocks",
    "carry": "two people a carry, gloves",
}
PLACE_MINUTES = 20.0  # common practice
ALWAYS = (
    "saws with spare bar and chain",
    "wedges and axe",
    "first-aid kit with bleeding control",
    "helmets, eye and ear",
)


def plan_of(tried: Tried, opens: tuple[str, ...]) -> Plan:
    """The plan of one way of doing it, or the dead end with what would open it."""
    model, order = tried.model, tried.found.order
    start = Range.of_samples(building_load(model, model.now))
    if not order.found:
        dead = " ".join(filter(None, (_dead_end(tried), marks_in_words(model))))
        return Plan(tried.title, "no plan", (), (), start, start, 0.0, 0.0, (), dead, dead, opens)
    places = _going_round(tuple(_place(tried, p) for p in tried.props))
    steps = _numbered(tried, places)
    peak = max((s.building_peak_N for s in steps), key=lambda r: r.likely, default=start)
    peak = peak if peak.likely > start.likely else start
    minutes = sum(s.minutes for s in steps)
    return Plan(
        title=tried.title,
        status="plan",
        places=places,
        steps=steps,
        start_building_N=start,
        peak_building_N=peak,
        minutes=minutes,
        exceedance_N=max((s.excess for s in order.steps), default=0.0),
        gear=_gear(steps, places),
        summary=_summary(tried, steps, places, start, peak),
    )


def _numbered(tried: Tried, places: tuple[Place, ...]) -> tuple[CutStep, ...]:
    first = () if tried.first is None else steps_of(tried.model, tried.first, 1)
    set_up = _place_steps(tried, places, len(first) + 1)
    cuts = steps_of(tried.model, tried.found, len(first) + len(places) + 1)
    return (*first, *set_up, *cuts)


def _place(tried: Tried, prop: PropUse) -> Place:
    option, c = prop.option, prop.place.sides[0]
    assert option is not None
    point = np.mean([side.point for side in prop.place.sides], axis=0)
    foot = (float(point[0]), float(point[1]), float(point[2]) - prop.place.height)
    forces = forces_over(tried.found, prop)
    high = max(largest_force(tried.found, prop), 0.0)
    likely = min(float(np.median(forces.max(axis=0))), high)
    low = min(float(np.percentile(forces.max(axis=0), 5.0)), likely)
    tight = "snug, wedged by hand" if prop.jacked <= 0.0 else f"jacked to {both_units(prop.jacked)}"
    return Place(
        id=c.id,
        kind=option.kind,
        member=c.member,
        at_m=c.at,
        point=(float(point[0]), float(point[1]), float(point[2])),
        foot=foot,
        timber=_timber(option),
        force_N=Range(low, likely, high),
        capacity_N=option.capacity,
        checks=option.checks,
        tightness=tight,
        why="Carries the stem when what balances it is gone, so that the building takes no more than it does now. "
        f"Chock the stem on both sides of the head. {option.bracing}",
        jacked_N=prop.jacked,
    )


def _timber(option: PropOption) -> str:
    """What to build, in one line."""
    side = both_lengths(option.pad_side)
    layers = f", {option.pad_layers} layers" if option.pad_layers > 1 else ""
    return (
        f"{option.form} of {option.timber}, {option.origin}, cut {both_lengths(option.cut_length)}, on a board pad "
        f"{side} square{layers}"
    )


def _place_steps(tried: Tried, places: tuple[Place, ...], number: int) -> tuple[CutStep, ...]:
    """One step a prop, in order, with the forces before and after it is set and those set before it have their own
    force again."""
    model, found, out = tried.model, tried.found, []
    keep, present = bits_to_mask(found.start, len(model.body.pieces)), found.present.copy()
    present[rows_of(tried.props)] = False
    bare = before = solve_states(model.system, [keep], [present])[0]
    for i, place in enumerate(places):
        rows, present = rows_of(tried.props[: i + 1]), present.copy()
        present[rows] = True
        system = model.system if i + 1 == len(places) else set_together(model.system, bare, rows)[0]
        after = solve_states(system, [keep], [present])[0]
        out.append(_place_step(replace(model, system=system), place, number + i, before, after, _again(places[:i])))
        before = after
    return tuple(out)


def _place_step(model: Model, place: Place, n: int, before: State, after: State, standing: str) -> CutStep:
    now, then = (Range.of_samples(building_load(model, s)) for s in (before, after))
    return CutStep(
        n=n,
        action="place",
        method="",
        piece=place.id,
        takes=(),
        member=place.member,
        at_m=place.at_m,
        point=place.point,
        diameter_m=0.0,
        mass_kg=Range.exact(0.0),
        piece_centre_m=place.foot,
        bind=None,
        forces_before=forces_by_support(model, before, before.present),
        forces_after=forces_by_support(model, after, after.present),
        building_before_N=now,
        building_after_N=then,
        building_peak_N=now if now.likely > then.likely else then,
        stays=HELD,
        leaves=HELD,
        drop_zone=(),
        stand="Beside the stem, never under it, with a way out on both sides.",
        why=f"Before any cut that counts on it: set against the stem while nothing moves. {standing}".rstrip(),
        watch=(
            "The foot on its board: level, on firm ground, square under the stem",
            "The head: the stem chocked on both sides, wedges nailed",
        ),
        stop=("The prop leans, the board sinks or the stem moves while it is set",),
        minutes=PLACE_MINUTES,
        recheck=rechecked(model, after),
    )


def _going_round(places: tuple[Place, ...]) -> tuple[Place, ...]:
    """The places, each with what setting it asks of those before."""
    return tuple(replace(p, why=f"{p.why} {_again(places[:i])}".rstrip()) for i, p in enumerate(places))


def _again(standing: tuple[Place, ...]) -> str:
    """What setting one more prop asks of those that stand."""
    if not standing:
        return ""
    forces = ", ".join(f"{p.id} {p.tightness.removesuffix(', wedged by hand')}" for p in standing)
    return f"It changes what the others carry: go round them again until all are as they were: {forces}."


def _gear(steps: tuple[CutStep, ...], places: tuple[Place, ...]) -> tuple[str, ...]:
    out = list(ALWAYS)
    out += [text for method, text in GEAR.items() if any(s.method == method for s in steps)]
    out += [f"{p.kind}: {p.timber}, with folding wedges and a board under the foot" for p in places]
    return tuple(out)


def _summary(tried: Tried, steps: tuple[CutStep, ...], places: tuple[Place, ...], start: Range, peak: Range) -> str:
    rise = peak.likely / start.likely - 1.0 if start.likely > 0.0 else 0.0
    load = "never asks more of the building than it carries now" if rise < 0.01 else f"lets it rise {100 * rise:.0f} %"
    cuts = sum(1 for s in steps if s.action == "cut")
    props = f", {len(places)} prop{'s' if len(places) > 1 else ''} first" if places else ""
    said = f"{cuts} cut{'' if cuts == 1 else 's'} {tried.title}{props}; {load}."
    staying = staying_in_words(tried.model, tried.found.tree.stays)
    return " ".join(filter(None, (said, staying, _still_on(tried, steps), _clear(tried, steps))))


def _still_on(tried: Tried, steps: tuple[CutStep, ...]) -> str:
    """What the building carries at the end of an order that leaves wood on, "" for nothing."""
    load = steps[-1].building_after_N.likely if steps and tried.found.tree.stays else 0.0
    return f"The building still carries {both_units(load)} then." if load > 1.0 else ""


def _clear(tried: Tried, steps: tuple[CutStep, ...]) -> str:
    """What lies, and on what, at the end of an order that ends with the building clear; "" for another."""
    found, end = tried.found, tried.found.stops
    if not found.tree.clear(end):
        return ""
    names = [tried.model.body.pieces[p].id for p in pieces_of(end)]
    mass = float(np.median(found.judge.facts.mass[pieces_of(end)].sum(axis=0)))
    bearing = [name for name, force in steps[-1].forces_after.items() if force.likely > 1.0]
    return (
        f"It ends with the building clear: {', '.join(names)} {'is' if len(names) == 1 else 'are'} left, about "
        f"{both_masses(mass)}, on {' and '.join(bearing)}. Cutting that up is work on a log that lies, and is not "
        "planned here."
    )


def _dead_end(tried: Tried) -> str:
    """Which state is the dead end and what stands in the way of each cut there."""
    found, order, pieces = tried.found, tried.found.order, tried.model.body.pieces
    left = [pieces[p].id for p in pieces_of(order.dead_end)]
    gone = len(order.steps_to_dead_end)
    moves = sorted((m for m in order.dead_end_moves if m.move.at >= 0), key=_telling)
    if found.bound:
        head = nothing_to_cut(tried.model, order.dead_end, bool(moves))
    elif gone == 0:
        head = "Nothing may be cut as it lies."
    else:
        head = f"After {gone} cut{'' if gone == 1 else 's'}, with {', '.join(left)} still on, nothing may be cut."
    reasons = []
    for m in moves[:4]:
        takes = ", ".join(pieces[p].id for p in pieces_of(m.move.takes))
        reasons.append(f"taking {takes}: {in_full(tried.model, found.present, found.judge, order.dead_end, m)}")
    said = "; ".join(reasons)
    return f"{head} {said[:1].upper()}{said[1:]}." if said else head


def _telling(move: Judged) -> tuple[bool, int]:
    """Refusals that say something about the tree first, then the smaller part."""
    return ("any way out" in move.refused or "cannot be carried" in move.refused, move.move.takes.bit_count())
