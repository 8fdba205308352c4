"""Virtual work along the members: how far each place moves under each unit force and under the tree's own weight.

The tree is cut free and clamped at the butt in thought; the clamp takes nothing because the contact forces balance
the weight, so the choice does not matter. At a section the moment of an action is the moment of everything beyond
the section (towards the tips). Integrals are kept per piece of the tree, so that a state with pieces gone is a sum.

Source: principle of virtual work (unit load theorem), e.g. Timoshenko & Young, Theory of Structures, 2nd ed. 1965.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.vectors import GRAVITY, UP
from bolewright.core.contact.actions import Actions, Array
from bolewright.core.tree.assembly import GROUPS, Assembly

# Gauss-Legendre on 0..1; four points integrate a linear moment squared over a taper to 1e-7 on short segments.
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(4)
NODES, WEIGHTS = (_NODES + 1.0) / 2.0, _WEIGHTS / 2.0
POINTS = len(NODES)

# Torsion and shear of wood: G is about one sixteenth of E along the grain (a rule in use for timber, EN 338 family).
SHEAR_SHARE = 1.0 / 16.0


@dataclass(frozen=True)
class Integrals:
    """Everything about geometry that a state needs, for wood of stiffness `modulus`.

    P pieces, m actions, G groups of mass (core.tree.assembly.GROUPS).
    flex (P, m, m) [m/N]: movement along action i by unit action j through the bending of piece p.
    sag (P, P, G, m) [m]: movement along action i by the weight of group g in piece q through bending of piece p.
    wrench (6, m): of the unit actions about `origin`.
    weight (P, G, 6) [N, N m]: of each piece about `origin`.
    action_piece (m,) int: the piece that carries each action.
    """

    flex: Array
    sag: Array
    wrench: Array
    weight: Array
    action_piece: NDArray[np.int64]
    origin: Array


def ancestry(assembly: Assembly) -> NDArray[np.bool_]:
    """(K, K) true where segment j lies beyond segment i (towards the tips), itself not counted.

    Source: the branching of the assembly.
    Checked by: tests/unit/contact/test_flexibility.py
    """
    count = len(assembly.parent)
    beyond = np.zeros((count, count), dtype=bool)
    for k in range(count):  # parents come before children
        parent = int(assembly.parent[k])
        if parent >= 0:
            beyond[:, k] = beyond[:, parent]
            beyond[parent, k] = True
    return beyond


@dataclass(frozen=True)
class _Sections:
    """The integration points: position, axis, segment, share along it, and weight over EI, GJ, EA."""

    at: Array  # (S, 3)
    axis: Array  # (S, 3)
    segment: NDArray[np.int64]  # (S,)
    share: Array  # (S,)
    bend: Array  # (S,) ds / EI
    twist: Array  # (S,) ds / GJ
    pull: Array  # (S,) ds / EA


def _sections(assembly: Assembly, modulus: float) -> _Sections:
    count = len(assembly.parent)
    run = assembly.end - assembly.start
    length = np.linalg.norm(run, axis=1)
    axis = run / np.maximum(length, 1e-12)[:, None]
    share = np.tile(NODES, count)
    segment = np.repeat(np.arange(count), POINTS)
    at = assembly.start[segment] + run[segment] * share[:, None]
    taper = assembly.diameter_end - assembly.diameter_start
    diameter = assembly.diameter_start[segment] + taper[segment] * share
    step = length[segment] * np.tile(WEIGHTS, count)
    inertia = np.pi * diameter**4 / 64.0 * assembly.bending_share[segment]
    area = np.pi * diameter**2 / 4.0 * assembly.area_share[segment]
    return _Sections(
        at=at,
        axis=axis[segment],
        segment=segment,
        share=share,
        bend=step / (modulus * inertia),
        twist=step / (modulus * SHEAR_SHARE * 2.0 * inertia),
        pull=step / (modulus * area),
    )


def _action_moments(sections: _Sections, actions: Actions, beyond: NDArray[np.bool_]) -> tuple[Array, Array]:
    """Moment (S, m, 3) and force (S, m, 3) at each section by each unit action beyond it."""
    count = beyond.shape[0]
    carrier = np.where(actions.segment < 0, 0, actions.segment)
    past = beyond[:, carrier][sections.segment] if count else np.zeros((0, len(actions)), dtype=bool)
    own = (sections.segment[:, None] == carrier[None, :]) & (sections.share[:, None] < actions.fraction[None, :])
    felt = (past | own) & (actions.segment >= 0)[None, :]
    arm = actions.point[None, :, :] - sections.at[:, None, :]
    moment = np.cross(arm, actions.force[None, :, :]) + actions.couple[None, :, :]
    return moment * felt[..., None], np.broadcast_to(actions.force, moment.shape) * felt[..., None]


def _weight_moments(
    assembly: Assembly, sections: _Sections, labels: NDArray[np.int64], pieces: int, beyond: NDArray[np.bool_]
) -> tuple[Array, Array]:
    """Moment (S, P, G, 3) and mass beyond (S, P, G) at each section, for unit gravity pulling down."""
    segments, groups = assembly.mass.shape
    middle = 0.5 * (assembly.start + assembly.end)
    owner = np.zeros((segments, pieces))
    owner[np.arange(segments), labels] = 1.0
    by_piece = owner[:, :, None] * assembly.mass[:, None, :]  # (K, P, G)
    flat = by_piece.reshape(segments, -1)
    past = beyond.astype(float)
    mass = (past @ flat)[sections.segment].reshape(-1, pieces, groups)
    first = np.stack([(past @ (flat * middle[:, a : a + 1])) for a in range(3)], axis=-1)
    first = first[sections.segment].reshape(-1, pieces, groups, 3)
    # The part of the section's own segment that lies beyond it.
    rest = (1.0 - sections.share)[:, None, None] * by_piece[sections.segment]
    centre = 0.5 * (sections.at + assembly.end[sections.segment])
    mass = mass + rest
    first = first + rest[..., None] * centre[:, None, None, :]
    arm = first - mass[..., None] * sections.at[:, None, None, :]
    return np.cross(arm, -UP), mass


def _split(vector: Array, axis: Array) -> tuple[Array, Array]:
    """Part along the axis (...,) and the rest square to it (..., 3) of vectors (S, ..., 3)."""
    shaped = axis.reshape((axis.shape[0],) + (1,) * (vector.ndim - 2) + (3,))
    along = np.sum(vector * shaped, axis=-1)
    return along, vector - along[..., None] * shaped


def integrate(
    assembly: Assembly, labels: NDArray[np.int64], pieces: int, actions: Actions, modulus: float, origin: Array
) -> Integrals:
    """The integrals of one tree, its pieces and its actions.

    labels (K,) int: the piece each segment belongs to. modulus [N/m2]: green wood along the grain; stiffness of
    samples scales the result. Shear deflection is left out: the answer is slightly too stiff for stubby pieces.
    Weights within a segment are spread evenly, so a tapered segment's centre is off by less than its length / 12.
    Source: unit load theorem.
    Checked by: tests/handbook/test_beams_contact.py.
    """
    beyond = ancestry(assembly)
    sections = _sections(assembly, modulus)
    moment, force = _action_moments(sections, actions, beyond)
    twist, bend = _split(moment, sections.axis)
    pull = np.sum(force * sections.axis[:, None, :], axis=-1)
    load, mass = _weight_moments(assembly, sections, labels, pieces, beyond)
    load_twist, load_bend = _split(load * GRAVITY, sections.axis)
    load_pull = -GRAVITY * mass * sections.axis[:, None, None, 2]
    groups = len(GROUPS)
    count = len(actions)
    flex = np.zeros((pieces, count, count))
    sag = np.zeros((pieces, pieces, groups, count))
    where = labels[sections.segment]
    for p in range(pieces):
        s = where == p
        rows = _stack(bend[s], twist[s], pull[s], sections, s)  # (5S, m), square roots of the weights inside
        loads = _stack(
            load_bend[s].reshape(int(s.sum()), -1, 3),
            load_twist[s].reshape(int(s.sum()), -1),
            load_pull[s].reshape(int(s.sum()), -1),
            sections,
            s,
        )
        flex[p] = rows.T @ rows
        sag[p] = (loads.T @ rows).reshape(pieces, groups, count)
    carrier = np.where(actions.segment < 0, 0, actions.segment)
    return Integrals(
        flex=flex,
        sag=sag,
        wrench=actions.wrenches(origin),
        weight=piece_weights(assembly, labels, pieces, origin),
        action_piece=labels[carrier],
        origin=origin,
    )


def _stack(bend: Array, twist: Array, pull: Array, sections: _Sections, s: NDArray[np.bool_]) -> Array:
    """Moments and forces at the sections, each times the square root of its ds over stiffness, as one matrix."""
    wide = bend.shape[1]
    parts = [bend[:, :, a] * np.sqrt(sections.bend[s])[:, None] for a in range(3)]
    parts.append(twist * np.sqrt(sections.twist[s])[:, None])
    parts.append(pull * np.sqrt(sections.pull[s])[:, None])
    return np.concatenate(parts).reshape(-1, wide)


def piece_weights(assembly: Assembly, labels: NDArray[np.int64], pieces: int, origin: Array) -> Array:
    """(P, G, 6) weight wrench of each piece and mass group about the origin [N, N m].

    labels (K,) int; lumps belong to the piece of the segment that carries them.
    Source: statics.
    Checked by: tests/unit/contact/test_flexibility.py.
    """
    middle = 0.5 * (assembly.start + assembly.end)
    out = np.zeros((pieces, len(GROUPS), 6))
    for points, masses, owner in (
        (middle, assembly.mass, labels),
        (assembly.lump_point, assembly.lump_mass, labels[assembly.lump_segment]),
    ):
        force = -GRAVITY * masses[:, :, None] * UP
        turn = np.cross((points - origin)[:, None, :], force)
        np.add.at(out, owner, np.concatenate([force, turn], axis=2))
    return out
