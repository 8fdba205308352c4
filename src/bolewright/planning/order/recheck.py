"""Every state of the chosen plan again, by a second formulation that shares no code with the search."""

from __future__ import annotations

import numpy as np

from bolewright.core.base.vectors import GRAVITY
from bolewright.core.contact.actions import Array
from bolewright.core.contact.flexibility import SHEAR_SHARE
from bolewright.core.contact.state import Bools, State, reach
from bolewright.core.recheck import HELD, PointLoads, Segments, Supports, recheck_state
from bolewright.planning.holding.full import typical_sample
from bolewright.planning.holding.model import Model

AGREES = 0.005  # of the whole weight: supports may differ by this much (gaps enter to the micrometre)


def rechecked(model: Model, state: State) -> str:
    """The second method's word on one state, for its typical sample."""
    if not state.keep.any() or not state.held.any():
        return ""
    sample = typical_sample(state)
    segments, loads = _wood(model, sample)
    on = state.keep[model.body.labels]
    present = reach(model.system, state.keep, state.present)
    answer = recheck_state(segments, _supports(model, sample), on_tree=on, present=present, loads=loads)
    if answer.status != HELD:
        return f"the second method says: {answer.status}"
    weight = float(segments.weight[on].sum())
    worst = float(np.abs(answer.forces[present] - state.force[present, sample]).max(initial=0.0)) / weight
    if worst <= AGREES:
        return f"agrees within {100.0 * max(worst, 1e-4):.2g} % of the weight"
    return f"differs by {100.0 * worst:.1f} % of the weight: look before relying on this step"


def _wood(model: Model, sample: int) -> tuple[Segments, PointLoads]:
    """Segments of one sample, and the root plate as a load."""
    a, mass = model.body.assembly, model.system.samples.mass[:, sample]
    modulus = model.body.grown.species.stiffness.value / float(model.system.samples.flex[sample])
    diameter = np.stack([a.diameter_start, a.diameter_end], axis=1)
    inertia = np.pi * diameter**4 / 64.0 * np.where(a.stub, 1.0, a.bending_share)[:, None]
    area = np.pi * diameter**2 / 4.0 * np.where(a.stub, 1.0, a.area_share)[:, None]
    segments = Segments.of(
        start=a.start,
        end=a.end,
        parent=a.parent,
        bending=modulus * inertia,
        torsion=modulus * SHEAR_SHARE * 2.0 * inertia,
        axial=modulus * area,
        weight=GRAVITY * (a.mass @ mass),
        rigid=a.stub,
    )
    force = np.zeros((len(a.lump_segment), 3))
    force[:, 2] = -GRAVITY * (a.lump_mass @ mass)
    return segments, PointLoads.of(a.lump_segment, a.lump_point, force)


def _supports(model: Model, sample: int) -> Supports:
    """The contacts of one sample; what sits at the butt is fixed to the first segment's start."""
    c = model.contacts

    def column(name: str) -> Array:
        return np.array([getattr(x, name) for x in c], dtype=float)

    return Supports.of(
        segment=[max(x.segment, 0) for x in c],
        point=column("point"),
        direction=column("force"),
        compliance=model.system.samples.give[:, sample],
        gap=model.system.gap[:, sample],
        lower=column("low"),
        upper=column("high"),
        couple=column("couple"),
    )


__all__ = ["Bools", "rechecked"]
