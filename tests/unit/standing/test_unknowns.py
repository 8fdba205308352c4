"""Samples: their percentiles, their groups, one at a time."""

from __future__ import annotations

import numpy as np
import pytest

from bolewright.core.base.range import Range
from bolewright.core.standing.unknowns import Unknowns, draw_unknowns, likely_draw, one_at_a_time, with_exact

WIDE = Unknowns(
    drag=Range(0.1, 0.2, 0.5), filled=Range.exact(1.0), strength=Range.exact(40e6), wood=Range.exact(1.0),
    size=Range(0.9, 1.0, 1.2), shell=Range(-0.02, 0.0, 0.01),
)  # fmt: skip


def test_percentiles_are_the_range() -> None:
    """5, 50 and 95 % of the samples, factors and the shell error alike."""
    draws = draw_unknowns(WIDE, 400, 4, np.random.default_rng(1))
    for name in ("drag", "size", "shell"):
        band: Range = getattr(WIDE, name)
        found = np.percentile(draws[name], (5.0, 50.0, 95.0))
        np.testing.assert_allclose(found, (band.low, band.likely, band.high), rtol=0.02, atol=2e-4)


def test_groups_share_what_belongs_to_the_tree() -> None:
    """Drag once per group, size for every sample."""
    draws = draw_unknowns(WIDE, 8, 5, np.random.default_rng(1))
    assert np.all(np.ptp(draws["drag"].reshape(8, 5), axis=1) == 0.0)
    assert np.all(np.ptp(draws["size"].reshape(8, 5), axis=1) > 0.0)


def test_same_seed_same_samples() -> None:
    """Repeatable."""
    one, two = (draw_unknowns(WIDE, 8, 5, np.random.default_rng(3)) for _ in range(2))
    np.testing.assert_array_equal(one["size"], two["size"])


def test_likely_and_one_at_a_time() -> None:
    """Ends of one range with the others in the middle; what is exact is left out."""
    assert likely_draw(WIDE)["drag"].tolist() == [0.2]
    pairs = one_at_a_time(WIDE)
    assert set(pairs) == {"drag", "size", "shell"}
    assert pairs["size"]["size"].tolist() == [0.9, 1.2]
    assert pairs["size"]["drag"].tolist() == [0.2, 0.2]
    assert set(one_at_a_time(with_exact(WIDE, "drag"))) == {"size", "shell"}


def test_exact_stays_exact() -> None:
    """No spread from nothing."""
    draws = draw_unknowns(WIDE, 4, 4, np.random.default_rng(3))
    assert np.all(draws["strength"] == pytest.approx(40e6))
