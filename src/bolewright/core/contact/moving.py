"""A rigid movement in the trade's words: butt drops, tip drops, rolls to the right, slides down the roof."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.vectors import FORWARD, UP

Array = NDArray[np.float64]

ALSO = 0.4  # of the largest part: a part of the movement above this is named too (house rule)
LEVEL = 0.6  # of the other end's: ends that drop this much alike drop as a whole (house rule)
RISES = 0.1  # of the drop: an end that rises more than this is said to rise (house rule)
STEEPEST = 0.5  # forward per down: a slide steeper than this (63 degrees) is a drop too (house rule)
NONE = 1e-12


@dataclass(frozen=True)
class Moved:
    """A movement in words, of a kind (held | drops | tips | rolls | slides | turns), and as numbers.

    slide (3,): of the centre of mass; turn (3,): rotation vector; largest: how far the place that moves most goes
    (butt, tip, or the rim of the wood where it rolls). Units are those of the movement given: [m, rad] or a rate.
    """

    words: str
    kind: str
    slide: Array
    turn: Array
    largest: float


class _Part(NamedTuple):
    size: float
    kind: str
    words: str


def full_motion(motion: Array) -> Array:
    """The six numbers (6,) [m, rad] of a movement: three, (vertical, about x, about y), are filled up with zeros.

    Source: house rule for vertical problems, rows Fz, Mx, My.
    Checked by: tests/unit/contact/test_motion.py.
    """
    if len(motion) == 6:
        return np.asarray(motion, dtype=float)
    return np.array([0.0, 0.0, motion[0], motion[1], motion[2], 0.0])


def motion_in_words(
    motion: Array,
    centre: Array,
    axis: Array,
    butt: Array,
    tip: Array,
    radius: float,
    surface: str = "",
) -> Moved:
    """The movement of a piece said as a sawyer would, with its size.

    What moves most decides: an end going down, the rim of the wood in a roll, the ends in a turn, the whole in a
    slide; a second part over 40 % of the first is named too. First order: it says how the movement BEGINS.
    motion (6,) or (3,) about the origin of the job frame [m, rad]; centre, butt, tip (3,) [m] of the piece; axis (3,)
    butt to tip; radius [m] at which a roll is felt (reach of the limbs, or the wood's radius); surface: "roof" or
    "slope" adds "down the roof" to a slide that loses height.
    Source: kinematics of a rigid body; thresholds are a house rule.
    Checked by: tests/unit/contact/test_motion.py.
    """
    six = full_motion(motion)
    turn, slide = six[3:], six[:3] + np.cross(six[3:], centre)
    along = np.asarray(axis, dtype=float) / float(np.linalg.norm(axis))
    ends = [six[:3] + np.cross(turn, np.asarray(end, dtype=float)) for end in (butt, tip)]
    slid = float(slide[2]) if surface and float(np.hypot(slide[0], slide[1])) > STEEPEST * abs(float(slide[2])) else 0.0
    parts = [
        _dropping(float(ends[0][2]) - slid, float(ends[1][2]) - slid),
        _rolling(float(turn @ along), radius),
        _turning(float(turn[2]), 0.5 * float(np.linalg.norm((np.asarray(tip) - np.asarray(butt))[:2]))),
        _sliding(slide, along, surface),
    ]
    parts.sort(key=lambda part: -part.size)
    if parts[0].size <= NONE:
        return Moved("held", "held", slide, turn, 0.0)
    named = [part.words for part in parts if part.size >= ALSO * parts[0].size][:2]
    rim = abs(float(turn @ along)) * radius
    largest = max(float(np.linalg.norm(ends[0])), float(np.linalg.norm(ends[1])), float(np.linalg.norm(slide)), rim)
    return Moved(" and ".join(named), parts[0].kind, slide, turn, largest)


def _dropping(butt: float, tip: float) -> _Part:
    """The ends going down or up."""
    size = max(abs(butt), abs(tip))
    low, high = min(butt, tip), max(butt, tip)
    if size <= NONE:
        return _Part(0.0, "drops", "")
    if low < 0.0 and high < 0.0 and high <= LEVEL * low:
        return _Part(size, "drops", "drops whole")
    if low > 0.0 and low >= LEVEL * high:
        return _Part(size, "tips", "lifts whole")
    down, other = ("butt", "tip") if butt < tip else ("tip", "butt")
    if low >= -RISES * high and high > 0.0:
        return _Part(size, "tips", f"{other} lifts")
    if high > -RISES * low:
        return _Part(size, "tips", f"{down} drops, {other} lifts")
    return _Part(size, "drops", f"{down} drops")


def _rolling(rate: float, radius: float) -> _Part:
    """Turning about its own axis: + carries the top to the right, seen from butt to tip."""
    return _Part(abs(rate) * radius, "rolls", "rolls to the right" if rate > 0.0 else "rolls to the left")


def _turning(rate: float, half: float) -> _Part:
    """Turning about the vertical: + carries the tip to the left."""
    return _Part(abs(rate) * half, "turns", "tip turns to the left" if rate > 0.0 else "tip turns to the right")


def _sliding(slide: Array, along: Array, surface: str) -> _Part:
    """The centre of mass moving sideways or lengthwise."""
    flat = np.array([slide[0], slide[1], 0.0])
    size = float(np.linalg.norm(flat))
    ahead = along - UP * float(along @ UP)
    ahead = ahead / float(np.linalg.norm(ahead)) if float(np.linalg.norm(ahead)) > 1e-6 else FORWARD
    right = np.cross(ahead, UP)
    forward, across = float(flat @ ahead), float(flat @ right)
    if abs(forward) >= abs(across):
        words = "slides towards the tip" if forward > 0.0 else "slides towards the butt"
    else:
        words = "slides to the right" if across > 0.0 else "slides to the left"
    if surface and float(slide[2]) < -0.05 * size:
        words += f", down the {surface}"
    return _Part(size, "slides", words)
