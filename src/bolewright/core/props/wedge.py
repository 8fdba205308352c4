"""Folding wedges under a prop: the push to drive them, and whether they stay put by themselves."""

from __future__ import annotations

import math

from bolewright.core.base.errors import BadInput


def drive_force(load: float, angle: float, friction: float) -> float:
    """Push that drives a pair of folding wedges further in under a load [N].

    Picture: one wedge slides up the slope of the other and along the board under it; friction resists on both
    faces. Errs low for wedges that have bitten into each other.

    Parameters: load [N], wedge angle [rad], friction of wood on wood (0.3 to 0.5).
    Raises: BadInput when the angle is not between 0 and 45 degrees or the friction is negative.
    Source: statics: W (tan(a + phi) + mu).
    Checked by: tests/handbook/test_columns.py
    """
    _check(angle, friction)
    return load * (math.tan(angle + math.atan(friction)) + friction)


def release_force(load: float, angle: float, friction: float) -> float:
    """Push that knocks the pair out again [N]; below zero the wedges fly out by themselves.

    Source: statics: W (mu - tan(a - phi)).
    Checked by: tests/unit/props/test_wedge.py
    """
    _check(angle, friction)
    return load * (friction - math.tan(angle - math.atan(friction)))


def holds_itself(angle: float, friction: float) -> bool:
    """Whether the pair stays in under load without a nail: the angle [rad] is less than twice the friction angle.

    Wet, muddy or icy faces have less friction; nail or screw wedges across in any case.
    Source: statics.
    Checked by: tests/handbook/test_columns.py
    """
    _check(angle, friction)
    return angle < 2.0 * math.atan(friction)


def _check(angle: float, friction: float) -> None:
    if not 0.0 < angle < math.radians(45.0) or friction < 0.0:
        raise BadInput("A wedge needs an angle between 0 and 45 degrees and a friction of zero or more.")
