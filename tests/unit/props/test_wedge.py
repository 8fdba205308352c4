"""Folding wedges: driving out is the mirror of driving in."""

from __future__ import annotations

import math

import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.props.wedge import drive_force, holds_itself, release_force


def test_knocking_out_is_driving_down_the_slope() -> None:
    # with the slope turned round the same statics gives W (tan(phi - a) + mu)
    angle, mu = math.radians(8.0), 0.35
    assert release_force(1.0, angle, mu) == pytest.approx(math.tan(math.atan(mu) - angle) + mu, rel=1e-12)
    assert release_force(1.0, angle, mu) < drive_force(1.0, angle, mu)


@pytest.mark.parametrize("mu", [0.1, 0.2, 0.4])
def test_wedges_hold_up_to_twice_the_friction_angle(mu: float) -> None:
    limit = 2.0 * math.atan(mu)
    for angle in (0.98 * limit, 1.02 * limit):
        if angle < math.radians(45.0):
            assert holds_itself(angle, mu) == (release_force(1.0, angle, mu) > 0.0)


def test_nonsense_is_refused() -> None:
    with pytest.raises(BadInput):
        drive_force(1.0, 0.0, 0.3)
    with pytest.raises(BadInput):
        holds_itself(0.1, -0.3)
