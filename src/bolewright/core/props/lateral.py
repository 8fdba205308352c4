"""Bracing a prop sideways: the push it must stand although the sums say there is none."""

from __future__ import annotations

from bolewright.core.base.errors import BadInput

LEAST_SHARE, SHAKEN_SHARE = 0.02, 0.10


def bracing_force(vertical: float, shaken: bool = False) -> float:
    """Sideways force the bracing of a prop or crib must hold in any direction [N].

    Picture: no prop is quite plumb and no log quite still. Two per cent of what it carries is the least; ten where
    the ground or the load may be shaken (other trees coming down, a machine against the stem). A least value:
    it does not cover a tree that rolls or slides, which needs lines.

    Raises: BadInput when the load is negative.
    Source: FEMA US&R Rescue Specialist Training Manual (06/98), module 1A, shoring.
    Checked by: tests/handbook/test_columns.py
    """
    if vertical < 0.0:
        raise BadInput("The load on a prop cannot be negative.")
    return vertical * (SHAKEN_SHARE if shaken else LEAST_SHARE)
