"""Movements of what is not held, in words and numbers."""

from __future__ import annotations

import numpy as np

from bolewright.core.contact.actions import Array
from bolewright.core.contact.motion import come_to_rest, first_motion, inertia_of
from bolewright.core.contact.moving import full_motion, motion_in_words
from bolewright.core.contact.state import VERTICAL, Bools, reach
from bolewright.core.tree.spec import STEM
from bolewright.planning.holding.model import Model
from bolewright.planning.results import Motion

HELD = Motion("held", "held", (0.0, 0.0, 0.0), (0.0, 0.0, 0.0), 0.0, "")


def falling(model: Model, keep: Bools, present: Bools, sample: int) -> Motion:
    """How the pieces kept start to move when what is present cannot hold them, and what would catch them."""
    system, assembly = model.system, model.body.assembly
    here = reach(system, keep, present)
    n = system.count
    wrench = system.integrals.wrench[VERTICAL][:, :n]
    columns = wrench[:, here]
    low = np.array([c.low for c in model.contacts])[here]
    high = np.array([c.high for c in model.contacts])[here]
    weight = (system.integrals.weight[keep].sum(axis=0)[:, VERTICAL].T @ system.samples.mass)[:, sample]
    on = keep[model.body.labels]
    middle = 0.5 * (assembly.start + assembly.end)[on] - system.integrals.origin
    masses = assembly.mass[on].sum(axis=1)
    inertia = inertia_of(middle, masses, 0.5 * assembly.diameter_start[on])[np.ix_(VERTICAL, VERTICAL)]
    first = first_motion(columns, weight, low, high, inertia)
    if first is None:
        return HELD
    catches = [i for i, c in enumerate(model.contacts) if not c.touching and _kept(model, i, keep)]
    gaps = np.array([model.contacts[i].gap for i in catches])
    rest = come_to_rest(columns, weight, low, high, wrench[:, catches], gaps, inertia)
    caught = bool(np.any(rest.first))
    return _in_words(model, keep, rest.first if caught else first, masses, middle, caught, catches, rest.caught)


def _kept(model: Model, contact: int, keep: Bools) -> bool:
    return bool(keep[model.system.integrals.action_piece[contact]])


def _in_words(
    model: Model,
    keep: Bools,
    motion: Array,
    masses: Array,
    middle: Array,
    caught: bool,
    catches: list[int],
    order: tuple[int, ...],
) -> Motion:
    centre = (masses @ middle) / masses.sum()
    butt, tip = _ends(model, keep)
    origin = model.system.integrals.origin
    reach_out = float(np.abs(middle[:, 1]).max(initial=0.1))
    surface = "roof" if model.body.site.roof_at(centre + origin) is not None else ""
    said = motion_in_words(full_motion(motion), centre, tip - butt, butt - origin, tip - origin, reach_out, surface)
    name = model.contacts[catches[order[0]]].id if order else ""
    return Motion(
        words=said.words,
        kind=said.kind,
        slide=(float(said.slide[0]), float(said.slide[1]), float(said.slide[2])),
        turn=(float(said.turn[0]), float(said.turn[1]), float(said.turn[2])),
        distance_m=said.largest if caught else None,
        rests_on=name,
    )


def _ends(model: Model, keep: Bools) -> tuple[Array, Array]:
    """Butt and tip end of what is kept: of the stem where any of it is, else of the first member kept."""
    assembly, on = model.body.assembly, keep[model.body.labels]
    stem = on & (assembly.member == assembly.members.index(STEM))
    own = np.flatnonzero(stem if stem.any() else on & (assembly.member == assembly.member[np.flatnonzero(on)[0]]))
    return assembly.start[own[0]], assembly.end[own[-1]]
