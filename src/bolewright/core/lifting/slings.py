"""Slings: what each leg carries at its angle, unequal legs, two-point picks, and what a choke leaves of a rating."""

from __future__ import annotations

import math
from collections.abc import Sequence

from bolewright.core.base.errors import BadInput

FLATTEST = math.radians(30.0)  # legs flatter than this are not used (sling makers' charts)


def leg_factor(angle: float) -> float:
    """Tension in a leg over the upright share of the load it holds [-]: 1 / sin(angle from the horizontal).

    Picture: the flatter the leg, the more it pulls sideways against its partner. Exact for a rigid load hung level.
    Parameters: angle [rad] above the horizontal, more than 0 up to a right angle. Raises: BadInput.
    Source: statics; sling makers' charts and manual IS-17880 (2011) print the same values.
    Checked by: tests/handbook/test_slings.py
    """
    if not 0.0 < angle <= math.pi / 2.0 + 1e-12:
        raise BadInput("A sling leg's angle is measured from the horizontal: more than 0 and at most 90 degrees.")
    return 1.0 / math.sin(angle)


def leg_tension(weight: float, legs: int, angle: float) -> float:
    """Tension in each of `legs` equal legs holding a load [N]; refused below 30 degrees from the horizontal.

    Picture: every leg holds the same. With three or more legs on a stiff load two may hold nearly all of it:
    count two. Errs low then.
    Parameters: weight [N], number of legs, angle [rad] from the horizontal. Raises: BadInput.
    Source: statics; the 30 degree limit from sling makers' charts.
    Checked by: tests/handbook/test_slings.py
    """
    if legs < 1 or weight < 0.0:
        raise BadInput("A lift needs a load that is not negative and at least one sling leg.")
    if angle < FLATTEST - 1e-12:
        raise BadInput(
            f"A sling leg at {math.degrees(angle):.0f} degrees is too flat: below 30 degrees from the horizontal "
            "take a longer sling or two hooks."
        )
    return weight / legs * leg_factor(angle)


def leg_tension_from_lengths(share: float, height: float, length: float) -> float:
    """Tension in a leg [N] from its length and the height of the hook above its lower end: share x length / height.

    Parameters: share [N], upright load the leg holds; height and length [m]. Raises: BadInput.
    Source: statics, similar triangles; worked examples in manual IS-17880.
    Checked by: tests/handbook/test_slings.py
    """
    if not 0.0 < height <= length:
        raise BadInput("The hook must be above the sling's lower end, and not farther above it than the sling is long.")
    return share * length / height


def leg_rating(rating: float, height: float, length: float) -> float:
    """Upright load one leg may hold [N]: its vertical rating x height / length.

    Parameters: rating [N]; height of the hook above the lower end and leg length [m]. Raises: BadInput.
    Source: statics; sling maker's worked example and manual IS-17880.
    Checked by: tests/handbook/test_slings.py
    """
    return rating / leg_tension_from_lengths(1.0, height, length)


def two_leg_tensions(weight: float, first: float, second: float) -> tuple[float, float]:
    """Tension of two legs at unlike angles in one upright plane [N]; the steeper leg holds more.

    Parameters: weight [N]; angles [rad] from the horizontal. Raises: BadInput.
    Source: statics, T1 = W cos a2 / sin(a1 + a2).
    Checked by: tests/handbook/test_slings.py
    """
    for angle in (first, second):
        leg_factor(angle)
    spread = math.sin(first + second)
    if spread < 1e-9:
        raise BadInput("Two upright legs share the load by where it hangs, not by their angles: use a two-point pick.")
    return weight * math.cos(second) / spread, weight * math.cos(first) / spread


def two_point_pick(weight: float, between: float, centre: float) -> tuple[float, float]:
    """What two upright lines carry [N], the first at 0 and the second at `between`, with the load's centre at `centre`.

    A negative value means that the other end tips down: pick on both sides of the centre.
    Parameters: weight [N], distances [m]. Raises: BadInput.
    Source: statics, moments about one line.
    Checked by: tests/handbook/test_slings.py
    """
    if between <= 0.0:
        raise BadInput("The two points of a pick must be apart.")
    second = weight * centre / between
    return weight - second, second


def choke_factor(angle: float, steps: Sequence[tuple[float, float]]) -> float:
    """What is left of a choker rating at an angle of choke [-]; on the line between two steps the lower one.

    Picture: the smaller the angle in the choke, the sharper the sling bends where it passes through itself. Hung
    freely it settles near 135 degrees.
    Parameters: angle of choke [rad]; steps, (angle above which it holds [rad], factor), one of them at 0.
    Raises: BadInput.
    Source: ASME B30.9 steps as printed in manual IS-17880 p. 4 and OSHA, Guidance on Safe Sling Use.
    Checked by: tests/handbook/test_slings.py
    """
    if not 0.0 <= angle <= math.pi + 1e-12:
        raise BadInput("The angle of choke lies between 0 and 180 degrees.")
    return max((step for step in steps if step[0] < angle - 1e-9), default=min(steps))[1]


def stability_ratio(steadying_moment: float, tipping_moment: float) -> float:
    """How many times the tipping moment the machine's own weight holds [-]; 1 is the point of tipping.

    Parameters: moments about the tipping line [N m], tipping above zero. Raises: BadInput.
    Source: statics, moments about the outrigger line.
    Checked by: tests/handbook/test_slings.py
    """
    if tipping_moment <= 0.0:
        raise BadInput("A load inside the tipping line does not tip the machine: there is no ratio to give.")
    return steadying_moment / tipping_moment
