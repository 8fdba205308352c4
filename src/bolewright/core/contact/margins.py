"""How far the tree is from tipping and rolling: how far its centre of mass may shift before nothing can hold it.

A margin says more than held / not held: wet foliage, a climber, a pull on a line and a wrong guess of a limb's weight
all act like a shift of the centre of mass.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.errors import BadInput
from bolewright.core.base.vectors import FORWARD, UP
from bolewright.core.contact.bounds import upper_bounds

Array = NDArray[np.float64]

TOWARDS_TIP, TOWARDS_BUTT = "towards the tip", "towards the butt"
TO_THE_RIGHT, TO_THE_LEFT = "to the right", "to the left"
EVEN = 0.01  # of the wood's radius: a curvature margin smaller than this is too close to call (house rule)


@dataclass(frozen=True)
class Stability:
    """The smaller shift along the stem and the smaller shift across it [m], with the way each goes.

    Negative: there is no equilibrium; so far it would have to come back. nan: no shift along this line helps.
    """

    tipping: float
    tipping_towards: str
    rolling: float
    rolling_towards: str


@dataclass(frozen=True)
class RollCurvature:
    """How far the centre of mass lies below where round wood stops righting itself [m], and what that means."""

    margin: float
    words: str


def shift_margins(columns: Array, weight: Array, lower: Array, upper: Array, directions: Array) -> Array:
    """How far [m] the centre of mass may shift horizontally before no equilibrium is left, (D,) or (D, B).

    inf where no shift ends it (a hold both ways without a limit); negative where it would have to shift back; nan where
    no shift along that line helps. Only vertical forces count, and friction is taken as enough not to slide: a margin
    here is optimistic where a support is steep. The supports are taken as points that do not give.
    columns (3, n): rows Fz, Mx, My of the unit forces about any origin [-, m, m]; weight (3,) or (3, B) [N, N m], Fz
    negative; lower, upper (n,) [N]; directions (D, 2) horizontal x, y, of any length.
    Raises BadInput for a weight that does not pull down.
    Source: statics: shifting a weight W by t towards d adds the moments (-W t d_y, W t d_x); the largest t is one
    bound more.
    Checked by: tests/unit/contact/test_margins.py.
    """
    if np.any(weight[0] >= 0.0):
        raise BadInput("A margin needs a tree with weight: the vertical force is not downward.")
    unit = np.asarray(directions, dtype=float)
    unit = unit / np.linalg.norm(unit, axis=1, keepdims=True)
    last = columns.shape[1]
    low, high = np.append(lower, -np.inf), np.append(upper, np.inf)
    shifts = []
    for dx, dy in unit:
        moment = np.array([[0.0], [-dy], [dx]])  # of one newton metre of shift: weight times distance
        bound = upper_bounds(np.concatenate([columns, moment], axis=1), weight, low, high, which=(last,))
        shifts.append(bound[last] / -weight[0])
    return np.array(shifts)


def stability(columns: Array, weight: Array, lower: Array, upper: Array, axis: Array) -> Stability:
    """The tipping margin (along the stem) and the rolling margin (across it) [m], each with its way in words.

    axis (3,): the stem, butt to tip; a plumb stem is taken to point forward. Right and left are as seen from butt to
    tip. Other arguments and which way it errs as in `shift_margins`, for one tree: columns (3, n), weight (3,).
    Source: see `shift_margins`.
    Checked by: tests/unit/contact/test_margins.py.
    """
    along = np.asarray(axis, dtype=float)[:2]
    size = float(np.linalg.norm(along))
    along = along / size if size > 1e-6 else FORWARD[:2]
    right = np.array([along[1], -along[0]])
    shifts = shift_margins(columns, weight, lower, upper, np.stack([along, -along, right, -right]))
    tipping, tipping_towards = _smaller(shifts[0], TOWARDS_TIP, shifts[1], TOWARDS_BUTT)
    rolling, rolling_towards = _smaller(shifts[2], TO_THE_RIGHT, shifts[3], TO_THE_LEFT)
    return Stability(tipping, tipping_towards, rolling, rolling_towards)


def _smaller(first: float, first_words: str, second: float, second_words: str) -> tuple[float, str]:
    if np.isnan(first) or np.isnan(second):
        return float("nan"), ""
    return (float(first), first_words) if first <= second else (float(second), second_words)


def roll_curvature(
    height: float, wood_radius: float, surface_radius: float = np.inf, slope: float = 0.0
) -> RollCurvature:
    """How far below the limit the centre of mass lies, for round wood that may roll on one surface [m].

    Picture: a log rolled a little moves its contact along with it; if the centre of mass is lower than the contact's
    centre of curvature (the middle of the log, on flat ground) it is lifted and the log comes back. Limbs hanging low
    make the margin positive, limbs standing up make it negative. Rolling resistance, bark and flat spots are left out:
    the margin is pessimistic by those.
    height [m] of the centre of mass above the contact; wood_radius [m] of the wood there; surface_radius [m] of what
    it lies on, + a hump (another log), - a hollow, inf flat; slope [rad] of the surface at the contact, square to
    the wood.
    Raises BadInput for a radius of zero or less, or a hollow tighter than the wood.
    Source: stability of a rocking body, 1/h > (1/r + 1/R) / cos(slope) (Routh, Analytical Statics, 1896, rocking
    stones; from memory, derived again in the test).
    Checked by: tests/unit/contact/test_margins.py.
    """
    if wood_radius <= 0.0 or surface_radius == 0.0:
        raise BadInput("Round wood and the surface it lies on need a radius other than zero.")
    bend = 1.0 / wood_radius + 1.0 / surface_radius
    if bend <= 0.0:
        raise BadInput("The hollow is tighter than the wood that lies in it: it rests on two points, not one.")
    margin = float(np.cos(slope)) / bend - height
    if abs(margin) <= EVEN * wood_radius:
        return RollCurvature(margin, "round wood, even: it rolls with the slightest push and stays where it stops")
    if margin > 0.0:
        return RollCurvature(margin, "the centre of mass is low: nudged, it rolls back")
    return RollCurvature(margin, "the centre of mass is high: nudged, it rolls on")


def support_polygon(points: Array) -> Array:
    """Corners (K, 2) of the smallest outline round the supports, seen from above, anticlockwise [m].

    The weight's line must fall inside it for supports that only push up. points (n, 3) or (n, 2); fewer than three
    supports, or all on one line, come back as the one or two outer ones.
    Source: geometry (monotone chain, Andrew 1979).
    Checked by: tests/unit/contact/test_margins.py.
    """
    flat = sorted({(float(x), float(y)) for x, y in np.asarray(points, dtype=float)[:, :2]})
    if len(flat) < 3:
        return np.array(flat).reshape(-1, 2)
    lower_chain, upper_chain = _chain(flat), _chain(flat[::-1])
    return np.array(lower_chain[:-1] + upper_chain[:-1])


def _chain(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    chain: list[tuple[float, float]] = []
    for p in points:
        while len(chain) > 1 and not _turns_left(chain[-2], chain[-1], p):
            chain.pop()
        chain.append(p)
    return chain


def _turns_left(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> bool:
    first, second = np.array([*b, 0.0]) - [*a, 0.0], np.array([*c, 0.0]) - [*a, 0.0]
    return float(np.cross(first, second) @ UP) > 1e-12
