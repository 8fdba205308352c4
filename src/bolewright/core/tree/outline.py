"""The shape of the wood for drawings, and diameters at any distance along a member."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.tree.assembly import Assembly
from bolewright.core.tree.axis import CLOSE

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class MemberOutline:
    """A run of one member: centre line from base to tip with the outside and hole diameters at each point."""

    member: str
    s: Floats  # (n,) distance along the member
    points: Floats  # (n, 3)
    diameters: Floats  # (n,)
    hollow_diameters: Floats  # (n,) 0 where sound


def diameters_at(assembly: Assembly, member: str, s: ArrayLike) -> Floats:
    """Outside diameters [m] (n,) at distances s (n,) along a member; beyond its ends the end value.

    Source: linear taper between stations.
    Checked by: tests/unit/tree/test_pieces.py
    """
    own = assembly.of(member)
    nodes = np.append(assembly.s_start[own], assembly.s_end[own.stop - 1])
    values = np.append(assembly.diameter_start[own], assembly.diameter_end[own.stop - 1])
    return np.asarray(np.interp(np.atleast_1d(np.asarray(s, dtype=float)), nodes, values))


def hollows_at(assembly: Assembly, member: str, s: ArrayLike) -> Floats:
    """Diameter [m] (n,) of the hole decay left at distances s (n,) along a member, 0 where sound.

    Where a hole starts or ends abruptly the base-side value counts.

    Source: linear between segment ends.
    Checked by: tests/unit/tree/test_pieces.py
    """
    own = assembly.of(member)
    where = np.atleast_1d(np.asarray(s, dtype=float))
    s0, s1 = assembly.s_start[own], assembly.s_end[own]
    i = np.minimum(np.searchsorted(s1, where - CLOSE), s1.size - 1)
    share = np.clip((where - s0[i]) / (s1[i] - s0[i]), 0.0, 1.0)
    a, b = assembly.hollow_start[own][i], assembly.hollow_end[own][i]
    return np.asarray(a + share * (b - a))


def member_outline(assembly: Assembly, member: str, start: float = 0.0, end: float = np.inf) -> MemberOutline:
    """The run of a member between two distances [m], with two points (n, 3) at one place where a hole starts or ends.

    Source: geometry.
    Checked by: tests/unit/tree/test_pieces.py
    """
    own = assembly.of(member)
    i = np.arange(own.start, own.stop)
    low = np.clip((start - assembly.s_start[i]) / (assembly.s_end[i] - assembly.s_start[i]), 0.0, 1.0)
    high = np.clip((end - assembly.s_start[i]) / (assembly.s_end[i] - assembly.s_start[i]), 0.0, 1.0)
    inside = (high - low) * (assembly.s_end[i] - assembly.s_start[i]) > CLOSE
    i, low, high = i[inside], low[inside], high[inside]
    s = _both_ends(assembly.s_start[i], assembly.s_end[i], low, high)
    points = _both_ends(assembly.start[i], assembly.end[i], low[:, None], high[:, None])
    diameters = _both_ends(assembly.diameter_start[i], assembly.diameter_end[i], low, high)
    hollow = _both_ends(assembly.hollow_start[i], assembly.hollow_end[i], low, high)
    same = np.concatenate(([False], (np.abs(np.diff(s)) <= CLOSE) & (np.abs(np.diff(hollow)) <= CLOSE)))
    return MemberOutline(member, s[~same], points[~same], diameters[~same], hollow[~same])


def _both_ends(a: Floats, b: Floats, low: Floats, high: Floats) -> Floats:
    """Values at the two shares of every segment, one after the other."""
    two = np.stack([a + low * (b - a), a + high * (b - a)], axis=1)
    return np.asarray(two.reshape((-1, *a.shape[1:])))


def outline(assembly: Assembly) -> tuple[MemberOutline, ...]:
    """Every member's whole run, in the order of `assembly.members`; a limb's starts on its parent's centre line.

    SI units.

    Source: geometry.
    Checked by: tests/unit/tree/test_pieces.py
    """
    return tuple(member_outline(assembly, member) for member in assembly.members)
