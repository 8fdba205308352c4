"""Lengths read off a picture, against a pinhole camera written here and against tapping at random."""

from __future__ import annotations

import math

import numpy as np
import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range
from bolewright.planning.picture import Ends, length_read

FOCAL = 3000.0  # pixels


def seen(a: tuple[float, float, float], b: tuple[float, float, float]) -> Ends:
    """Where a pinhole camera at the origin looking along z puts two points [m]."""
    return (FOCAL * a[0] / a[2], FOCAL * a[1] / a[2], FOCAL * b[0] / b[2], FOCAL * b[1] / b[2])


SCALE = seen((-0.4, 1.0, 8.0), (0.4, 1.0, 8.0))  # a tape of 0.8 m, 8 m away


def test_in_the_plane_of_the_scale_a_length_reads_true() -> None:
    """Whatever its direction: 1.3 m stays 1.3 m."""
    read = length_read(Range.exact(0.8), SCALE, seen((0.1, -0.2, 8.0), (0.6, 1.0, 8.0)), 0.0)
    assert read.likely == pytest.approx(1.3, rel=1e-12)
    assert read.low == read.high == read.likely


@pytest.mark.parametrize("away", [6.4, 8.0, 10.0])
def test_nearer_reads_too_long_farther_too_short(away: float) -> None:
    """As the caution says: by the ratio of the two distances, by similar triangles."""
    read = length_read(Range.exact(0.8), SCALE, seen((0.0, 0.0, away), (1.0, 0.0, away)), 0.0)
    assert read.likely == pytest.approx(8.0 / away, rel=1e-12)


def test_the_range_is_that_of_taps_at_random() -> None:
    """Four ends, each off in any direction with 5 and 95 % points of 12 pixels, and a tape read to 3 %."""
    off, draws = 12.0, 40_000
    ends = seen((0.1, -0.2, 8.0), (0.6, 1.0, 8.0))
    chance = np.random.default_rng(20260411)
    deviation = off / 1.6449
    shaken = [np.array(e)[:, None] + chance.normal(0.0, deviation, (4, draws)) for e in (SCALE, ends)]
    known, found = (np.hypot(e[2] - e[0], e[3] - e[1]) for e in shaken)
    tape = 0.8 * (1.0 + chance.normal(0.0, 0.03 / 1.6449, draws))
    low, high = np.percentile(tape * found / known, (5, 95))
    read = length_read(Range(0.8 * 0.97, 0.8, 0.8 * 1.03), SCALE, ends, off)
    assert read.low == pytest.approx(float(low), rel=0.01)
    assert read.high == pytest.approx(float(high), rel=0.01)


def test_a_scale_too_short_measures_nothing() -> None:
    """Said in words, at five times what a tap may be off."""
    with pytest.raises(BadInput, match="too near to each other"):
        length_read(Range.exact(0.8), (0.0, 0.0, 40.0, 0.0), SCALE, 10.0)
    assert math.isfinite(length_read(Range.exact(0.8), (0.0, 0.0, 60.0, 0.0), SCALE, 10.0).high)
