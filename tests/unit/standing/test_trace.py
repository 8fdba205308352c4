"""Traces with a known cavity, noise on top, and traces that cannot be."""

from __future__ import annotations

import numpy as np
import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.standing.trace import partition, read_trace

DEPTH = np.arange(0.0, 0.4, 0.0005)


def made(edges: list[float], levels: list[float], noise: float = 0.08, seed: int = 1) -> np.ndarray:
    """A trace of steady runs with growth-ring ripple and needle noise."""
    level = np.asarray(levels)[np.searchsorted(np.asarray(edges), DEPTH, side="right")]
    ripple = 1.0 + 0.1 * np.sin(DEPTH * 2.0 * np.pi / 0.003)
    random = 1.0 + noise * np.random.default_rng(seed).standard_normal(DEPTH.size)
    return np.maximum(level * ripple * random, 0.0)


@pytest.mark.parametrize("shell", [0.04, 0.09, 0.15])
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_clean_edge_is_found(shell: float, seed: int) -> None:
    """Sound, then hollow, then sound: the edge within 3 mm."""
    trace = read_trace(DEPTH, made([shell, 0.3], [60.0, 8.0, 60.0], seed=seed))
    assert trace.met_decay
    assert trace.shell.likely == pytest.approx(shell, abs=0.003)
    assert trace.shell.low <= shell + 0.001
    assert trace.shell.high >= shell - 0.001
    assert trace.reference == pytest.approx(60.0, rel=0.1)


def test_a_slow_fall_has_a_wide_range() -> None:
    """Wood that softens over 6 cm: the range covers more of the slope than of a clean edge."""
    slope = 60.0 * np.clip(1.0 - (DEPTH - 0.08) / 0.08, 0.1, 1.0)
    wide = read_trace(DEPTH, slope * (1.0 + 0.05 * np.random.default_rng(4).standard_normal(DEPTH.size))).shell
    clean = read_trace(DEPTH, made([0.1], [60.0, 8.0])).shell
    assert wide.high - wide.low > 2.0 * (clean.high - clean.low)
    assert 0.08 < wide.likely < 0.16


def test_sound_all_the_way_is_the_depth_drilled_and_no_more() -> None:
    """No fall met."""
    trace = read_trace(DEPTH, made([0.2], [60.0, 52.0]))
    assert not trace.met_decay
    assert trace.shell.likely == pytest.approx(DEPTH[-1])


def test_partition_is_the_best_there_is() -> None:
    """Against trying every way to cut fourteen values in up to three runs."""
    values = np.array([5.0, 5.2, 4.9, 5.1, 1.0, 1.1, 0.9, 1.2, 3.0, 3.1, 2.9, 3.0, 3.2, 3.0])
    starts = partition(values, 0.5, 2)

    def cost(cuts: list[int]) -> float:
        ends = [*cuts[1:], values.size]
        return sum(
            float(np.sum((values[a:b] - values[a:b].mean()) ** 2)) + 0.5 for a, b in zip(cuts, ends, strict=True)
        )

    every = [[0], *([0, a] for a in range(2, 13)), *([0, a, b] for a in range(2, 11) for b in range(a + 2, 13))]
    assert cost(starts) == pytest.approx(min(cost(cuts) for cuts in every))


@pytest.mark.parametrize(
    ("depth", "resistance", "word"),
    [
        (np.arange(5.0), np.ones(5), "too short"),
        (np.arange(50.0) / 100.0, -np.ones(50), "above zero"),
        (np.arange(50.0)[::-1], np.ones(50), "rise"),
        (np.arange(50.0), np.ones(49), "one resistance"),
        (np.arange(50.0) / 5000.0, np.ones(50), "too short"),
    ],
)
def test_traces_that_cannot_be(depth: np.ndarray, resistance: np.ndarray, word: str) -> None:
    """One sentence each."""
    with pytest.raises(BadInput, match=word):
        read_trace(depth, resistance)
