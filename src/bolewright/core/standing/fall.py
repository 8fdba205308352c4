"""Where a falling tree reaches: its circle, the sector it most likely falls in, and what stands in either."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from bolewright.core.base.errors import BadInput

Reach = Literal["under the crown", "in the sector", "in the circle", "in shatter reach", "out of reach"]
HALF_SECTOR = np.radians(45.0)  # of the fall sector on either side (common practice)
LOOK = 1.5  # tree heights within which targets are looked for (common practice: 1 to 2)


@dataclass(frozen=True)
class FallReach:
    """How far and where a tree may fall, from its foot [m], directions from x to y [rad]."""

    radius: float
    crown_radius: float
    directions: tuple[float, ...]  # middles of the fall sectors
    half_angle: float
    look: float  # how far out pieces of a breaking crown may be thrown


def fall_reach(height: float, crown_radius: float, directions: tuple[float, ...], broken_at: float = 0.0) -> FallReach:
    """The circle a tree of this height [m] can hit when it goes over at the ground or breaks at `broken_at` [m].

    Whole and stiff, hinged at the break: nothing lands further out than the part above the break is long. A top that
    lets go and is carried by the wind may: `look` goes beyond.

    Raises BadInput when the break lies above the top.

    Source: geometry: the tip of a stiff part turning about its break.
    Checked by: tests/unit/standing/test_fall.py
    """
    if not 0.0 <= broken_at < height:
        raise BadInput("The break has to lie below the top of the tree.", "failure.height")
    return FallReach(height - broken_at, crown_radius, directions, HALF_SECTOR, LOOK * height)


def reaches(reach: FallReach, distance: float, direction: float) -> Reach:
    """How a target whose near side is at this distance [m] in this direction [rad] lies to the fall.

    A high target is met by less of the tree than the ground is; the reach on the ground is used for all: errs high.

    Source: geometry.
    Checked by: tests/unit/standing/test_fall.py
    """
    if distance <= reach.crown_radius:
        return "under the crown"
    if distance <= reach.radius:
        away = [abs((direction - d + np.pi) % (2.0 * np.pi) - np.pi) for d in reach.directions]
        return "in the sector" if any(a <= reach.half_angle for a in away) else "in the circle"
    return "in shatter reach" if distance <= reach.look else "out of reach"


def along_reach(base: ArrayLike, tip: ArrayLike, length: float, place: ArrayLike) -> bool:
    """Whether a limb that lets go at `base` (2,) may come down on a place (2,) in plan [m].

    Within a quarter of its length beside its own plan line: twigs reach that far, and it may swing a little as it goes.

    Source: common practice.
    Checked by: tests/unit/standing/test_fall.py
    """
    start, end, point = (np.asarray(p, float) for p in (base, tip, place))
    way = end - start
    run = float(way @ way)
    share = min(max(float((point - start) @ way) / run, 0.0), 1.0) if run > 0.0 else 0.0
    return bool(np.linalg.norm(point - start - share * way) <= length / 4.0)
