"""Contacts: every place where something may push, pull or hold the tree, and what is not known about each."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.vectors import Vector, unit
from bolewright.core.contact.actions import Actions, Array

SMALLEST_GIVE = 1e-9  # m/N: even "rigid" gives a little (1 kN/um), which makes the sharing of load unique


@dataclass(frozen=True)
class Contact:
    """One unknown force (or couple) between the tree and something else.

    id: the support it belongs to; a saddle is two contacts with one id. kind: roof, wall, ground, fence, prop, crib,
    chock, tree, root plate, hinge, tie-back, lowering, crane, possible.
    segment, fraction, point [m]: where. force, couple: what a positive unknown does to the wood in the vertical
    problem (a slanting line's force is the vertical part of a unit pull). normal: unit direction of the real push or
    pull, used with friction; zero for a couple.
    low, high [N or N m]: bounds; 0..inf pushes only (or pulls only, for a line).
    give [m/N]: likely movement of the support under a unit force; give_spread: standard deviation of its logarithm.
    misfit [m]: standard deviation of the height error of a touching support. gap [m]: distance now.
    mu_low, mu_high: friction, low is used for the stand-or-slide check. sideways [N]: what it holds square to `force`
    by itself (hinge fibre, roots), 0 for plain contacts. jacked [N]: force it is brought to against the tree as found,
    for a support set afterwards.
    """

    id: str
    kind: str
    member: str
    at: float
    segment: int
    fraction: float
    point: Vector
    force: Vector
    couple: Vector
    normal: Vector
    low: float = 0.0
    high: float = np.inf
    give: float = 1e-6
    give_spread: float = 0.5
    misfit: float = 0.003
    gap: float = 0.0
    touching: bool = True
    building: bool = False
    limit: float | None = None
    tolerance: float | None = None
    mu_low: float = 0.3
    mu_high: float = 0.6
    sideways: float = 0.0
    feel: str = ""
    jacked: float = 0.0


def actions_of(contacts: list[Contact]) -> Actions:
    """The unit actions of the contacts, in order.

    Plain: arrays (n, 3) gathered.
    """
    return Actions(
        segment=np.array([c.segment for c in contacts], dtype=np.int64),
        fraction=np.array([c.fraction for c in contacts], dtype=float),
        point=np.array([c.point for c in contacts], dtype=float).reshape(-1, 3),
        force=np.array([c.force for c in contacts], dtype=float).reshape(-1, 3),
        couple=np.array([c.couple for c in contacts], dtype=float).reshape(-1, 3),
    )


def slanted_of(contacts: list[Contact]) -> Actions:
    """Three unit actions a contact, in the order normal, tangent 1, tangent 2 of the first contact, then the next.

    A couple keeps itself as its normal and has tangents of zero.
    Unit vectors [-].
    Source: geometry.
    Checked by: tests/unit/contact/test_state.py
    """
    base = actions_of(contacts)
    normal = np.array([c.normal for c in contacts], dtype=float).reshape(-1, 3)
    first = np.array([_tangent(c.normal) for c in contacts], dtype=float).reshape(-1, 3)
    none = np.zeros_like(base.couple)
    return Actions(
        segment=np.repeat(base.segment, 3),
        fraction=np.repeat(base.fraction, 3),
        point=np.repeat(base.point, 3, axis=0),
        force=np.stack([normal, first, np.cross(normal, first)], axis=1).reshape(-1, 3),
        couple=np.stack([base.couple, none, none], axis=1).reshape(-1, 3),
    )


def _tangent(normal: Vector) -> Vector:
    """A unit vector square to the normal, forward (+x) where that is possible; zero for a couple."""
    if float(np.linalg.norm(normal)) < 0.5:
        return np.zeros(3)
    forward = np.array([1.0, 0.0, 0.0])
    square = forward - normal * float(forward @ normal)
    return unit(square) if float(np.linalg.norm(square)) > 0.1 else unit(np.cross(normal, np.array([0.0, 1.0, 0.0])))


def is_couple(contacts: list[Contact]) -> NDArray[np.bool_]:
    """(n,) true for unknowns that are couples.

    Plain: a test of the force's length.
    """
    return np.array([float(np.linalg.norm(c.force)) < 0.5 for c in contacts], dtype=bool)


def likely_give(contacts: list[Contact]) -> Array:
    """(n,) likely give, never under the smallest.

    Plain: values gathered, [m/N].
    """
    return np.asarray(np.maximum(np.array([c.give for c in contacts], dtype=float), SMALLEST_GIVE))
