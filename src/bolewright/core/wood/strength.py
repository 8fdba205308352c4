"""Strength and stiffness of green wood: clear-wood means, their estimate from density, and what to reckon with."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range

Floats = NDArray[np.float64]
Kind = Literal["broadleaf", "conifer"]
Property = Literal["bending", "stiffness", "compression", "shear"]

# Knots, slope of grain and size: share of small clear strength a stem reaches. From memory; pull tests of large
# shade maples found no usable link between clear-wood strength and stress at failure (docs/species.md).
CLEAR_WOOD_FACTOR = 0.8
# Standard deviation over mean between pieces of one species (Wood handbook, FPL-GTR-282, Chapter 5, Table 5-6).
VARIATION: dict[Property, float] = {"bending": 0.16, "stiffness": 0.22, "compression": 0.18, "shear": 0.14}
ONE_SIDED_95 = 1.645  # standard deviations from the mean to the 5 and 95 % points


@dataclass(frozen=True)
class PowerLaw:
    """mean = factor x specific gravity ^ exponent, with the scatter about it as standard deviation of the logarithm."""

    factor: float  # [Pa]
    exponent: float  # [-]
    scatter: float  # [-]


# Least squares of logarithms over the confirmed rows of the species table (34 to 48 species each).
POWER_LAWS: dict[tuple[Kind, Property], PowerLaw] = {
    ("broadleaf", "bending"): PowerLaw(130.2e6, 1.210, 0.122),
    ("broadleaf", "stiffness"): PowerLaw(17.22e9, 1.029, 0.184),
    ("broadleaf", "compression"): PowerLaw(64.23e6, 1.359, 0.157),
    ("broadleaf", "shear"): PowerLaw(18.94e6, 1.219, 0.112),
    ("conifer", "bending"): PowerLaw(115.2e6, 1.071, 0.085),
    ("conifer", "stiffness"): PowerLaw(19.86e9, 1.045, 0.156),
    ("conifer", "compression"): PowerLaw(56.14e6, 1.091, 0.096),
    ("conifer", "shear"): PowerLaw(12.00e6, 0.829, 0.091),
}


def strength_from_density(kind: Kind, prop: Property, specific_gravity: ArrayLike) -> Floats:
    """Estimated mean clear-wood value [Pa] of a green species nobody tested, from its specific gravity [-].

    Denser wood has more cell wall to carry load. The scatter between species about the line is 9 to 18 % (one
    standard deviation, `POWER_LAWS[...].scatter`), on top of the variation between pieces. Error either way.

    Source: form of Spatz and Pfisterer 2013, Arboriculture & Urban Forestry 39(5):218-225 (strength with density to
    about the power 1.2, stiffness nearly linear); numbers fitted on the confirmed rows of the species table.
    Checked by: tests/handbook/test_species_strength.py
    """
    law = POWER_LAWS[kind, prop]
    return np.asarray(law.factor * np.asarray(specific_gravity, float) ** law.exponent)


def green_strength(clear_mean: float, prop: Property, scatter: float = 0.0, factor: float = CLEAR_WOOD_FACTOR) -> Range:
    """Strength [Pa] to reckon with in a stem: the clear-wood mean times the clear-wood factor, and its spread.

    Small clear pieces are the upper limit of what a stem does; knots, grain and size take from it. Decay, cracks and
    included bark are not in it: those come off the section. Stiffness takes no factor: knots hardly soften a stem.

    `clear_mean` [Pa]; `scatter` [-] further standard deviation over mean where the mean itself is an estimate;
    `factor` [-] (0, 1], from memory.

    Raises BadInput for a mean that is not positive or a factor outside (0, 1].

    Source: Wood handbook, FPL-GTR-282 (2021), Table 5-6 (variation); factor from memory.
    Checked by: tests/unit/wood/test_strength.py
    """
    if clear_mean <= 0.0:
        raise BadInput(f"A strength must be above zero, not {clear_mean / 1e6:.3g} MPa.", "strength")
    if not 0.0 < factor <= 1.0:
        raise BadInput(f"The clear-wood factor must lie above 0 and at most 1, not {factor:g}.", "factor")
    likely = clear_mean * (1.0 if prop == "stiffness" else factor)
    spread = float(np.hypot(VARIATION[prop], scatter))
    return Range(likely * max(1.0 - ONE_SIDED_95 * spread, 0.0), likely, likely * (1.0 + ONE_SIDED_95 * spread))
