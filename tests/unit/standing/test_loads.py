"""Moments of wind and weight on simple trees by hand."""

from __future__ import annotations

import numpy as np

from bolewright.core.base.vectors import GRAVITY
from bolewright.core.standing.loads import loads, weight_above
from bolewright.core.standing.upright import upright

from .trees import ball, pole, tree


def test_weight_above_a_place() -> None:
    """Half way up a pole hangs half its weight."""
    standing = upright(pole(), [0.0, 10.0], ball())
    total = 900.0 * np.pi / 4.0 * 0.25 * 20.0 * GRAVITY
    np.testing.assert_allclose(weight_above(standing).sum(axis=1), [total, total / 2.0])


def test_wind_moment_at_30_m_s_by_hand() -> None:
    """Round crown 12 m by 8 m, middle at 14 m, Cd 1, above 20 m/s: between the pressure at its base and at its top."""
    table = loads(tree(), [30.0], "ASCE", "open")
    area, arm = np.pi / 4.0 * 96.0, 14.0
    low, high = (0.5 * 1.225 * 900.0 * area * arm * k for k in (0.95, 1.15))  # Kz 0.95 at 8 m, 1.15 at 20 m
    assert low < table.crown_moment[0, 0] < high
    stem = 0.5 * 1.225 * 900.0 * 8.0 * 0.5 * 4.0
    assert 0.85 * stem < table.stem_moment[0, 0] < 0.95 * stem  # Kz 0.85 up to 4.6 m, 0.95 at 8 m


def test_moment_falls_with_height() -> None:
    """Higher up there is less above and a shorter arm."""
    table = loads(tree(0.1, 500.0), [20.0, 40.0], "EN", "suburb")
    assert np.all(np.diff(table.crown_moment, axis=0) < 0.0)
    assert np.all(np.diff(table.own_moment.sum(axis=1)[:, 0]) < 0.0)
