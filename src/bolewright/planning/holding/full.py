"""The full problem of one sample: tilted normals, friction, six equations."""

from __future__ import annotations

import numpy as np

from bolewright.core.base.range import Range
from bolewright.core.contact.actions import Array
from bolewright.core.contact.cones import Cone
from bolewright.core.contact.friction import Equilibrium, solve_friction
from bolewright.core.contact.sliding import friction_needed
from bolewright.core.contact.state import Bools, State, flex_between, reach, sag_of
from bolewright.planning.holding.model import Model


def typical_sample(state: State) -> int:
    """The sample whose forces lie nearest to the medians: the one the full problem is solved for."""
    middle = np.median(state.force, axis=1)
    size = np.abs(state.force).mean(axis=1) + 1e-9
    far = np.abs((state.force - middle[:, None]) / size[:, None]).sum(axis=0)
    return int(np.where(state.held, far, np.inf).argmin())


def solve_full(model: Model, keep: Bools, present: Bools, sample: int, high_friction: bool = False) -> Equilibrium:
    """Forces with friction in one sample: (normal, tangent, tangent) of each contact in turn."""
    part = slice(sample, sample + 1)
    system = model.system.take(np.arange(sample, sample + 1))
    rows = model.slanted()
    low, high, cones = _bounds(model, reach(system, keep, present), high_friction)
    gap = np.zeros((model.system.count, 3))
    gap[:, 0] = model.system.gap[:, sample]
    return solve_friction(
        flexibility=flex_between(system, keep, rows, rows) * float(model.system.samples.flex[sample]),
        load_term=sag_of(system, keep, rows)[:, 0],
        wrench=model.system.integrals.wrench[:, rows],
        weight=_weight(model, keep, part),
        compliance=np.repeat(model.system.samples.give[:, sample], 3),
        gap=gap.ravel(),
        lower=low,
        upper=high,
        cones=cones,
    )


def vertical_forces(model: Model, state: State, high_friction: bool = False) -> dict[str, float] | None:
    """Vertical force on each support with friction and tilted surfaces, in the typical sample of a state [N]; None
    when nothing holds it with that friction."""
    answer = solve_full(model, state.keep, state.present, typical_sample(state), high_friction)
    if answer.force is None:
        return None
    actions = model.system.integrals.wrench[:, model.slanted()]
    vertical = (actions[2] * answer.force).reshape(-1, 3).sum(axis=1)
    here = reach(model.system, state.keep, state.present)
    out: dict[str, float] = {}
    for i, c in enumerate(model.contacts):
        if here[i] and np.any(c.force):
            out[c.id] = out.get(c.id, 0.0) + float(vertical[i])
    return out


def worse(band: Range, full: float | None) -> Range:
    """The range, widened to the force with friction where that lies outside it."""
    if full is None:
        return band
    return Range(min(band.low, full), band.likely, max(band.high, full))


def least_friction(model: Model, keep: Bools, present: Bools, sample: int) -> float | None:
    """The smallest friction, the same everywhere, that leaves an equilibrium; None when none is enough."""
    part = slice(sample, sample + 1)
    low, high, cones = _bounds(model, reach(model.system, keep, present), False)
    wrench = model.system.integrals.wrench[:, model.slanted()]
    return friction_needed(wrench, _weight(model, keep, part), low, high, cones)


def _weight(model: Model, keep: Bools, part: slice) -> Array:
    total = model.system.integrals.weight[keep].sum(axis=0)  # (G, 6)
    return np.asarray((total.T @ model.system.samples.mass[:, part])[:, 0])


def _bounds(model: Model, here: Bools, high_friction: bool) -> tuple[Array, Array, tuple[Cone, ...]]:
    n = model.system.count
    low, high = np.zeros((n, 3)), np.zeros((n, 3))
    cones: list[Cone] = []
    for i, c in enumerate(model.contacts):
        if not here[i]:
            continue
        low[i, 0], high[i, 0] = c.low, c.high
        if float(np.linalg.norm(c.normal)) < 0.5 or c.kind in ("tie-back", "lowering", "crane"):
            continue
        if c.sideways > 0.0:
            low[i, 1:], high[i, 1:] = -c.sideways, c.sideways
        else:
            low[i, 1:], high[i, 1:] = -np.inf, np.inf
            cones.append(Cone(3 * i, 3 * i + 1, 3 * i + 2, c.mu_high if high_friction else c.mu_low))
    return low.ravel(), high.ravel(), tuple(cones)
