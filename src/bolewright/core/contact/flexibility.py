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

    def some(self, which: NDArray[np.bool_]) -> _Sections:
        """Those of a mask (S,)."""
        return _Sections(**{name: value[which] for name, value in vars(self).items()})


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


def _felt(sections: _Sections, actions: Actions, beyond: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """(S, m) true where a section feels an action, because it acts beyond the section."""
    carrier = np.where(actions.segment < 0, 0, actions.segment)
    past = beyond[:, carrier][sections.segment] if len(beyond) else np.zeros((0, len(actions)), dtype=bool)
    own = (sections.segment[:, None] == carrier[None, :]) & (sections.share[:, None] < actions.fraction[None, :])
    return np.asarray((past | own) & (actions.segment >= 0)[None, :])


def _action_moments(sections: _Sections, actions: Actions, felt: NDArray[np.bool_]) -> tuple[Array, Array]:
    """Moment (S, m, 3) and force (S, m, 3) at each section by each unit action it feels."""
    arm = actions.point[None, :, :] - sections.at[:, None, :]
    moment = np.cross(arm, actions.force[None, :, :]) + actions.couple[None, :, :]
    return moment * felt[..., None], np.broadcast_to(actions.force, moment.shape) * felt[..., None]


def _weight_moments(
    assembly: Assembly, sections: _Sections, owner: Array, beyond: NDArray[np.bool_]
) -> tuple[Array, Array]:
    """Moment (S, Q, G, 3) and mass beyond (S, Q, G) at each section, for unit gravity pulling down.

    owner (K, Q): 1 where a segment belongs to a piece.
    """
    groups, pieces = assembly.mass.shape[1], owner.shape[1]
    middle = 0.5 * (assembly.start + assembly.end)
    by_piece = owner[:, :, None] * assembly.mass[:, None, :]  # (K, Q, G)
    flat = by_piece.reshape(len(owner), -1)
    past = beyond[sections.segment].astype(float)
    mass = (past @ flat).reshape(-1, pieces, groups)
    first = np.stack([past @ (flat * middle[:, a : a + 1]) for a in range(3)], axis=-1)
    first = first.reshape(-1, pieces, groups, 3)
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
    felt = _felt(sections, actions, beyond)
    where = labels[sections.segment]
    flex = np.zeros((pieces, len(actions), len(actions)))
    sag = np.zeros((pieces, pieces, len(GROUPS), len(actions)))
    for p in range(pieces):  # a piece bends only by what acts on it and on the pieces beyond it
        own, segments = sections.some(where == p), labels == p
        feels = np.flatnonzero(felt[where == p].any(axis=0))
        bears = np.unique(labels[segments | beyond[segments].any(axis=0)])
        rows = _action_rows(own, actions.some(feels), felt[where == p][:, feels])
        loads = _weight_rows(assembly, own, (labels[:, None] == bears[None, :]).astype(float), beyond)
        flex[p][np.ix_(feels, feels)] = rows.T @ rows
        bent = (loads.T @ rows).reshape(len(bears), len(GROUPS), len(feels))
        sag[p][np.ix_(bears, np.arange(len(GROUPS)), feels)] = bent
    carrier = np.where(actions.segment < 0, 0, actions.segment)
    return Integrals(
        flex=flex,
        sag=sag,
        wrench=actions.wrenches(origin),
        weight=piece_weights(assembly, labels, pieces, origin),
        action_piece=labels[carrier],
        origin=origin,
    )


def _action_rows(sections: _Sections, actions: Actions, felt: NDArray[np.bool_]) -> Array:
    """(5S, m) what the unit actions do at the sections, square roots of the weights inside."""
    moment, force = _action_moments(sections, actions, felt)
    twist, bend = _split(moment, sections.axis)
    return _stack(bend, twist, np.sum(force * sections.axis[:, None, :], axis=-1), sections)


def _weight_rows(assembly: Assembly, sections: _Sections, owner: Array, beyond: NDArray[np.bool_]) -> Array:
    """(5S, Q G) the same by the weights of pieces."""
    moment, mass = _weight_moments(assembly, sections, owner, beyond)
    twist, bend = _split(moment * GRAVITY, sections.axis)
    pull = -GRAVITY * mass * sections.axis[:, None, None, 2]
    count, wide = len(sections.segment), owner.shape[1] * len(GROUPS)
    return _stack(bend.reshape(count, wide, 3), twist.reshape(count, wide), pull.reshape(count, wide), sections)


def _stack(bend: Array, twist: Array, pull: Array, sections: _Sections) -> Array:
    """Moments and forces at the sections, each times the square root of its ds over stiffness, as one matrix."""
    parts = [bend[:, :, a] * np.sqrt(sections.bend)[:, None] for a in range(3)]
    parts.append(twist * np.sqrt(sections.twist)[:, None])
    parts.append(pull * np.sqrt(sections.pull)[:, None])
    return np.concatenate(parts)


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
