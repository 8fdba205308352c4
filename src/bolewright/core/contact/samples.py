"""Samples of what is not known: density, sizes, small wood, foliage, stiffness, how the tree came to rest.

Sample 0 is the likely case (no misfit). Every sample keeps its own numbers from step to step, so that before and
after a cut are compared within the sample and most of what is unknown cancels.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

from bolewright.core.base.range import Range
from bolewright.core.contact.actions import Array
from bolewright.core.contact.supports import SMALLEST_GIVE, Contact, likely_give

NORMAL_95 = 1.6448536269514722  # a 5..95 % band is this many standard deviations each way


@dataclass(frozen=True)
class Spread:
    """The not-known of a whole tree, as factors on the likely value (Range of the factor, likely 1).

    wood, small_wood, foliage, soil: mass per volume or per limb. size: all diameters together. stiffness: of the wood.
    """

    wood: Range
    small_wood: Range
    foliage: Range
    soil: Range
    size: Range
    stiffness: Range


@dataclass(frozen=True)
class Samples:
    """B samples. mass (G, B) factors on the mass groups; flex (B,) factor on the tree's own flexibility;
    give (n, B) of the supports [m/N]; misfit (n, B) height errors of the supports [m], + lower (open)."""

    mass: Array
    flex: Array
    give: Array
    misfit: Array

    def __len__(self) -> int:
        return int(self.flex.shape[0])

    def take(self, index: NDArray[np.int64]) -> Samples:
        """The samples with these numbers, in this order."""
        return replace(
            self,
            mass=self.mass[:, index],
            flex=self.flex[index],
            give=self.give[:, index],
            misfit=self.misfit[:, index],
        )


def draw(spread: Spread, contacts: list[Contact], count: int, rng: np.random.Generator) -> Samples:
    """`count` samples by Latin hypercube: every unknown's range is covered evenly.

    Factors (G, B) are two-sided lognormal (each half fitted to its own end of the range), give is lognormal, misfit
    normal.
    Source: McKay, Beckman & Conover, Technometrics 21(2), 1979 (Latin hypercube).
    Checked by: tests/unit/contact/test_samples.py.
    """
    n = len(contacts)
    normal = _hypercube(6 + 2 * n, count, rng)
    give_rows, misfit_rows = normal[6::2], normal[7::2]  # a contact more at the end leaves the others as they were
    normal[:, 0] = 0.0
    factors = [
        _factor(r, z)
        for r, z in zip(
            (spread.wood, spread.small_wood, spread.foliage, spread.soil, spread.size, spread.stiffness),
            normal[:6],
            strict=True,
        )
    ]
    wood, small, foliage, soil, size, stiff = factors
    volume = size**2  # length is measured well; the diameter enters squared
    mass = np.stack([wood * volume, wood * volume, small, foliage, soil])
    spreads = np.array([c.give_spread for c in contacts])
    misfits = np.array([c.misfit if c.touching else 0.0 for c in contacts])
    give = likely_give(contacts)[:, None] * np.exp(spreads[:, None] * give_rows)
    return Samples(
        mass=mass,
        flex=1.0 / (stiff * size**4),
        give=np.maximum(give, SMALLEST_GIVE),
        misfit=misfits[:, None] * misfit_rows,
    )


def _hypercube(rows: int, count: int, rng: np.random.Generator) -> Array:
    """(rows, count) standard normal values, each row stratified, each from a stream of its own."""
    streams = rng.spawn(rows)
    order = np.array([s.permutation(count) for s in streams], dtype=float).reshape(rows, count)
    within = np.array([s.random(count) for s in streams], dtype=float).reshape(rows, count)
    return np.asarray(ndtri((order + within) / count))


def _factor(band: Range, z: Array) -> Array:
    up, down = np.log(band.high / band.likely) / NORMAL_95, np.log(band.likely / band.low) / NORMAL_95
    return np.asarray(band.likely * np.exp(np.where(z > 0, up, down) * z))
