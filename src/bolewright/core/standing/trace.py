"""A drilling-resistance trace: where the needle ran through sound wood and where it did not.

The trace is cut into runs of steady resistance by optimal partitioning (least squares with a penalty for each further
run), and a run is called decayed when its mean lies under a share of the resistance of the sound outer wood. That
share is common practice; the whole range of it in use is tried, and the depths it gives are the range that comes back.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range

Floats = NDArray[np.float64]
FALL = Range(0.30, 0.45, 0.60)  # a run below this share of sound outer wood is decayed (common practice)
MOST_POINTS = 600  # a longer trace is averaged down to this many
SHORTEST = 0.005  # m, a run shorter than this is not kept: growth rings and needle flutter
ENTRY = 0.005  # m of bark and run-in that is not read (common practice)
OUTER = 0.25  # share of the depth in which the sound outer wood is looked for


@dataclass(frozen=True)
class Run:
    """A run of steady resistance: from and to [m] depth, its mean, and its mean over that of sound outer wood."""

    start: float
    end: float
    mean: float
    share: float
    sound: bool


@dataclass(frozen=True)
class Trace:
    """A trace read: depth of sound wood from the bark [m], whether decay was met at all, the runs, the points read."""

    shell: Range
    met_decay: bool
    drilled: float  # [m]
    reference: float  # mean resistance of sound outer wood, in the trace's own unit
    runs: tuple[Run, ...]
    points: tuple[tuple[float, float], ...]  # depth [m], resistance; averaged where the trace is long


def read_trace(depth: ArrayLike, resistance: ArrayLike, penalty: float = 3.0) -> Trace:
    """What a trace says of the wood: depth [m] and resistance (n,) in any unit.

    Resistance falls in decay, but also in wet heartwood and juvenile wood, and early decay may not show: a trace that
    met no fall does not prove sound wood. Where none was met the shell is the depth drilled, and no more is known.

    `penalty` times variance times ln n is the price of one more run.

    Raises BadInput for a trace that is too short, runs backwards or holds nothing but zeros.

    Source: optimal partitioning, Jackson et al. 2005, IEEE Signal Processing Letters 12(2):105-108 (from memory);
    penalty of the Schwarz criterion; the shares of sound resistance are common practice.
    Checked by: tests/unit/standing/test_trace.py
    """
    x, y = _checked(depth, resistance)
    x, y = _thinned(x, y)
    starts = partition(y, penalty * _noise(y) ** 2 * np.log(y.size), max(2, _points(x, SHORTEST)))
    bounds = [*starts, y.size]
    edges = np.concatenate([[x[0]], (x[1:] + x[:-1]) / 2.0, [x[-1]]])
    means = np.array([float(np.mean(y[a:b])) for a, b in zip(bounds, bounds[1:], strict=False)])
    spans = [(float(edges[a]), float(edges[b])) for a, b in zip(bounds, bounds[1:], strict=False)]
    outer = [m for m, (a, _) in zip(means, spans, strict=True) if a <= x[0] + OUTER * (x[-1] - x[0])]
    reference = max(outer)
    shells = [_shell(spans, means / reference, share) for share in (FALL.high, FALL.likely, FALL.low)]
    runs = tuple(
        Run(a, b, float(m), float(m / reference), bool(m / reference >= FALL.likely))
        for (a, b), m in zip(spans, means, strict=True)
    )
    drilled = float(x[-1])
    low, likely, high = (drilled if s is None else s for s in shells)
    step = float(np.median(np.diff(x)))
    shell = Range(max(low - step, 0.0), likely, min(high + step, drilled))
    points = tuple(zip(x.tolist(), y.tolist(), strict=True))
    return Trace(shell, shells[1] is not None, drilled, float(reference), runs, points)


def partition(values: Floats, penalty: float, shortest: int) -> list[int]:
    """First index of every run (k,) when values (n,) are cut into runs of steady mean [-].

    The least sum of squares plus `penalty` for each run, over all ways to cut; no run is shorter than `shortest`.

    Source: dynamic programming, Jackson et al. 2005 (from memory).
    Checked by: tests/unit/standing/test_trace.py
    """
    n = values.size
    sums = np.concatenate([[0.0], np.cumsum(values)])
    squares = np.concatenate([[0.0], np.cumsum(values**2)])
    best = np.full(n + 1, np.inf)
    best[0] = -penalty
    last = np.zeros(n + 1, dtype=np.int64)
    for end in range(shortest, n + 1):
        start = np.arange(0, end - shortest + 1)
        cost = squares[end] - squares[start] - (sums[end] - sums[start]) ** 2 / (end - start)
        total = best[start] + cost + penalty
        chosen = int(np.argmin(total))
        best[end], last[end] = total[chosen], chosen
    cuts: list[int] = []
    end = n
    while end > 0:
        end = int(last[end])
        cuts.append(end)
    return cuts[::-1]


def _shell(spans: list[tuple[float, float]], share: Floats, limit: float) -> float | None:
    """Depth of the first run under the limit, from the bark; None when there is none."""
    for (start, _), value in zip(spans, share, strict=True):
        if value < limit:
            return start
    return None


def _checked(depth: ArrayLike, resistance: ArrayLike) -> tuple[Floats, Floats]:
    x, y = np.asarray(depth, float), np.asarray(resistance, float)
    path = "inspection.test.trace"
    if x.shape != y.shape or x.ndim != 1:
        raise BadInput("A trace needs one resistance for every depth.", path)
    good = np.isfinite(x) & np.isfinite(y)
    x, y = x[good], y[good]
    if x.size < 20:
        raise BadInput(f"A trace of {x.size} points is too short to read: 20 at least.", path)
    if np.any(np.diff(x) <= 0.0):
        raise BadInput("The depths of a trace have to rise from one line to the next.", path)
    if np.any(y < 0.0) or float(np.max(y)) <= 0.0:
        raise BadInput("The resistance of a trace has to be above zero somewhere and negative nowhere.", path)
    inside = x >= x[0] + ENTRY
    if np.count_nonzero(inside) < 20 or x[-1] - x[0] < 0.03:
        raise BadInput("The trace is too short to read: 3 cm of wood at least.", path)
    return x[inside], y[inside]


def _thinned(x: Floats, y: Floats) -> tuple[Floats, Floats]:
    if x.size <= MOST_POINTS:
        return x, y
    groups = np.array_split(np.arange(x.size), MOST_POINTS)
    return np.array([x[g].mean() for g in groups]), np.array([y[g].mean() for g in groups])


def _noise(y: Floats) -> float:
    """Standard deviation within runs, from differences of neighbours (robust to steps)."""
    steps = float(np.median(np.abs(np.diff(y))))
    return max(steps / (0.6745 * math.sqrt(2.0)), 0.01 * float(np.max(y)))


def _points(x: Floats, length: float) -> int:
    return int(np.ceil(length / float(np.median(np.diff(x)))))
