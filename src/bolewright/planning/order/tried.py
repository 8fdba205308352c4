"""One way of doing the work, with the order that was found for it and the props it needs."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bolewright.core.contact.actions import Array
from bolewright.core.cutting.handling import HandlingLimits
from bolewright.core.props.option import PropOption
from bolewright.planning.holding.model import Model
from bolewright.planning.holding.posts import PropPlace
from bolewright.planning.order.search import Found

Seen = Callable[[int], None]


@dataclass(frozen=True)
class PropUse:
    """A prop of a plan: where, the indices of its two contacts, the force it is jacked to, and how it is built."""

    place: PropPlace
    contacts: tuple[int, int]
    jacked: float
    option: PropOption | None


def rows_of(props: Sequence[PropUse]) -> NDArray[np.int64]:
    """The numbers of the contacts of some props."""
    return np.array([c for p in props for c in p.contacts], dtype=np.int64)


@dataclass(frozen=True)
class Tried:
    """One way of doing it with the order that was found, or not. first: cuts made before the props are set, to get
    round wood for them."""

    title: str
    model: Model
    found: Found
    limits: HandlingLimits
    props: tuple[PropUse, ...] = ()
    first: Found | None = None


def largest_force(found: Found, prop: PropUse) -> float:
    """The heavy end of the most a prop carries over the order, sudden release counted [N]."""
    forces = forces_over(found, prop)
    rises = np.maximum(np.diff(forces, axis=0, prepend=forces[:1]), 0.0)
    return float(np.percentile((forces + rises).max(axis=0), 95.0))


def forces_over(found: Found, prop: PropUse) -> Array:
    """(states, B) what a prop carries in every state of the order [N]."""
    states = [found.start, *(s.move.after for s in found.order.steps if s.move.after)]
    rows = np.searchsorted(found.which, prop.contacts)
    return np.array([found.judge.state(bits).force[rows].sum(axis=0) for bits in states], dtype=float)
