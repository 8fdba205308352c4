"""Blocks, wraps and pulleys: what the anchor of a block feels, what turns of rope hold, what pulleys gain."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from bolewright.core.base.errors import BadInput


def block_load(pull: float, angle: float) -> float:
    """Load on a block [N] from the pull in its line: 2 x pull x cos(half the angle between the two parts).

    Picture: both parts of the line pull at the block; side by side they add up. Friction in the block left out.
    Parameters: pull [N], angle [rad] between the parts of the line, 0 (side by side) to half a turn (straight).
    Raises: BadInput.
    Source: statics; block makers' loading charts.
    Checked by: tests/handbook/test_slings.py
    """
    return block_load_two_parts(pull, pull, angle)


def block_load_two_parts(first: float, second: float, angle: float) -> float:
    """Load on a block [N] whose two parts of line pull unlike.

    Parameters: pulls [N], not negative; angle [rad] between the parts. Raises: BadInput.
    Source: statics, law of cosines.
    Checked by: tests/handbook/test_slings.py
    """
    if min(first, second) < 0.0 or not 0.0 <= angle <= math.pi + 1e-12:
        raise BadInput("A line over a block pulls, at an angle from 0 to 180 degrees between its two parts.")
    return math.sqrt(max(first**2 + second**2 + 2.0 * first * second * math.cos(angle), 0.0))


def redirect_load(load: float, efficiency: float, angle: float = 0.0, raising: bool = False) -> float:
    """Load on a redirect block [N] while its load is lowered (the far part pulls less) or raised (it pulls more).

    Parameters: load [N]; efficiency [-] of the block, above 0 to 1; angle [rad] between the parts. Raises: BadInput.
    Source: statics, W (1 + e) lowering, W (1 + 1/e) raising when side by side.
    Checked by: tests/handbook/test_slings.py
    """
    _efficient(efficiency)
    return block_load_two_parts(load, load / efficiency if raising else load * efficiency, angle)


def wrap_ratio(friction: float, turned: float, notch: float = math.pi) -> float:
    """How many times the holding pull a rope wrapped round wood or a post can hold back [-]: e^(mu angle).

    Picture: each bit of rope pressed on the post helps; in a notch the rope wedges, so friction counts
    1 / sin(half the notch). Errs high on a wet or polished post and when the rope can ride up.
    Parameters: friction [-]; turned [rad], one full wrap 2 pi; notch [rad], its whole angle, pi for none.
    Raises: BadInput.
    Source: capstan (Euler-Eytelwein) equation; V-belt form after Kimbell (1981).
    Checked by: tests/handbook/test_slings.py
    """
    if friction < 0.0 or turned < 0.0 or not 0.0 < notch <= math.pi + 1e-12:
        raise BadInput("Friction and wraps are not negative, and a notch opens between 0 and 180 degrees.")
    return math.exp(friction * turned / math.sin(notch / 2.0))


def holding_pull(load: float, friction: float, turned: float, notch: float = math.pi) -> float:
    """Pull a hand must keep on the rope to hold a load [N]; lowering needs a little less, raising far more.

    Parameters: load [N], friction [-], turned and notch [rad].
    Source: as `wrap_ratio`.
    Checked by: tests/handbook/test_slings.py
    """
    return load / wrap_ratio(friction, turned, notch)


def simple_advantage(parts: int, efficiency: float) -> float:
    """Gain of a simple pulley system of `parts` to 1 [-]: 1 + e + e^2 ... , each pulley passing on e of its pull.

    Parameters: parts of line at the load, at least 1; efficiency [-] of each pulley. Raises: BadInput.
    Source: T-method, tensions followed from the hand on; 3:1 at 0.92 gives 2.77 (rope-work manual).
    Checked by: tests/handbook/test_slings.py
    """
    _efficient(efficiency)
    if parts < 1:
        raise BadInput("A pulley system has at least one part of line at the load.")
    return float(sum(efficiency**n for n in range(parts)))


def advantage(systems: Sequence[int], efficiency: float, redirects: int = 0) -> float:
    """Gain of simple systems pulling on one another, with redirects at the hand end [-]; below 1 it costs pull.

    Parameters: systems, for example (3,) or (2, 2) for a 4 to 1; efficiency [-] of each pulley. Raises: BadInput.
    Source: T-method; gains multiply, each redirect multiplies by e.
    Checked by: tests/handbook/test_slings.py
    """
    if not systems or redirects < 0:
        raise BadInput("Name at least one pulley system, and no fewer than zero redirects.")
    return math.prod(simple_advantage(parts, efficiency) for parts in systems) * efficiency**redirects


def bend_loss(diameters: float, points: Sequence[tuple[float, float]]) -> float:
    """Share of a wire rope's strength lost over a sheave [-], for sheave diameter over rope diameter.

    Between listed points a straight line. Below the smallest the loss is not known, and refused; above the largest
    the last value stands, which errs to the careful side.
    Parameters: diameters [-]; points, (ratio, loss) rising in ratio. Raises: BadInput.
    Source: hoist maker's snatch-block manual (04/2007), table B.
    Checked by: tests/handbook/test_slings.py
    """
    ordered = sorted(points)
    if diameters < ordered[0][0]:
        raise BadInput(
            f"The sheave is only {diameters:.1f} times as wide as the rope is thick: below {ordered[0][0]:.0f} there "
            "is no value for the strength lost; take a larger block."
        )
    for (low, more), (high, less) in pairwise(ordered):
        if diameters <= high:
            return more + (less - more) * (diameters - low) / (high - low)
    return ordered[-1][1]


def _efficient(efficiency: float) -> None:
    if not 0.0 < efficiency <= 1.0:
        raise BadInput("The efficiency of a pulley is more than 0 and at most 1.")
