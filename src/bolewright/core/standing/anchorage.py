"""What the roots hold: published turning moments as a band, what cut roots take from it, and two cross-checks."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range
from bolewright.core.base.vectors import GRAVITY

Floats = NDArray[np.float64]
HALF_LOSS = 0.30  # pull force lost with half of the buttress roots cut
TRENCH_LOSS = 0.35  # with a straight trench at the trunk
TRENCH_REACH = 3.0  # stem diameters beyond which a trench was not felt
DEEP_GAIN = Range(1.10, 1.125, 1.15)  # rooting deeper than 80 cm, at equal mass
PLATE_SHARE = 0.30  # share of the plate's own weight in what resists, Scots pine
TILT_RATIO = 2.5  # anchorage strength over the moment at 0.25 deg of tilt
TILT = np.radians(0.25)


def turning_capacity(stem_mass: ArrayLike, slope: ArrayLike) -> Floats:
    """Moment [N m] at the ground that turns the root plate over, from stem mass [kg] and slope [N m/kg].

    A line through pulled conifers on four kinds of ground; a single tree lies within a factor of two of it. For
    broadleaves on a lawn it gives the scale and no more.

    Source: Byrne 2005, thesis, University of British Columbia; form after Nicoll et al. 2006, Can. J. For. Res.
    36:1871-1883.
    Checked by: tests/handbook/test_anchorage.py
    """
    return np.asarray(np.asarray(stem_mass, float) * np.asarray(slope, float))


def roots_cut(share: float) -> Range:
    """Share of anchorage lost [-] when this share [-] of the buttress roots is cut or rotten.

    Nearly a straight line up to half of them; beyond half nothing was measured, so the high end runs to all.

    Raises BadInput for a share outside 0 to 1.

    Source: Smiley 2008, Arboric. Urban For. 34(2):123-128 (half: 30 %); straight line: red maple, Arboric. Urban For.
    40(4):230, 2014.
    Checked by: tests/handbook/test_anchorage.py
    """
    if not 0.0 <= share <= 1.0:
        raise BadInput("The share of roots lost lies between 0 and 100 %.", "standing.roots_lost")
    line = 2.0 * HALF_LOSS * share
    if share <= 0.5:
        return Range(0.8 * line, line, min(1.2 * line, 1.0))
    beyond = (share - 0.5) / 0.5
    steep = HALF_LOSS + beyond * (1.0 - HALF_LOSS)
    return Range(line, (line + steep) / 2.0, steep)


def trench_loss(distance: float, diameter: float) -> Range:
    """Share of anchorage lost [-] to a straight trench at a distance [m] from a stem of this diameter [m].

    35 % at the trunk, not measurable beyond three diameters. In between a straight line and its spread are a house
    rule. Young trees of one kind: large ones may differ.

    Source: Smiley 2008, Arboric. Urban For. 34(2):123-128.
    Checked by: tests/handbook/test_anchorage.py
    """
    if distance < 0.0 or diameter <= 0.0:
        raise BadInput("A trench lies at some distance from a stem of some diameter.", "standing.trench")
    near = max(1.0 - distance / (TRENCH_REACH * diameter), 0.0)
    return Range(TRENCH_LOSS * near**2, TRENCH_LOSS * near, TRENCH_LOSS * near**0.5)


def plate_capacity(diameter: float, depth: float, density: float, share: float = PLATE_SHARE) -> float:
    """Turning moment [N m] from the weight of a root plate of this diameter and depth [m]: a cross-check.

    The plate's weight times its depth is taken as `share` [-] of all that resists. Its size is the weak point: no
    published rule gives it from the stem.

    `density` [kg/m3] of soil and roots.

    Source: Peltola et al. 1999, mechanistic model of windthrow, second-hand: M = g m_plate depth / f, f = 0.30.
    Checked by: tests/handbook/test_anchorage.py
    """
    mass = density * np.pi / 4.0 * diameter**2 * depth
    return float(GRAVITY * mass * depth / share)


def pull_test_capacity(moment: float, tilt: float) -> Range:
    """Anchorage [N m] from a pull test that stopped early: the moment [N m] that tilted the plate by an angle [rad].

    The moment at 0.25 degree times 2.5. A smaller tilt is scaled up in proportion, which errs high. The spread is a
    house rule.

    Raises BadInput for a tilt beyond 0.5 degree, where the line no longer holds, or no moment.

    Source: Forests 2023, 14(3):533 (more than 280 trees), linear estimate of its Table A3.
    Checked by: tests/handbook/test_anchorage.py
    """
    if moment <= 0.0 or not 0.0 < tilt <= np.radians(0.5):
        raise BadInput("A pull test needs a pull and a tilt of the plate up to 0.5 deg.", "inspection.test")
    likely = TILT_RATIO * moment * float(TILT / tilt)
    return Range(0.7 * likely, likely, 1.4 * likely)
