"""What is not known exactly about a standing tree, and samples of all of it at once.

The samples come in groups: what stays the same for this tree whatever gust comes along (how its crown drags, how
strong its wood, how well it is rooted) is drawn once per group, what differs within it for every sample.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

from bolewright.core.base.range import Range

Floats = NDArray[np.float64]
NORMAL_95 = 1.6448536269514722
ONE = Range.exact(1.0)
NO_ERROR = Range.exact(0.0)
WOOD_FACTOR = Range(0.75, 1.0, 1.25)  # from memory: stems reach 0.6 to 1.0 of clear wood, likely 0.8
PER_TREE = ("drag", "filled", "wood", "anchorage")  # drawn once per group


@dataclass(frozen=True)
class Unknowns:
    """Ranges of what is not known. Factors on the likely value unless said otherwise."""

    drag: Range  # drag number of the crown at 20 m/s [-]
    filled: Range  # share of the crown's outline that is filled [-]
    strength: Range  # bending strength of clear green wood [Pa]
    wood: Range = WOOD_FACTOR  # what a stem reaches of it, over the likely clear-wood factor
    width: Range = ONE  # crown width
    height: Range = ONE  # tree height
    size: Range = ONE  # stem diameter
    density: Range = ONE  # of the wood
    crown_mass: Range = ONE  # of branches and twigs beyond what was measured
    foliage_mass: Range = ONE
    lean: Range = ONE
    stiffness: Range = ONE
    anchorage: Range = ONE  # over the likely turning capacity
    shell: Range = NO_ERROR  # m, error of every shell depth


@dataclass(frozen=True)
class Draws:
    """B samples of the unknowns, in `groups` groups of equal size one after another."""

    values: dict[str, Floats]
    groups: int

    def __getitem__(self, name: str) -> Floats:
        return self.values[name]


def draw_unknowns(unknowns: Unknowns, groups: int, each: int, rng: np.random.Generator) -> Draws:
    """Samples (groups x each,) of every unknown in SI, each evenly over its range (Latin hypercube).

    Factors are two-sided lognormal, the shell error two-sided normal, with 5 and 95 % at the ends of the range.

    Source: McKay, Beckman and Conover 1979, Technometrics 21(2).
    Checked by: tests/unit/standing/test_unknowns.py
    """
    values: dict[str, Floats] = {}
    for field in fields(unknowns):
        band: Range = getattr(unknowns, field.name)
        if field.name in PER_TREE:
            z = np.repeat(_even(groups, rng), each)
        else:
            z = _even(groups * each, rng)
        values[field.name] = _two_sided(band, z, additive=field.name == "shell")
    return Draws(values, groups)


def draw_factor(band: Range, count: int, rng: np.random.Generator) -> Floats:
    """Samples (count,) of one more factor [-], spread evenly over its range like all others.

    Source: as `draw_unknowns`.
    Checked by: tests/unit/standing/test_unknowns.py
    """
    return _two_sided(band, _even(count, rng), additive=False)


def likely_draw(unknowns: Unknowns, count: int = 1) -> Draws:
    """Samples (count,), all the same: everything at its likely value (SI).

    Source: house rule.
    Checked by: tests/unit/standing/test_unknowns.py
    """
    return Draws({f.name: np.full(count, getattr(unknowns, f.name).likely) for f in fields(unknowns)}, 1)


def one_at_a_time(unknowns: Unknowns) -> dict[str, Draws]:
    """For every unknown that has a spread, two samples (2,): it low and it high, all else likely (SI).

    Source: one-at-a-time sensitivity, house rule.
    Checked by: tests/unit/standing/test_unknowns.py
    """
    found: dict[str, Draws] = {}
    for field in fields(unknowns):
        band: Range = getattr(unknowns, field.name)
        if band.low == band.high:
            continue
        values = {f.name: np.full(2, getattr(unknowns, f.name).likely) for f in fields(unknowns)}
        values[field.name] = np.array([band.low, band.high])
        found[field.name] = Draws(values, 1)
    return found


def with_exact(unknowns: Unknowns, name: str) -> Unknowns:
    """The unknowns with one of them measured exactly at its likely value (SI).

    Plain: replaces one field.
    """
    return replace(unknowns, **{name: Range.exact(getattr(unknowns, name).likely)})


def _even(count: int, rng: np.random.Generator) -> Floats:
    """Standard normal values, one from each of `count` equal shares, in random order."""
    order = rng.permutation(count)
    return np.asarray(ndtri((order + rng.random(count)) / count))


def _two_sided(band: Range, z: Floats, additive: bool) -> Floats:
    if additive:
        up, down = (band.high - band.likely) / NORMAL_95, (band.likely - band.low) / NORMAL_95
        return np.asarray(band.likely + np.where(z > 0.0, up, down) * z)
    up, down = np.log(band.high / band.likely) / NORMAL_95, np.log(band.likely / band.low) / NORMAL_95
    return np.asarray(band.likely * np.exp(np.where(z > 0.0, up, down) * z))
