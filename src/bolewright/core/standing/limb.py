"""A limb of a standing tree as what bends it: its own weight, the wind on what it carries, and a support under it.

Moments are vectors about each place along the limb; what bends is their part square to the limb's axis. Twisting is not
reckoned. Places run from the bark of what it grows on (the union) outward.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.base.errors import BadInput
from bolewright.core.base.vectors import GRAVITY, unit
from bolewright.core.standing.drag import crown_drag, stem_drag
from bolewright.core.standing.wind import Form, gust_share
from bolewright.core.tree.assembly import FOLIAGE, SMALL_WOOD, Assembly

Floats = NDArray[np.float64]
MOST_PLACES = 12
UP = np.array([0.0, 0.0, 1.0])


@dataclass(frozen=True)
class LimbBody:
    """A limb with all it carries. K places along it, P lumps of mass on it, the wind taking hold at the same lumps."""

    s: Floats  # (K,) [m] from its base in the parent's centre line
    point: Floats  # (K, 3) [m]
    axis: Floats  # (K, 3) unit, towards its tip
    diameter: Floats  # (K,) [m] bark included
    length: float
    lump_s: Floats  # (P,) [m] along the limb of what carries the lump
    lump: Floats  # (P, 3) [m]
    mass: Floats  # (P, 5) [kg] by group
    sail: Floats  # (P,) share of the limb's sail, 1 in all while nothing is cut

    def shortened(self, share: float) -> LimbBody:
        """The limb cut back by this share of its length, all beyond the cut gone."""
        left = self.lump_s <= self.length * (1.0 - share)
        return replace(self, mass=self.mass * left[:, None], sail=self.sail * left)


@dataclass(frozen=True)
class LimbLoads:
    """Moment vectors about the K places of a limb, (..., 3) [N m]."""

    gust: Floats  # (G,) [m/s] at 10 m in open country
    own: Floats  # (K, 5, 3) of the weight beyond, by mass group
    wind: Floats  # (K, G, 2, 3) of wind towards x and towards y
    weight: Floats  # (K, 5) [N] beyond


def limb_body(assembly: Assembly, member: str, extra_foliage: float = 0.0) -> LimbBody:
    """The limb cut free at its union, `extra_foliage` [kg] (ice, say) spread like its small wood and leaves.

    Where nothing fine grows on it the wind takes hold of its wood, spread like its mass.

    Raises BadInput for the stem or a limb that is not there.

    Source: geometry.
    Checked by: tests/unit/standing/test_limb.py
    """
    own = assembly.of(member)
    if own.start == 0:
        raise BadInput("The stem is no limb.", "tree.limb")
    runs = np.arange(own.start, own.stop)[~assembly.stub[own]]
    chosen = runs[np.unique(np.linspace(0, runs.size - 1, min(runs.size, MOST_PLACES)).round().astype(int))]
    carried = carried_on(assembly, member)
    on = np.flatnonzero(carried >= 0.0)
    mass = assembly.mass[on].copy()
    fine = mass[:, SMALL_WOOD] + mass[:, FOLIAGE]
    spread = fine if fine.sum() > 0.0 else mass.sum(axis=1)
    share = spread / spread.sum()
    mass[:, FOLIAGE] += extra_foliage * share
    way = assembly.end[chosen] - assembly.start[chosen]
    return LimbBody(
        s=assembly.s_start[chosen],
        point=assembly.start[chosen],
        axis=way / np.linalg.norm(way, axis=1, keepdims=True),
        diameter=assembly.diameter_start[chosen],
        length=assembly.length_of(member),
        lump_s=carried[on],
        lump=(assembly.start[on] + assembly.end[on]) / 2.0,
        mass=mass,
        sail=share,
    )


def carried_on(assembly: Assembly, member: str) -> Floats:
    """Distance (K,) [m] along a member of what carries each segment: its own middle, where the first limb below it
    grows elsewhere, -1 where the member does not carry it.

    Source: geometry of the branching.
    Checked by: tests/unit/standing/test_limb.py
    """
    own = assembly.of(member)
    at = np.full(assembly.member.size, -1.0)
    at[own] = (assembly.s_start[own] + assembly.s_end[own]) / 2.0
    for k in range(own.stop, at.size):
        parent = int(assembly.parent[k])
        at[k] = assembly.s_end[parent] if own.start <= parent < own.stop else at[parent]
    return at


def limb_loads(
    body: LimbBody, area: float, gust: ArrayLike, form: Form, terrain: str, leafless: bool = False
) -> LimbLoads:
    """The loads on a limb with a sail of this area [m2] at gusts (G,) [m/s], for a drag number and filling of 1.

    The wind at the height of each lump, no shelter by the rest of the crown: errs high inside it. `leafless`: the area
    is of bare wood, square to the wind, with the drag of a stem.

    Source: statics; drag as for the crown.
    Checked by: tests/unit/standing/test_limb.py
    """
    speed = np.asarray(gust, float)
    local = gust_share(np.maximum(body.lump[:, 2], 0.1), form, terrain)[:, None] * speed
    shown = (area * body.sail)[:, None]
    force = stem_drag(local, shown, 1.0) if leafless else crown_drag(local, shown, 1.0)
    beyond = (body.lump_s[None, :] > body.s[:, None]).astype(float)
    arm = body.lump[None, :, :] - body.point[:, None, :]
    turn = np.stack([np.cross(arm, way) for way in (np.array([1.0, 0.0, 0.0]), np.array([0.0, 1.0, 0.0]))], axis=2)
    wind = np.einsum("kp,pg,kpwc->kgwc", beyond, force, turn)
    pull = np.cross(arm, -GRAVITY * UP)
    own = np.einsum("kp,pm,kpc->kmc", beyond, body.mass, pull)
    return LimbLoads(speed, own, wind, GRAVITY * (beyond @ body.mass))


def moments(
    loads: LimbLoads, wind_factor: ArrayLike, mass_factor: ArrayLike, direction: ArrayLike
) -> tuple[Floats, Floats]:
    """Moment vectors [N m] of weight (B, K, 3) and of wind towards `direction` [rad], one for all samples or one each
    (B,), (B, K, G, 3), for factors on the wind (B,) and on each mass group (B, 5).

    Source: statics.
    Checked by: tests/unit/standing/test_limb.py
    """
    own = np.einsum("bm,kmc->bkc", np.asarray(mass_factor, float), loads.own)
    way = np.atleast_2d(np.stack([np.cos(direction), np.sin(direction)], axis=-1))
    blown = np.einsum("kgwc,bw->bkgc", loads.wind, way)
    return own, np.asarray(np.asarray(wind_factor, float)[:, None, None, None] * blown)


def bending(body: LimbBody, moment: Floats) -> Floats:
    """What bends [N m] of moment vectors (..., K, 3) or (..., K, G, 3): their size square to the limb's axis.

    Source: statics; the part along the axis twists.
    Checked by: tests/unit/standing/test_limb.py
    """
    axis = body.axis if moment.ndim < 4 else body.axis[:, None, :]
    along = np.sum(moment * axis, axis=-1, keepdims=True)
    return np.asarray(np.linalg.norm(moment - along * axis, axis=-1))


def support_reaction(body: LimbBody, moment: Floats, at: float, towards: ArrayLike) -> Floats:
    """Force [N] of a rigid support at a distance [m] along the limb that can only push towards `towards` (3,), under
    moment vectors (..., K, 3) [N m] without it; never below zero.

    The limb bends as a tapered cantilever; its union gives nothing. A prop that settles, or a line that stretches,
    carries less: errs high for the support and low for the union.

    Raises BadInput for a place off the limb.

    Source: force method with one unknown, virtual work over the limb's own bending stiffness.
    Checked by: tests/unit/standing/test_limb.py
    """
    unit_moment, weight = _of_support(body, at, towards)
    sway = np.sum(weight * np.sum(moment * unit_moment, axis=-1), axis=-1)
    give = float(np.sum(weight * np.sum(unit_moment * unit_moment, axis=-1)))
    return np.asarray(np.maximum(-sway / give, 0.0))


def supported(body: LimbBody, moment: Floats, force: Floats, at: float, towards: ArrayLike) -> Floats:
    """Moment vectors (..., K, 3) [N m] with a support that pushes with `force` (...) [N].

    Source: statics.
    Checked by: tests/unit/standing/test_limb.py
    """
    unit_moment, _ = _of_support(body, at, towards)
    return np.asarray(moment + np.asarray(force)[..., None, None] * unit_moment)


def _of_support(body: LimbBody, at: float, towards: ArrayLike) -> tuple[Floats, Floats]:
    """Moment (K, 3) of a unit force of the support, and the share of flexibility each place stands for (K,),
    by the trapezoid rule between the places and the support, where the moment of the support is nothing."""
    if not body.s[0] < at <= body.length * (1.0 + 1e-9):
        raise BadInput(
            f"The support stands {at:.2f} m out on a limb that is {body.length:.2f} m long.", "rating.option"
        )
    first, last = body.point[0], body.point[0] + body.axis[0] * (body.length - body.s[0])
    place = first + (last - first) * (at - body.s[0]) / (body.length - body.s[0])
    turn = np.cross(place[None, :] - body.point, unit(np.asarray(towards, float)))
    turn[body.s >= at] = 0.0
    turn -= np.sum(turn * body.axis, axis=-1, keepdims=True) * body.axis
    node = np.minimum(np.append(body.s, at), at)
    step = np.maximum(np.diff(np.sort(node)), 0.0)
    weight = (np.append(0.0, step[:-1]) + step) / 2.0
    return turn, weight / body.diameter**4
