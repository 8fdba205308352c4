"""Hatching as real strokes clipped to a shape, the same in every renderer."""

from __future__ import annotations

import math
from collections.abc import Sequence

from bolewright.drawings.svg import Spot

Stroke = tuple[Spot, Spot]


def hatch(rings: Sequence[Sequence[Spot]], spacing: float, degrees: float = 45.0) -> list[Stroke]:
    """Parallel strokes inside the rings (even-odd, so a ring inside a ring is a hole)."""
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    turned = [[(x * c + y * s, -x * s + y * c) for x, y in ring] for ring in rings if len(ring) >= 3]
    levels = [y for ring in turned for _, y in ring]
    if not levels:
        return []
    strokes: list[Stroke] = []
    row = math.ceil(min(levels) / spacing)
    while row * spacing < max(levels):
        y = row * spacing + 1e-7
        ends = sorted(x for ring in turned for x in _crossings(ring, y))
        for a, b in zip(ends[::2], ends[1::2], strict=False):
            if b - a > 0.4:
                strokes.append(((a * c - y * s, a * s + y * c), (b * c - y * s, b * s + y * c)))
        row += 1
    return strokes


def _crossings(ring: Sequence[Spot], y: float) -> list[float]:
    """Where the level line y crosses the ring."""
    found = []
    for (xa, ya), (xb, yb) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (ya <= y) != (yb <= y):
            found.append(xa + (xb - xa) * (y - ya) / (yb - ya))
    return found


def earth(profile: Sequence[Spot], every: float = 46.0, length: float = 9.0) -> list[Stroke]:
    """The draughtsman's mark for ground: groups of three short strokes under the line."""
    strokes: list[Stroke] = []
    ahead = 8.0
    for (xa, ya), (xb, yb) in zip(profile, profile[1:], strict=False):
        run = math.hypot(xb - xa, yb - ya)
        while ahead < run:
            for k in range(3):
                t = (ahead + 7 * k) / run
                if t < 1:
                    x, y = xa + (xb - xa) * t, ya + (yb - ya) * t
                    strokes.append(((x, y + 1.5), (x - length + 2.5 * k, y + 1.5 + length - 2.5 * k)))
            ahead += every
        ahead -= run
    return strokes
