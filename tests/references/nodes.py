"""Nodes of a reference frame: segment ends, and places along segments where a support takes hold."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Layout:
    """Points of the nodes, elements as (start node, end node, segment, share of its length), node of each support."""

    points: list[Floats]
    elements: list[tuple[int, int, int, float]]
    support_node: list[int]


def lay_out(start: ArrayLike, end: ArrayLike, parent: ArrayLike, segment: ArrayLike, point: ArrayLike) -> Layout:
    """Nodes and elements of the wood, cut where a support stands square beside the axis."""
    begin, stop, carrier = np.asarray(start, float), np.asarray(end, float), np.asarray(parent, int)
    held, where = np.asarray(segment, int), np.asarray(point, float).reshape(-1, 3)
    along = stop[held] - begin[held]
    share = np.clip(np.sum((where - begin[held]) * along, axis=1) / np.sum(along**2, axis=1), 0.0, 1.0)
    share = np.round(share, 9)  # supports side by side share a node
    points, elements, support_node = [begin[0]], [], [0] * len(held)
    last: dict[int, int] = {-1: 0}
    for k in range(len(begin)):
        node, done = last[int(carrier[k])], 0.0
        for s in sorted({*share[held == k].tolist(), 1.0}):
            if s > done:
                points.append(begin[k] + s * (stop[k] - begin[k]))
                elements.append((node, len(points) - 1, k, s - done))
                node, done = len(points) - 1, s
            for i in np.flatnonzero((held == k) & (share == s)):
                support_node[i] = node
        last[k] = node
    return Layout(points, elements, support_node)
