"""The share of samples that fail at a gust, as a curve with its band; and which unknown is worth measuring."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Fragility:
    """Share of samples that fail at gusts (G,) [m/s]. A share of samples, not a chance per year: how often such a
    gust comes is not in it. low and high: what all but the tenth of groups that fail least and most stay within, and
    never inside the curve itself."""

    gust: Floats
    share: Floats
    low: Floats
    high: Floats


@dataclass(frozen=True)
class Narrowing:
    """One unknown: the failing gust [m/s] with it low and high, and the share of the log spread that is its own."""

    name: str
    gust_low: float
    gust_high: float
    share: float


def fragility(failing: ArrayLike, groups: int, gust: ArrayLike) -> Fragility:
    """The curve of samples (B,) of the gust at which the tree fails [m/s], in `groups` groups, at gusts (G,) [m/s].

    Source: empirical distribution; the band is over groups that share drag, wood and roots.
    Checked by: tests/unit/standing/test_curve.py
    """
    values = np.asarray(failing, float).reshape(groups, -1)
    at = np.asarray(gust, float)
    each = np.mean(values[:, :, None] <= at, axis=1)
    low, high = np.percentile(each, (10.0, 90.0), axis=0)
    share = each.mean(axis=0)
    return Fragility(at, np.asarray(share), np.minimum(low, share), np.maximum(high, share))


def narrowing(gusts: dict[str, ArrayLike]) -> tuple[Narrowing, ...]:
    """The unknowns by how much each alone moves the failing gust [m/s], (2,) each with it low and high, most first.

    Shares are of the summed squares of the logarithms, as if the unknowns did not touch each other.

    Source: one-at-a-time sensitivity, house rule.
    Checked by: tests/unit/standing/test_curve.py
    """
    ends = {name: np.asarray(pair, float) for name, pair in gusts.items()}
    spread = {name: float(np.log(max(e.max(), 0.1) / max(e.min(), 0.1))) ** 2 for name, e in ends.items()}
    total = sum(spread.values()) or 1.0
    found = [Narrowing(n, float(ends[n][0]), float(ends[n][1]), spread[n] / total) for n in ends]
    return tuple(sorted(found, key=lambda item: -item.share))
