"""Unit actions on the tree: the unknown contact forces and the probes at which movement is asked.

An action is a unit force, a unit couple, or both, applied to the wood at one place. Its magnitude is a contact
force (for an unknown) or zero (for a probe, which only reports how far that place moves).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Actions:
    """m unit actions. All vectors in the job frame, metres.

    segment (m,) int: segment of the assembly that carries the action, -1 for the very butt.
    fraction (m,): where along that segment, 0 start to 1 end (segments are split so that this is normally 1).
    point (m, 3): where the force touches; may lie off the axis.
    force (m, 3), couple (m, 3): unit force and unit couple on the wood.
    """

    segment: NDArray[np.int64]
    fraction: Array
    point: Array
    force: Array
    couple: Array

    def __len__(self) -> int:
        return len(self.segment)

    def some(self, which: NDArray[np.int64]) -> Actions:
        """Those at places in the order (n,)."""
        return Actions(**{name: value[which] for name, value in vars(self).items()})

    def wrenches(self, origin: Array) -> Array:
        """(6, m) force and moment of each unit action about the origin (3,)."""
        moment = np.cross(self.point - origin, self.force) + self.couple
        return np.concatenate([self.force, moment], axis=1).T


def join(parts: list[Actions]) -> Actions:
    """All actions of the parts, in order.

    Plain: arrays (m, 3) put one after the other.
    """
    return Actions(
        segment=np.concatenate([p.segment for p in parts]),
        fraction=np.concatenate([p.fraction for p in parts]),
        point=np.concatenate([p.point for p in parts]),
        force=np.concatenate([p.force for p in parts]),
        couple=np.concatenate([p.couple for p in parts]),
    )


def section_probes(segment: int, point: Array) -> Actions:
    """The six probes at the end of a segment: unit forces along x, y, z, then unit couples about x, y, z.

    Parameters: segment; point (3,) [m].
    Source: unit loads of virtual work.
    Checked by: tests/unit/contact/test_flexibility.py
    """
    eye, none = np.eye(3), np.zeros((3, 3))
    return Actions(
        segment=np.full(6, segment, dtype=np.int64),
        fraction=np.ones(6),
        point=np.tile(point, (6, 1)),
        force=np.concatenate([eye, none]),
        couple=np.concatenate([none, eye]),
    )
