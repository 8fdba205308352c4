"""Pulling wood over the ground: dragging, rolling on wheels, winching and rolling a log, on the level or a slope."""

from __future__ import annotations

import math

from bolewright.core.base.errors import BadInput


def drag_pull(weight: float, friction: float, slope: float = 0.0, rope: float = 0.0) -> float:
    """Pull that drags a piece at a steady pace [N], the rope `rope` above the ground's slope.

    Picture: friction under its weight and the climb, with the rope lifting part of the weight off. Starting takes
    more, and a butt that digs in far more: errs low. Zero when it would slide down by itself.
    Parameters: weight [N], friction [-], slope [rad] (+ uphill), rope [rad] above the slope. Raises: BadInput.
    Source: statics, F = W (mu cos a + sin a) / (cos t + mu sin t).
    Checked by: tests/handbook/test_slings.py
    """
    if weight < 0.0 or friction < 0.0 or not abs(slope) < math.pi / 2.0 or not 0.0 <= rope < math.pi / 2.0:
        raise BadInput("Weight and friction are not negative, and slope and rope stay below the upright.")
    pull = weight * (friction * math.cos(slope) + math.sin(slope))
    return max(pull / (math.cos(rope) + friction * math.sin(rope)), 0.0)


def best_rope_angle(friction: float) -> float:
    """Rope angle above the ground that drags with the least pull [rad]: its tangent is the friction.

    Parameters: friction [-].
    Source: statics, minimum of `drag_pull`.
    Checked by: tests/handbook/test_slings.py
    """
    return math.atan(friction)


def holding_back(weight: float, friction: float, slope: float) -> float:
    """Force along a slope that keeps a piece from sliding down [N], below zero when friction holds it with some over.

    Parameters: weight [N], friction [-] (take it low), slope [rad] down. Raises: BadInput.
    Source: statics, W (sin a - mu cos a).
    Checked by: tests/handbook/test_roof.py
    """
    if weight < 0.0 or friction < 0.0:
        raise BadInput("Weight and friction are not negative.")
    return weight * (math.sin(slope) - friction * math.cos(slope))


def wheel_pull(weight: float, resistance: float, slope: float = 0.0) -> float:
    """Force that keeps a wheeled load moving [N]; starting takes about half as much again to twice (from memory).

    Parameters: weight [N] of load and cart, rolling resistance [-], slope [rad] (+ uphill). Negative: it runs away.
    Raises: BadInput.
    Source: statics, F = W (Crr cos a + sin a).
    Checked by: tests/handbook/test_handling.py
    """
    if weight < 0.0 or resistance < 0.0 or not abs(slope) < math.pi / 2.0:
        raise BadInput("Weight and rolling resistance are not negative, and the slope stays below the upright.")
    return weight * (resistance * math.cos(slope) + math.sin(slope))


def roll_up_pull(weight: float, slope: float, bight: bool = True) -> float:
    """Pull that rolls a round log up planks [N]; with the rope passed under it and back over (a bight), half.

    Picture: the log is its own moving pulley. Knots, bark and soft ground cost more: errs low.
    Parameters: weight [N], slope [rad] of the planks. Raises: BadInput.
    Source: statics, W sin a along the slope, halved by the moving rope.
    Checked by: tests/handbook/test_slings.py
    """
    if weight < 0.0 or not 0.0 <= slope < math.pi / 2.0:
        raise BadInput("A log is rolled up a slope between 0 and 90 degrees.")
    return weight * math.sin(slope) / (2.0 if bight else 1.0)
