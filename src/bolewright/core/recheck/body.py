"""What the second formulation is given: wood, supports and loads as plain arrays, and what it hands back."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.base.errors import BadInput

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

HELD, NOT_HELD, UNSETTLED = "held", "not held", "unsettled"


@dataclass(frozen=True)
class Segments:
    """K straight runs of round wood, parents before children.

    `bending` (EI), `torsion` (GJ) and `axial` (EA) hold the value at the start and at the end of each run, (K, 2);
    between the ends a linearly tapered round section is meant, so the fourth root of EI and GJ and the square root
    of EA run straight. `weight` [N] is spread evenly along the run. A `rigid` run does not deform at all.
    """

    start: Floats
    end: Floats
    parent: Ints
    bending: Floats
    torsion: Floats
    axial: Floats
    weight: Floats
    rigid: Flags

    @classmethod
    def of(
        cls,
        start: ArrayLike,
        end: ArrayLike,
        parent: ArrayLike,
        bending: ArrayLike,
        torsion: ArrayLike,
        axial: ArrayLike,
        weight: ArrayLike,
        rigid: ArrayLike | None = None,
    ) -> Segments:
        """Segments from anything array-like; stiffnesses of shape (K,) mean runs without taper."""
        first = np.asarray(start, dtype=float).reshape(-1, 3)
        count = len(first)
        stiff = np.zeros(count, dtype=bool) if rigid is None else np.asarray(rigid, dtype=bool)
        load = np.broadcast_to(np.asarray(weight, dtype=float), (count,)).copy()
        made = cls(
            start=first,
            end=np.asarray(end, dtype=float).reshape(-1, 3),
            parent=np.asarray(parent, dtype=np.int64),
            bending=_two_ends(bending, count),
            torsion=_two_ends(torsion, count),
            axial=_two_ends(axial, count),
            weight=load,
            rigid=stiff,
        )
        made.check()
        return made

    @property
    def count(self) -> int:
        """How many runs there are."""
        return len(self.start)

    def check(self) -> None:
        """Raise BadInput at the first run that cannot be."""
        if self.count == 0:
            raise BadInput("There is no wood to check: give at least one segment.", "segments")
        if np.any(self.parent >= np.arange(self.count)) or np.any(self.parent < -1):
            raise BadInput("Each segment must come after the one that carries it.", "segments.parent")
        if np.any(np.linalg.norm(self.end - self.start, axis=1) <= 0.0):
            raise BadInput("A segment has no length; give it two different ends.", "segments.end")
        for name in ("bending", "torsion", "axial"):
            value = getattr(self, name)
            if not np.all(np.isfinite(value)) or np.any(value <= 0.0):
                raise BadInput(f"The {name} stiffness of every segment must be a positive number.", f"segments.{name}")


def _two_ends(value: ArrayLike, count: int) -> Floats:
    array = np.asarray(value, dtype=float)
    if array.ndim == 2:
        return array.copy()
    return np.repeat(np.broadcast_to(array, (count,))[:, None], 2, axis=1)


@dataclass(frozen=True)
class Supports:
    """m one-sided or bounded springs, each at a point fixed to a segment.

    A positive force pushes the wood along `direction` (and turns it about `couple`, for a pure couple or a pull with a
    twist). The spring is loaded once the point has moved `gap` against the direction; it then gives way by
    `compliance` [m/N]. The force stays within `lower`..`upper`: 0..inf is a bearing or a line, -c..c holds both ways.
    """

    segment: Ints
    point: Floats
    direction: Floats
    couple: Floats
    compliance: Floats
    gap: Floats
    lower: Floats
    upper: Floats

    @classmethod
    def of(
        cls,
        segment: ArrayLike,
        point: ArrayLike,
        direction: ArrayLike,
        compliance: ArrayLike,
        gap: ArrayLike = 0.0,
        lower: ArrayLike = 0.0,
        upper: ArrayLike = np.inf,
        couple: ArrayLike | None = None,
    ) -> Supports:
        """Supports from anything array-like; single numbers and one direction are used for all."""
        where = np.asarray(segment, dtype=np.int64).ravel()
        count = len(where)
        way = np.broadcast_to(np.asarray(direction, dtype=float), (count, 3)).copy()
        turn = np.zeros(3) if couple is None else np.asarray(couple, dtype=float)
        twist = np.broadcast_to(turn, (count, 3)).copy()
        spread = [np.broadcast_to(np.asarray(v, dtype=float), (count,)).copy() for v in (compliance, gap, lower, upper)]
        made = cls(where, np.asarray(point, dtype=float).reshape(count, 3), way, twist, *spread)
        made.check()
        return made

    @property
    def count(self) -> int:
        """How many supports there are."""
        return len(self.segment)

    def check(self) -> None:
        """Raise BadInput where a support's numbers cannot be."""
        if np.any(self.compliance < 0.0) or not np.all(np.isfinite(self.compliance)):
            raise BadInput("A support cannot give way by a negative amount.", "supports.compliance")
        if np.any(self.lower > self.upper) or not np.all(np.isfinite(self.gap)):
            raise BadInput("A support's least force lies above its greatest, or its gap is no number.", "supports")
        if self.count and np.min(np.sum(self.direction**2, axis=1) + np.sum(self.couple**2, axis=1)) == 0.0:
            raise BadInput("A support has no direction.", "supports.direction")


@dataclass(frozen=True)
class PointLoads:
    """P forces [N] and couples [N m] given from outside, each at a point fixed to a segment."""

    segment: Ints
    point: Floats
    force: Floats
    couple: Floats

    @classmethod
    def of(cls, segment: ArrayLike, point: ArrayLike, force: ArrayLike, couple: ArrayLike | None = None) -> PointLoads:
        """Point loads from anything array-like; no couple means none."""
        where = np.asarray(segment, dtype=np.int64).ravel()
        push = np.asarray(force, dtype=float).reshape(len(where), 3)
        twist = np.zeros_like(push) if couple is None else np.asarray(couple, dtype=float).reshape(len(where), 3)
        return cls(where, np.asarray(point, dtype=float).reshape(len(where), 3), push, twist)

    @classmethod
    def none(cls) -> PointLoads:
        """No loads at all."""
        return cls(np.zeros(0, dtype=np.int64), np.zeros((0, 3)), np.zeros((0, 3)), np.zeros((0, 3)))

    def where(self, keep: Flags) -> PointLoads:
        """Only the loads marked."""
        return PointLoads(self.segment[keep], self.point[keep], self.force[keep], self.couple[keep])


@dataclass(frozen=True)
class RecheckResult:
    """The second formulation's answer for one state.

    `forces` (m,) [N], 0 where a support is absent and nan when nothing holds the body; `residual` is the worst
    imbalance of force and moment over the whole body, relative to its load (and load times size); `complementarity`
    the worst breach of "no force without touching", relative likewise. `displacements` (K, 6) are the movement and
    turn of each segment's end; `carried` (K, 6) the force and couple which the wood beyond a segment's start hands to
    the wood before it, at that start. `motion` is the rigid movement (at the origin: slide, turn) that nothing
    resists when the body is not held. `loose` counts rigid motions no loaded support resists (balanced, not stopped).
    """

    status: str
    forces: Floats
    residual: float
    complementarity: float
    displacements: Floats
    carried: Floats
    loose: int
    rounds: int
    motion: Floats | None = field(default=None)
