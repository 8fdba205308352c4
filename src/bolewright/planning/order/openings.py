"""When there is no order: which single addition would open one."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from bolewright.planning.both import both_masses, both_units
from bolewright.planning.holding.model import Model
from bolewright.planning.order.facts import facts_of
from bolewright.planning.order.proptrials import candidates, leads_on, rank
from bolewright.planning.order.search import Memory, limits_for, search
from bolewright.planning.order.tried import Tried
from bolewright.planning.order.wanted import until_clear

MOST_PROPS = 4
ROUND_UP = 50.0  # kg


def openings(model: Model, tried: Tried, seen: Callable[[int], None], memory: Memory) -> tuple[str, ...]:
    """Sentences, each one addition that opens an order: a prop at a place, or a pick of a given mass.

    Where no prop opens one until all is off, props that open one until the building is clear.
    """
    out = _props(model, tried, seen)
    if not out and (nearer := until_clear(model)) is not None:
        out = [f"{prop}, to get as far as a clear building" for prop in _props(nearer, tried, seen)]
    pick = _pick(model, tried, seen, memory)
    if pick:
        out.append(pick)
    return tuple(out)


def _props(model: Model, tried: Tried, seen: Callable[[int], None]) -> list[str]:
    all_of = candidates(model)
    if all_of is None:
        return []
    facts = facts_of(all_of.model)
    out: list[str] = []
    places: set[float] = set()
    for use in rank(all_of, tried)[: 3 * MOST_PROPS]:
        if use.place.at in places or len(places) >= MOST_PROPS:
            continue
        places.add(use.place.at)
        if not leads_on(all_of, (use,), tried, seen):
            continue
        found = search(all_of.model, facts, tried.limits, all_of.present((use,)), seen)
        if found.order.found:
            tight = f", jacked to {both_units(use.jacked)}" if use.jacked else ", snug"
            out.append(
                f"a prop under the stem {use.place.at:.1f} m ({use.place.at / 0.3048:.0f} ft) from the butt{tight}"
            )
    return out


def _pick(model: Model, tried: Tried, seen: Callable[[int], None], memory: Memory) -> str:
    """The smallest crane pick, of the masses the pieces come in, that opens an order; "" when none does."""
    facts = facts_of(model)
    present = np.ones(model.system.count, dtype=bool)
    pieces = [p for p in range(len(model.body.pieces)) if p != facts.plate]
    heavy = sorted(float(np.percentile(facts.mass[p], 95.0)) for p in pieces)
    totals = [heavy[-1], *(sum(heavy[-k:]) for k in (2, 3, 5)), sum(heavy)]
    for mass in sorted(set(totals)):
        limits = limits_for(model.job, tried.limits, mass)
        if search(model, facts, limits, present, seen, memory=memory).order.found:
            asked = float(np.ceil(mass / ROUND_UP) * ROUND_UP)
            return f"a crane pick of {both_masses(asked)} at the working radius"
    return ""
