"""Held or not, and the motion that starts when it is not: a log on two bearings, closed form."""

from __future__ import annotations

import numpy as np
import pytest

from bolewright.core.recheck import HELD, NOT_HELD, Segments, Supports, recheck_state

LOG = Segments.of([[0, 0, 1]], [[10, 0, 1]], [-1], 1e7, 1e6, 1e9, 5000.0)


def on(*places: float, **more: object) -> Supports:
    """Bearings under the log's axis."""
    return Supports.of([0] * len(places), [(x, 0, 1) for x in places], (0, 0, 1), 1e-7, **more)


def test_weight_outside_the_bearings_is_not_held() -> None:
    """Bearings at 0 and 4 m, weight at 5 m: the tip drops about the second bearing."""
    result = recheck_state(LOG, on(0.0, 4.0))
    assert result.status == NOT_HELD
    assert np.all(np.isnan(result.forces))
    slide, turn = result.motion[:3], result.motion[3:]
    rise = [(slide + np.cross(turn, [x, 0, 1]))[2] for x in (0.0, 4.0, 5.0)]
    assert rise[2] < 0.0  # the weight does work
    assert min(rise[:2]) > -1e-9  # no bearing is pushed into


def test_a_hold_down_with_capacity_decides() -> None:
    """Moments about 4 m: the butt must be held down with 5000/4 = 1250 N."""
    assert recheck_state(LOG, on(0.0, 4.0, lower=[-1300.0, 0.0])).forces == pytest.approx([-1250.0, 6250.0])
    assert recheck_state(LOG, on(0.0, 4.0, lower=[-1200.0, 0.0])).status == NOT_HELD


def test_a_bearing_with_a_limit_yields_to_the_next() -> None:
    """Three bearings; the middle one gives way at 1000 N and keeps it, the ends share the rest: 2000 N each."""
    result = recheck_state(LOG, on(0.0, 5.0, 10.0, upper=[np.inf, 1000.0, np.inf]))
    assert result.status == HELD
    assert result.forces == pytest.approx([2000.0, 1000.0, 2000.0])


def test_a_line_pulls_only_once_taut() -> None:
    """A crane line at 9 m with 5 mm slack over a bearing at the butt: lever 5/9 of the weight."""
    cut = Segments.of([[0, 0, 1], [9, 0, 1]], [[9, 0, 1], [10, 0, 1]], [-1, 0], 1e7, 1e6, 1e9, [4500.0, 500.0])
    result = recheck_state(cut, on(0.0, 9.0, gap=[0.0, 0.005]))
    assert result.forces == pytest.approx([5000 * 4 / 9, 5000 * 5 / 9])
    assert result.displacements[0, 2] == pytest.approx(-0.005 - 1e-7 * 5000 * 5 / 9)


def test_balanced_on_its_axis_is_named() -> None:
    """Bearings on the axis alone: nothing stops the log from rolling."""
    assert recheck_state(LOG, on(1.0, 9.0)).loose == 1


def test_no_supports_at_all() -> None:
    """Free fall."""
    assert recheck_state(LOG, on(), vertical=True).status == NOT_HELD
