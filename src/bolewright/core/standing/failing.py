"""The gust that breaks the stem at each place, and the gust that turns the root plate over."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.standing.loads import Loads, amplifier
from bolewright.core.standing.strength import Strength, area_at, modulus_at
from bolewright.core.standing.unknowns import Draws, Unknowns, likely_draw

Floats = NDArray[np.float64]
GUSTS: Floats = np.arange(0.0, 101.0, 2.0)  # m/s looked at; a tree that stands the last is given that one


@dataclass(frozen=True)
class Case:
    """All that is needed to load a tree until it fails."""

    loads: Loads
    strengths: tuple[Strength, ...]  # (S,) low to high
    capacity: float  # likely turning capacity of the roots [N m]
    sway: float  # likely extra moment share, see core.standing.loads.sway_share
    pulled: bool = False  # capacity from a pull test of this tree, not from its stem's mass


def mass_factors(draws: Draws) -> Floats:
    """Factors (B, 5) [-] on the likely masses by group: stem, limbs, small wood, foliage, soil (none stands up).

    Source: mass goes with density and the square of the diameter.
    Checked by: tests/unit/standing/test_failing.py
    """
    wood = draws["density"] * draws["size"] ** 2
    return np.stack([wood, wood, draws["crown_mass"], draws["foliage_mass"], np.zeros_like(wood)], axis=-1)


def overturning(case: Case, draws: Draws, direction: ArrayLike, place: int) -> Floats:
    """Moment [N m] towards x and y at one place, (B, G, 2): wind blowing towards `direction` [rad from x to y], one for
    all samples or one each (B,), own weight off the plumb, and what sway adds.

    Source: statics; amplifier of core.standing.loads.
    Checked by: tests/properties/test_standing.py
    """
    loads = case.loads
    crown = draws["drag"] * draws["filled"] * draws["width"] * draws["height"] ** 2
    wind = crown[:, None] * loads.crown_moment[place] + draws["size"][:, None] * loads.stem_moment[place]
    own = np.einsum("bg,gk->bk", mass_factors(draws), loads.own_moment[place]) * draws["lean"][:, None]
    way = np.atleast_2d(np.stack([np.cos(direction), np.sin(direction)], axis=-1))[:, None, :]
    return np.asarray(_sway(case, draws)[:, None, None] * (wind[:, :, None] * way + own[:, None, :]))


def _sway(case: Case, draws: Draws) -> Floats:
    weight = draws["density"] * draws["size"] ** 2
    share = case.sway * weight / (draws["stiffness"] * draws["size"] ** 4)
    return np.minimum(amplifier(share), 1e6)


def stress_share(case: Case, draws: Draws, direction: ArrayLike, place: int) -> Floats:
    """Stress over strength (B, G) [-] at one place: bending plus the weight above, compression side.

    Wood that is left bends elastically until its outermost fibre reaches the bending strength; thin walls may give way
    before (`core.sections.wall_mode`), green wood after its first yield carries somewhat more. Bark carries nothing.

    Source: sigma = M/Z + N/A.
    Checked by: tests/properties/test_standing.py, tests/unit/standing/test_failing.py
    """
    moment = overturning(case, draws, direction, place)
    size = np.linalg.norm(moment, axis=-1)
    angle = np.arctan2(moment[..., 1], moment[..., 0])
    strength = case.strengths[place]
    shell = np.broadcast_to(draws["shell"][:, None], size.shape)
    modulus = modulus_at(strength, shell, angle) * draws["size"][:, None] ** 3
    area = area_at(strength, draws["shell"]) * draws["size"] ** 2
    weight = mass_factors(draws) @ case.loads.weight[place]
    limit = draws["strength"] * draws["wood"]
    return np.asarray(size / (modulus * limit[:, None]) + (weight / (area * limit))[:, None])


def gust_reaching(share: ArrayLike, gust: ArrayLike) -> Floats:
    """The gust (B,) [m/s] at which a share (B, G) that grows with the gust (G,) first reaches 1.

    0 where it is there without wind; the last gust looked at where it is never reached.

    Source: linear interpolation between gusts 2 m/s apart.
    Checked by: tests/unit/standing/test_failing.py
    """
    s, v = np.asarray(share, float), np.asarray(gust, float)
    over = s >= 1.0
    first = np.where(over.any(axis=1), np.argmax(over, axis=1), v.size - 1)
    before = np.maximum(first - 1, 0)
    rows = np.arange(s.shape[0])
    low, high = s[rows, before], s[rows, first]
    rest = np.clip((1.0 - low) / np.where(high > low, high - low, 1.0), 0.0, 1.0)
    found = v[before] + rest * (v[first] - v[before])
    return np.asarray(np.where(over.any(axis=1), np.where(first == 0, v[0], found), v[-1]))


def gust_to_break(case: Case, draws: Draws, direction: ArrayLike) -> Floats:
    """Gust (B, S) [m/s at 10 m in open country] that breaks the stem at each place.

    Source: `stress_share` reaching 1.
    Checked by: tests/properties/test_standing.py, tests/unit/standing/test_failing.py
    """
    found = [
        gust_reaching(stress_share(case, draws, direction, s), case.loads.gust) for s in range(len(case.strengths))
    ]
    return np.stack(found, axis=1)


def held_by_roots(case: Case, draws: Draws) -> Floats:
    """Turning moment the roots hold (B,) [N m]: with the stem's mass where it follows from that, as pulled otherwise.

    Source: turning capacity in proportion to stem mass, see core.standing.anchorage.
    Checked by: tests/unit/standing/test_failing.py
    """
    own = case.capacity * draws["anchorage"]
    return np.asarray(own if case.pulled else own * draws["density"] * draws["size"] ** 2)


def gust_to_uproot(case: Case, draws: Draws, direction: ArrayLike) -> Floats:
    """Gust (B,) [m/s at 10 m in open country] whose moment at the ground, own weight included, the roots do not hold.

    Source: moment at place 0 against the turning capacity.
    Checked by: tests/properties/test_standing.py
    """
    moment = np.linalg.norm(overturning(case, draws, direction, 0), axis=-1)
    return gust_reaching(moment / held_by_roots(case, draws)[:, None], case.loads.gust)


def worst_direction(case: Case, unknowns: Unknowns, steps: int = 36) -> float:
    """Direction [rad from x to y] towards which the least gust breaks or uproots the tree, likely values.

    Source: search all round in steps of 10 degrees.
    Checked by: tests/properties/test_standing.py
    """
    ways = np.arange(steps) * 2.0 * np.pi / steps
    draws = likely_draw(unknowns, steps)
    gusts = np.minimum(gust_to_break(case, draws, ways).min(axis=1), gust_to_uproot(case, draws, ways))
    return float(ways[int(np.argmin(gusts))])
