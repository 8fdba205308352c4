"""Members cut into short segments: where they start and end, and which one carries which."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bolewright.core.tree.axis import CLOSE, Line

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True)
class Segments:
    """Geometry of K segments, members one after another, base to tip."""

    member: Ints
    s_start: Floats
    s_end: Floats
    start: Floats
    end: Floats
    diameter_start: Floats
    diameter_end: Floats
    parent: Ints
    stub: NDArray[np.bool_]


def nodes_along(line: Line, marks: Iterable[float], longest: float) -> Floats:
    """Distances (n + 1,) of the ends of a member's segments: at its own nodes, at the marks beyond its stub, and as
    many between as keep every segment (the stub apart) within `longest` [m].

    Source: house rule.
    Checked by: tests/unit/tree/test_assembly.py
    """
    tip = line.length
    extra = [m for m in marks if line.stub + CLOSE < m < tip - CLOSE]
    kept = _merged(np.concatenate((line.s, np.array(extra, dtype=float))), line.s)
    gaps = np.diff(kept)
    counts = np.maximum(1, np.ceil(gaps / longest - 1e-9).astype(np.int64))
    if line.stub > 0.0:
        counts[0] = 1
    which = np.repeat(np.arange(gaps.size), counts)
    step = np.arange(which.size) - np.repeat(np.cumsum(counts) - counts, counts)
    return np.concatenate((kept[which] + gaps[which] * step / counts[which], [tip]))


def _merged(values: Floats, own: Floats) -> Floats:
    """The values rising, each more than CLOSE beyond the one before; a member's own nodes win over marks near them."""
    rising = np.unique(values)
    near = np.min(np.abs(rising[:, None] - own[None, :]), axis=1)
    rising = rising[(near == 0.0) | (near > CLOSE)]
    keep = np.concatenate(([True], np.diff(rising) > CLOSE))
    return np.asarray(rising[keep])


def cut_up(lines: Sequence[Line], marks: Sequence[Sequence[float]], longest: float) -> Segments:
    """All members' segments (K,) in the order of `lines` (parents before children).

    Parameters: marks, per member the distances [m] where a segment has to end; longest [m].
    Source: geometry.
    Checked by: tests/unit/tree/test_assembly.py
    """
    ends = [nodes_along(line, own, longest) for line, own in zip(lines, marks, strict=True)]
    points = [line.points_at(s) for line, s in zip(lines, ends, strict=True)]
    diameters = [line.diameters_at(s) for line, s in zip(lines, ends, strict=True)]
    counts = np.array([s.size - 1 for s in ends], dtype=np.int64)
    first = np.cumsum(counts) - counts
    s_end = np.concatenate([s[1:] for s in ends])
    total = int(counts.sum())
    stub = np.zeros(total, dtype=bool)
    stub[first] = [line.stub > 0.0 for line in lines]
    return Segments(
        member=np.repeat(np.arange(len(lines)), counts),
        s_start=np.concatenate([s[:-1] for s in ends]),
        s_end=s_end,
        start=np.concatenate([p[:-1] for p in points]),
        end=np.concatenate([p[1:] for p in points]),
        diameter_start=np.concatenate([d[:-1] for d in diameters]),
        diameter_end=np.concatenate([d[1:] for d in diameters]),
        parent=_parents(lines, first, counts, s_end),
        stub=stub,
    )


def _parents(lines: Sequence[Line], first: Ints, counts: Ints, s_end: Floats) -> Ints:
    """The segment before along the member; for a member's first, the parent's segment ending where it is attached."""
    parent = np.arange(int(counts.sum())) - 1
    for i, line in enumerate(lines):
        if line.parent < 0:
            parent[first[i]] = -1
            continue
        start = first[line.parent]
        own = s_end[start : start + counts[line.parent]]
        parent[first[i]] = start + int(np.argmin(np.abs(own - line.at)))
    return parent
