"""What goes through a cut, what the kerf does and what is let go, for the samples of a step."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bolewright.core.base.range import Range
from bolewright.core.base.vectors import unit
from bolewright.core.contact.actions import Array
from bolewright.core.contact.state import Bools, State, System, movement_of
from bolewright.core.cutting.bind import (
    Advice,
    CutSection,
    advise,
    kerf_change,
    release_energy,
    round_section,
    section_load,
)
from bolewright.core.tree.assembly import place
from bolewright.planning.holding.model import Model
from bolewright.planning.order.phrases import KERF_SEEN
from bolewright.planning.results import Bind


@dataclass(frozen=True)
class CutPlace:
    """Where a cut goes through: the piece beyond it, its member, middle, axis and wood."""

    piece: int
    member: str
    at: float
    point: Array
    axis: Array
    section: CutSection


def cut_place(model: Model, piece: int) -> CutPlace:
    """The cut at the butt end of a piece."""
    p, assembly = model.body.pieces[piece], model.body.assembly
    first = int(np.flatnonzero((model.body.labels == piece) & ~assembly.stub)[0])
    where = place(assembly, p.member, p.start)
    axis = unit(assembly.end[first] - assembly.start[first])
    diameter = float(assembly.diameter_start[first])
    section = round_section(diameter, float(assembly.area_share[first]), float(assembly.bending_share[first]))
    return CutPlace(piece, p.member, p.start, where.point, axis, section)


def through_cut(system: System, state: State, cut: CutPlace, beyond: Bools) -> tuple[Array, Array]:
    """Force and moment (B, 3) each on the part beyond the cut, about the middle of the cut, before it is made.

    beyond (P,): the pieces on the far side that are on. What is applied there is balanced by what goes through.
    """
    far = beyond & state.keep
    carried = far[system.integrals.action_piece[: system.count]]
    wrench = system.integrals.wrench[:, : system.count]
    total = (wrench * carried) @ state.force  # (6, B) about the origin
    total = total + np.einsum("gk,gb->kb", system.integrals.weight[far].sum(axis=0), system.samples.mass)
    force = total[:3].T
    arm = cut.point - system.integrals.origin
    moment = total[3:].T - np.cross(arm, force)
    return -force, -moment


def bind_of(model: Model, before: State, stays: State, cut: CutPlace, beyond: Bools, far_leaves: bool) -> Bind:
    """The bind at a cut with its kerf and release."""
    both = before.held
    force, moment = (x[both] for x in through_cut(model.system, before, cut, beyond))
    strength = model.body.grown.species.bending_strength.value
    load = section_load(force, moment, cut.axis, cut.section, strength)
    advice = advise(load, cut.axis, cut.section, _held_beyond(model, before, beyond if far_leaves else ~beyond))
    movement = _relative(model, before, stays, cut.piece, far_leaves)[both]
    kerf = 1000.0 * kerf_change(movement, cut.axis, load.compression, cut.section.diameter)
    release = release_energy(force, moment, movement)
    return Bind(
        kind=str(advice.kind),
        compression_clock=advice.compression_clock,
        moment_Nm=Range.of_samples(load.bending),
        axial_N=Range.of_samples(load.axial),
        shear_N=Range.of_samples(load.shear),
        torsion_Nm=Range.of_samples(load.torsion),
        stress_share=Range.of_samples(load.share),
        start_clock=advice.start_clock,
        start_depth_m=advice.start_depth,
        finish_clock=advice.finish_clock,
        kerf_mm=Range.of_samples(kerf),
        release_J=Range.of_samples(release),
        spring_pole=advice.spring_pole,
        words=_with_kerf(advice, float(np.median(kerf))),
    )


def _with_kerf(advice: Advice, kerf: float) -> str:
    if kerf > -KERF_SEEN:
        return advice.words
    return f"{advice.words} The kerf closes there as the last fibre goes."


def _held_beyond(model: Model, state: State, part: Bools) -> bool:
    """Whether a contact on the part that leaves carries load: it may be sprung between that and the cut."""
    own = part[model.system.integrals.action_piece[: model.system.count]] & state.present
    return bool((np.median(state.force[own], axis=1) > 0.0).any())


def _relative(model: Model, before: State, stays: State, piece: int, far_leaves: bool) -> Array:
    """(B, 6) movement of the far face less the near face. The part that leaves is taken to stay where it was until
    the saw is through: its own fall, or its ride on the line, is not the kerf's."""
    probes = model.probes(piece)
    was = movement_of(model.system, before, probes)
    now = np.where(stays.held & stays.keep.any(), movement_of(model.system, stays, probes), was)
    return np.asarray((was - now if far_leaves else now - was).T)
