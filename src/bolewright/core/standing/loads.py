"""What bends the stem at each place: wind, own weight off the plumb, and what the sway adds."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.base.vectors import GRAVITY
from bolewright.core.standing.drag import crown_drag, stem_drag
from bolewright.core.standing.upright import Sails, Upright
from bolewright.core.standing.wind import Form, gust_share

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Loads:
    """Loads at S places along the stem. Wind moments are for a drag number and a share of outline filled of 1."""

    gust: Floats  # (G,) [m/s] at 10 m in open country
    crown_moment: Floats  # (S, G) [N m] per drag number and filled share
    stem_moment: Floats  # (S, G) [N m]
    own_moment: Floats  # (S, 5, 2) [N m] towards x and y, by mass group
    weight: Floats  # (S, 5) [N] above the place, by mass group


def loads(tree: Upright, gust: ArrayLike, form: Form, terrain: str) -> Loads:
    """The loads on a tree at gusts (G,) [m/s] read at 10 m in open country: moments [N m] and weights [N].

    Steady wind of the gust's speed over the whole height at once: a real gust is narrower, so this errs high on tall
    trees. Sway is taken neither to raise nor to lower the peak: the literature disagrees.

    Source: M_w = sum F_i (z_i - h) and M_o = sum m_i g (x_i - x_h), statics.
    Checked by: tests/properties/test_standing.py, tests/unit/standing/test_loads.py
    """
    speeds = np.asarray(gust, float)

    def local(sails: Sails) -> Floats:
        return np.asarray(gust_share(sails.height, form, terrain)[:, None] * speeds)

    crown = crown_drag(local(tree.crown), tree.crown.area[:, None], 1.0)
    stem = stem_drag(local(tree.stem), tree.stem.area[:, None], 1.0)
    return Loads(
        gust=speeds,
        crown_moment=_wind_moment(tree, tree.crown, crown),
        stem_moment=_wind_moment(tree, tree.stem, stem),
        own_moment=own_moment(tree),
        weight=weight_above(tree),
    )


def _wind_moment(tree: Upright, sails: Sails, force: Floats) -> Floats:
    beyond = sails.at[None, :] > tree.at[:, None]
    arm = np.where(beyond, sails.height[None, :] - tree.centre[:, None, 2], 0.0)
    return np.asarray(np.maximum(arm, 0.0) @ force)


def own_moment(tree: Upright) -> Floats:
    """Moment [N m] of the weight above each place about its centre, (S, 5, 2): + x overturns forward, + y to the left.

    Source: statics, sum of m g times the horizontal arm.
    Checked by: tests/properties/test_standing.py
    """
    beyond = (tree.masses.at[None, :] > tree.at[:, None]).astype(float)
    first = np.einsum("sp,pg,pk->sgk", beyond, tree.masses.mass, tree.masses.point[:, :2])
    total = beyond @ tree.masses.mass
    return np.asarray(GRAVITY * (first - total[:, :, None] * tree.centre[:, None, :2]))


def weight_above(tree: Upright) -> Floats:
    """Weight [N] above each place by mass group, (S, 5).

    Source: statics.
    Checked by: tests/unit/standing/test_loads.py
    """
    beyond = (tree.masses.at[None, :] > tree.at[:, None]).astype(float)
    return np.asarray(GRAVITY * (beyond @ tree.masses.mass))


def extra_moment(tree: Upright, moment: ArrayLike, stiffness: ArrayLike) -> Floats:
    """Moment (S,) [N m] at each place of the weight that moves out when the stem bends under `moment` (S,) [N m].

    `stiffness` (S,) [N m2] is E I. The stem above the last place bends no further, and limbs do not bend at all.

    Source: moment-area integrals of a bent cantilever.
    Checked by: tests/properties/test_standing.py
    """
    curvature = np.asarray(moment, float) / np.asarray(stiffness, float)
    at, mass = tree.at, tree.masses.mass.sum(axis=1)
    step = np.diff(at)
    slope = np.concatenate([[0.0], np.cumsum(step * (curvature[1:] + curvature[:-1]) / 2.0)])
    within = step * (slope[:-1] + step * (2.0 * curvature[:-1] + curvature[1:]) / 6.0)
    drift = np.concatenate([[0.0], np.cumsum(within)])
    beyond = np.maximum(tree.masses.at - at[-1], 0.0)
    moved = np.interp(tree.masses.at, at, drift) + beyond * slope[-1]
    above = tree.masses.at[None, :] > at[:, None]
    return np.asarray(GRAVITY * np.sum(np.where(above, mass * (moved[None, :] - drift[:, None]), 0.0), axis=1))


def sway_share(tree: Upright, moment: ArrayLike, stiffness: ArrayLike, rounds: int = 8) -> float:
    """Extra moment at the ground over the moment that bends the stem [-], in the shape the stem bends in at last.

    Starts from `moment` (S,) [N m] of one wind and lets the extra moment bend the stem again, round after round; the
    ratio settles at weight over buckling weight. A little above the ratio of the first round: errs high. Limbs do not
    bend, which errs low for a slender crown. Fed to `amplifier`.

    Source: power iteration on the bent cantilever; at 1 the stem buckles under its own weight (Greenhill 1881).
    Checked by: tests/properties/test_standing.py
    """
    shape = np.asarray(moment, float)
    share = 0.0
    for _ in range(rounds):
        extra = extra_moment(tree, shape, stiffness)
        if shape[0] <= 0.0 or extra[0] <= 0.0:
            return 0.0
        share = float(extra[0] / shape[0])
        shape = extra / extra[0]
    return share


def amplifier(share: ArrayLike) -> Floats:
    """Factor [-] on the first moment once the weight that moves out with the sway has its say: 1/(1 - share).

    Infinite where the share reaches 1: such a stem cannot stand up straight.

    Source: geometric series of the extra moment; the usual beam-column amplifier.
    Checked by: tests/properties/test_standing.py
    """
    given = np.asarray(share, float)
    return np.asarray(np.where(given < 1.0, 1.0 / np.maximum(1.0 - given, 1e-12), np.inf))
