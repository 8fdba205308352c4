"""Cribs: timber stacked crosswise. What they bear, how high they may go and how many sticks they take."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bolewright.core.base.errors import BadInput
from bolewright.core.props.bearing import crush_stiffness
from bolewright.core.props.timber import INCH, PSI, Strengths

CRIB_STRESS = 500.0 * PSI  # on each crossing; reproduces the published crib loads
HEIGHT_OVER_WIDTH = 3.0  # Firehouse (2011), shoring part 1
LOG_CROSSINGS = 2  # crossings a round log is counted on; common practice
CRUSH_BEFORE_FAILURE = 0.2  # share of the height a softwood crib may crush, with noise, before it gives way
SOURCE = "Firehouse (2011) shoring part 1, citing FEMA urban search and rescue practice: 500 psi on each crossing"


@dataclass(frozen=True)
class Crib:
    """A crib of square timber: `members` sticks in each layer, `width` between the middles of the outer two."""

    side: float  # of the timber, as dressed
    members: int
    width: float
    layers: int
    stick: float  # length of each stick

    @property
    def height(self) -> float:
        """Height of the stacked layers [m]."""
        return self.layers * self.side

    @property
    def sticks(self) -> int:
        """Sticks needed, the bottom layer closed up solid."""
        return (self.layers - 1) * self.members + self.bottom

    @property
    def bottom(self) -> int:
        """Sticks that close the bottom layer."""
        return max(self.members, math.floor((self.width + self.side) / self.side + 1e-9))


def crib_capacity(side: float, members: int, missing: int = 0, carries: int | None = None) -> float:
    """Load a crib bears [N]: crossings x side squared x 500 psi.

    Picture: the load goes straight down through the stacked crossings, each pressed across the grain. A crossing
    that does not touch is dropped from the count. `carries` limits the count to the crossings the load sits over:
    a round log is on one or two, not on all (common practice, `LOG_CROSSINGS`). Errs high when the load is off
    the middle or the ground under one corner is soft.

    Raises: BadInput when there are fewer than two sticks a layer, or no crossing is left.
    Source: Firehouse (2011) for 4x4 and 6x6 at 2 x 2.
    Checked by: tests/handbook/test_cribs.py
    """
    if side <= 0.0 or members < 2:
        raise BadInput("A crib needs timber with a side above zero and at least two sticks in each layer.")
    crossings = members * members - missing
    if carries is not None:
        crossings = min(crossings, carries)
    if missing < 0 or crossings < 1:
        raise BadInput("A crib needs at least one crossing that touches.")
    return crossings * side**2 * CRIB_STRESS


def crib_height_limit(side: float, width: float) -> float:
    """Greatest height of a crib [m]: three times its width, and 4 ft in 4x4 or 6 ft in 6x6.

    Source: Firehouse (2011); practical heights from an encyclopedia page on box cribs.
    Checked by: tests/handbook/test_cribs.py
    """
    practical = 6.0 if side >= 5.5 * INCH - 1e-9 else 4.0
    return min(HEIGHT_OVER_WIDTH * width, practical * 12.0 * INCH)


def crib_of_height(side: float, height: float, members: int = 2, least_width: float = 16.0 * INCH) -> Crib:
    """The crib that comes up to `height` [m] with less than one layer left for packing and wedges.

    The sticks run past the crossings by their own depth at each end.
    Source: Firehouse (2011): overhang at least the timber depth, width at least a third of the height.
    Checked by: tests/handbook/test_cribs.py
    """
    layers = math.floor(height / side + 1e-9)
    if layers < 2:
        raise BadInput("There is no room for a crib: it needs at least two layers.")
    width = max(height / HEIGHT_OVER_WIDTH, least_width)
    return Crib(side, members, width, layers, width + 3.0 * side)


def top_layer_capacity(crib: Crib, wood: Strengths, sticks: int) -> float:
    """Load the top layer bears when a log crosses its sticks in the middle [N], the weaker of bending and shear.

    Picture: each top stick is a beam from crossing to crossing with its share of the log at mid-span. Closing the
    top layer with more sticks shares it out. Parameters: strengths already adjusted; sticks in the top layer.
    Source: simple beam, M = P L / 4 and v = 1.5 V / A.
    Checked by: tests/handbook/test_cribs.py
    """
    bending = 4.0 * wood.bending * crib.side**3 / 6.0 / crib.width
    shear = 2.0 * wood.shear * crib.side**2 / 1.5
    return sticks * min(bending, shear)


def crib_stiffness(crib: Crib, carries: int = LOG_CROSSINGS) -> float:
    """Push back of the stacked crossings per metre [N/m], packing and ground left out.

    Picture: every layer of crossings gives 0.04 in when at its full load, one after the other. New cribs settle
    more than this until the corners have bitten. An estimate: sample it widely.
    Source: see `crush_stiffness`.
    Checked by: tests/handbook/test_cribs.py
    """
    return crush_stiffness(CRIB_STRESS, carries * crib.side**2) / (crib.layers - 1)
