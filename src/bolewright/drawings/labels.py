"""Where each label goes, so that nothing lies on anything else.

The sheet is a raster of small cells. Cells hold what a label must never cover (text, balloons, arrows), what it had
better not cover (wood, building lines) and the leader lines already drawn. Every free place is weighed: how far from
what it names, what it covers, what its leader crosses. The same input always gives the same places.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bolewright.drawings.svg import Spot
from bolewright.drawings.type_widths import Box

CELL = 4.0
STRIDE = 2  # cells between the places tried
NEAR = 7.0  # closest a label's edge comes to what it names
FINALISTS = 300  # places whose leader is looked at
FARTHER = 16  # step through the ranked places when none of the first will do
SAMPLES = 22  # points along a leader
OWN = 12.0  # along its first stretch a leader may pass what it names
CROSSED = 260.0  # cost of a leader through a label, an arrow or a balloon


@dataclass(frozen=True)
class Placed:
    """A place found: the box, where the leader meets it and what it points at."""

    box: Box
    touch: Spot
    anchor: Spot
    side: str  # left | right | top | bottom: the edge of the box the leader meets
    cost: float  # how good the place is, 0 best


class Placer:
    """The raster of one drawing area."""

    def __init__(self, area: Box) -> None:
        self.area = area
        rows, cols = (int((area.y1 - area.y0) // CELL), int((area.x1 - area.x0) // CELL))
        self.never = np.zeros((rows, cols), dtype=bool)
        self.rather_not = np.zeros((rows, cols), dtype=np.float64)
        self.leaders = np.zeros((rows, cols), dtype=bool)
        self._rather_not_sums: NDArray[np.float64] | None = None  # kept between places, the raster does not change

    def copy(self) -> Placer:
        """The same raster to try places on."""
        other = Placer(self.area)
        other.never[:], other.rather_not, other.leaders[:] = self.never, self.rather_not, self.leaders
        other._rather_not_sums = self._rather_not_sums
        return other

    def block(self, box: Box, pad: float = 1.0) -> None:
        """Nothing may be placed here."""
        self.never[self._cells(box.grown(pad))] = True

    def block_run(self, spots: Sequence[Spot], half: float = 2.0) -> None:
        """Nothing may be placed along this run of lines."""
        for x, y in _stepped(spots, half):
            self.block(Box(x, y, x, y), half)

    def discourage(self, spots: Sequence[Spot], half: float, weight: float) -> None:
        """Better not along this run of lines."""
        self._rather_not_sums = None
        for x, y in _stepped(spots, half):
            cells = self._cells(Box(x - half, y - half, x + half, y + half))
            self.rather_not[cells] = np.maximum(self.rather_not[cells], weight)

    def place(self, anchors: Sequence[Spot], width: float, height: float, towards: Spot = (0.0, -1.0),
              near: float = NEAR, reach: float = math.inf) -> Placed | None:  # fmt: skip
        """The best free place for a box that names one of the anchors; None when the sheet is full."""
        w, h = math.ceil((width + 2) / CELL), math.ceil((height + 2) / CELL)
        rows, cols = self.never.shape
        if w > cols or h > rows:
            return None
        taken = _windows(_sums(self.never | self.leaders), w, h)
        free = np.flatnonzero(taken.ravel() < 0.5)
        if free.size == 0:
            return None
        x0 = self.area.x0 + (free % taken.shape[1]) * CELL * STRIDE + 1
        y0 = self.area.y0 + (free // taken.shape[1]) * CELL * STRIDE + 1
        if self._rather_not_sums is None:
            self._rather_not_sums = _sums(self.rather_not)
        covered = _windows(self._rather_not_sums, w, h).ravel()[free]
        options = [self._best(anchor, x0, y0, width, height, covered, towards, near) for anchor in anchors]
        _, place = min(options, key=lambda option: option[0])
        return place if math.hypot(place.touch[0] - place.anchor[0], place.touch[1] - place.anchor[1]) < reach else None

    def settle(self, placed: Placed, leader: bool = True) -> None:
        """Keep a place, with its leader, from what comes later."""
        self.block(placed.box)
        if not leader:
            return
        for x, y in _stepped([placed.anchor, placed.touch]):
            self.leaders[self._cells(Box(x, y, x, y))] = True

    def _best(self, anchor: Spot, x0: NDArray[np.float64], y0: NDArray[np.float64], width: float, height: float,
              covered: NDArray[np.float64], towards: Spot, near: float) -> tuple[float, Placed]:  # fmt: skip
        ax, ay = anchor
        gap_x = np.maximum(np.maximum(x0 - ax, ax - x0 - width), 0.0)
        gap_y = np.maximum(np.maximum(y0 - ay, ay - y0 - height), 0.0)
        gap = np.hypot(gap_x, gap_y)
        away_x, away_y = x0 + width / 2 - ax, y0 + height / 2 - ay
        facing = (away_x * towards[0] + away_y * towards[1]) / np.maximum(np.hypot(away_x, away_y), 1.0)
        cost = gap + 14.0 * (1.0 - facing) + 0.9 * covered + np.where(gap < near, 500.0, 0.0)
        ranked = _lowest(cost, FARTHER * FINALISTS)
        first, touches, full = self._weighed(anchor, ranked[:FINALISTS], x0, y0, width, height, cost)
        if float(full.min()) > CROSSED:  # all near places are badly reached: look farther afield
            wider = ranked[: FARTHER * FINALISTS : FARTHER]
            first, touches, full = self._weighed(anchor, wider, x0, y0, width, height, cost)
        k = int(np.argmin(full))
        cost = full
        left, top = float(x0[first][k]), float(y0[first][k])
        touch = (float(touches[k, 0]), float(touches[k, 1]))
        box = Box(left, top, left + width, top + height)
        return float(cost[k]), Placed(box, touch, anchor, _side(box, touch), float(cost[k]))

    def _weighed(self, anchor: Spot, chosen: NDArray[np.intp], x0: NDArray[np.float64], y0: NDArray[np.float64],
                 width: float, height: float, cost: NDArray[np.float64],
                 ) -> tuple[NDArray[np.intp], NDArray[np.float64], NDArray[np.float64]]:  # fmt: skip
        touches = _touches(anchor[0], anchor[1], x0[chosen], y0[chosen], width, height)
        return chosen, touches, cost[chosen] + self._leader_cost(anchor, touches)

    def _leader_cost(self, anchor: Spot, touches: NDArray[np.float64]) -> NDArray[np.float64]:
        t = np.linspace(0.06, 0.98, SAMPLES)
        x = anchor[0] + (touches[:, 0:1] - anchor[0]) * t
        y = anchor[1] + (touches[:, 1:2] - anchor[1]) * t
        col = np.clip(((x - self.area.x0) // CELL).astype(int), 0, self.never.shape[1] - 1)
        row = np.clip(((y - self.area.y0) // CELL).astype(int), 0, self.never.shape[0] - 1)
        length = np.hypot(touches[:, 0] - anchor[0], touches[:, 1] - anchor[1])
        clear_of_own = length[:, None] * t > OWN
        crossed = (self.never[row, col] & clear_of_own).mean(axis=1)
        over_text = crossed * length * 4.0 + np.where(crossed > 0.02, CROSSED, 0.0)
        over_leaders = np.minimum(self.leaders[row, col].sum(axis=1), 3) * 30.0
        return np.asarray(over_text + over_leaders)

    def _cells(self, box: Box) -> tuple[slice, slice]:
        rows, cols = self.never.shape
        c0 = min(max(math.floor((box.x0 - self.area.x0) / CELL), 0), cols)
        r0 = min(max(math.floor((box.y0 - self.area.y0) / CELL), 0), rows)
        c1 = min(max(math.floor((box.x1 - self.area.x0) / CELL) + 1, 0), cols)
        r1 = min(max(math.floor((box.y1 - self.area.y0) / CELL) + 1, 0), rows)
        return slice(r0, r1), slice(c0, c1)


def _sums(raster: NDArray[np.bool_] | NDArray[np.float64]) -> NDArray[np.float64]:
    """Sums of the raster from its corner, for sums over windows."""
    total = np.zeros((raster.shape[0] + 1, raster.shape[1] + 1))
    total[1:, 1:] = raster.cumsum(axis=0, dtype=np.float64).cumsum(axis=1)
    return total


def _windows(total: NDArray[np.float64], w: int, h: int) -> NDArray[np.float64]:
    """Sum over w by h windows, at every place that is tried."""
    n = STRIDE
    return np.asarray(total[h::n, w::n] - total[:-h:n, w::n] - total[h::n, :-w:n] + total[:-h:n, :-w:n])


def _lowest(cost: NDArray[np.float64], count: int) -> NDArray[np.intp]:
    """Indices of the lowest costs in rising order, the earlier first among equals."""
    if cost.size <= count:
        return np.argsort(cost, kind="stable")
    bound = np.partition(cost, count)[count]
    low = np.flatnonzero(cost <= bound)
    return np.asarray(low[np.argsort(cost[low], kind="stable")])


def _touches(ax: float, ay: float, x0: NDArray[np.float64], y0: NDArray[np.float64], width: float,
             height: float) -> NDArray[np.float64]:  # fmt: skip
    """The middle of the nearest edge of each box that faces the anchor: no leader runs through its own words."""
    mx, my = x0 + width / 2, y0 + height / 2
    xs = np.stack([x0 - 2, x0 + width + 2, mx, mx], axis=1)
    ys = np.stack([my, my, y0, y0 + height], axis=1)
    faces = np.stack([ax <= x0, ax >= x0 + width, ay <= y0, ay >= y0 + height], axis=1)
    pick = np.argmin(np.hypot(xs - ax, ys - ay) + np.where(faces, 0.0, 1e4), axis=1)
    rows = np.arange(len(pick))
    return np.stack([xs[rows, pick], ys[rows, pick]], axis=1)


def _side(box: Box, touch: Spot) -> str:
    if touch[0] < box.x0:
        return "left"
    if touch[0] > box.x1:
        return "right"
    return "top" if touch[1] <= box.y0 else "bottom"


def _stepped(spots: Sequence[Spot], half: float = 0.0) -> list[Spot]:
    """Points along a run of lines, close enough that boxes of this half width, or cells, leave no gap."""
    apart = max(CELL * 0.75, half * 0.8)
    found: list[Spot] = list(spots[:1])
    for (xa, ya), (xb, yb) in zip(spots, spots[1:], strict=False):
        count = max(1, math.ceil(math.hypot(xb - xa, yb - ya) / apart))
        found += [(xa + (xb - xa) * k / count, ya + (yb - ya) * k / count) for k in range(1, count + 1)]
    return found
