"""Fragility and sensitivity on samples whose answer is known."""

from __future__ import annotations

import numpy as np
import pytest

from bolewright.core.standing.curve import fragility, narrowing


def test_curve_is_the_share_failed() -> None:
    """Four groups of five; rises from nothing to all; the band holds the curve."""
    failing = np.repeat([20.0, 30.0, 40.0, 50.0], 5) + np.tile(np.arange(5.0), 4)
    curve = fragility(failing, 4, [0.0, 25.0, 45.0, 60.0])
    np.testing.assert_allclose(curve.share, [0.0, 0.25, 0.75, 1.0])
    assert np.all(curve.low <= curve.share + 1e-12)
    assert np.all(curve.share <= curve.high + 1e-12)
    assert np.all(np.diff(curve.share) >= 0.0)


def test_groups_all_alike_have_no_band() -> None:
    """Nothing of the tree unknown: one curve."""
    curve = fragility(np.tile(np.arange(10.0, 60.0), 6), 6, np.arange(0.0, 70.0, 5.0))
    np.testing.assert_allclose(curve.high - curve.low, 0.0, atol=1e-12)


def test_narrowing_puts_the_widest_first() -> None:
    """Shares of the squared logs, adding up to 1."""
    found = narrowing({"drag": [40.0, 20.0], "size": [28.0, 32.0], "none": [30.0, 30.0]})
    assert [item.name for item in found] == ["drag", "size", "none"]
    assert sum(item.share for item in found) == pytest.approx(1.0)
    assert found[0].share == pytest.approx(np.log(2.0) ** 2 / (np.log(2.0) ** 2 + np.log(32 / 28) ** 2))
