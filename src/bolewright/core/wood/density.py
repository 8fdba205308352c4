"""Green density of a log with its bark, and how far a published value can be off."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range

Floats = NDArray[np.float64]
WATER = 1000.0  # kg/m3
CELL_WALL = 1.54  # specific gravity of cell wall as it fills with water (Wood handbook, Eq. 4-3)
HEAVIEST = 1300.0  # kg/m3; no whole log with bark is heavier, live oak, the heaviest measured, is near 1220
LIGHTEST = 150.0  # kg/m3; green logs are above 400, a light dead dry one can be near 200


def green_density(specific_gravity: ArrayLike, moisture: ArrayLike) -> Floats:
    """Green density [kg/m3] of wood or of bark alone.

    Oven-dry mass per green volume plus the water it holds. Moisture changes along the stem, with season and between
    heartwood and sapwood; the published mean is of whole stems.

    `specific_gravity` [-] is oven-dry mass over green volume; `moisture` [-] is water over oven-dry mass (0.75 = 75 %).

    Source: Wood handbook, FPL-GTR-282 (2021), Eq. 4-8 rearranged: definition of moisture content.
    Checked by: tests/handbook/test_species_density.py
    """
    return np.asarray(WATER * np.asarray(specific_gravity, float) * (1.0 + np.asarray(moisture, float)))


def log_density(wood: ArrayLike, bark: ArrayLike, bark_share: ArrayLike) -> Floats:
    """Density [kg/m3] of a log with bark, per volume measured outside bark.

    Wood and bark by their volumes. Gaps in furrowed bark count as bark volume here, so a tape round the ridges of
    deep bark gives a figure on the heavy side.

    `wood` and `bark` [kg/m3] green; `bark_share` [-] is bark volume over WOOD volume, as the tables print it.

    Source: Miles and Smith 2009, NRS-38 (bark as percent of wood volume); mixture by volume.
    Checked by: tests/handbook/test_species_density.py
    """
    share = np.asarray(bark_share, float)
    return np.asarray((np.asarray(wood, float) + share * np.asarray(bark, float)) / (1.0 + share))


def saturated_density(specific_gravity: ArrayLike) -> Floats:
    """Density [kg/m3] with every void full of water: no green wood of this specific gravity [-] can be heavier.

    Source: Wood handbook, FPL-GTR-282 (2021), Eq. 4-3 (maximum moisture content), times specific gravity.
    Checked by: tests/handbook/test_species_density.py
    """
    dry = np.asarray(specific_gravity, float)
    return np.asarray(WATER * (dry + 1.0 - dry / CELL_WALL))


def density_range(
    likely: float, low_factor: float, high_factor: float, published: Iterable[float] = (), saturated: float = HEAVIEST
) -> Range:
    """Range of log density [kg/m3]: the likely value, spread by its rule, stretched to every published value.

    The spread rules are residuals between tables that were measured apart. Errors are lopsided: tables made from
    old shipping weights are more often too light than too heavy, most of all for conifers full of sapwood. The high
    end is never below the heaviest published value and, but for that, never above the water-saturated log.

    `likely`, `published`, `saturated` [kg/m3]; factors [-] of the spread rule.

    Raises BadInput when the likely value is no density of wood.

    Source: house rule; factors from the residuals listed in docs/species.md.
    Checked by: tests/handbook/test_species_density.py
    """
    check_density(likely)
    values = (likely, *published)
    high = min(max(likely * high_factor, *values), max(saturated, *values), HEAVIEST)
    return Range(min(likely * low_factor, *values), likely, high)


def check_density(density: float, path: str = "tree.density") -> None:
    """Refuse a density [kg/m3] that no log has, with the path of the value at fault.

    Source: house rule: above 1300 kg/m3 or below 150 kg/m3 the number is a slip of unit or of typing.
    Checked by: tests/unit/wood/test_density.py
    """
    if not LIGHTEST <= density <= HEAVIEST:
        raise BadInput(
            f"A log density of {density:.0f} kg/m3 cannot be: green logs lie between about 400 and 1250 kg/m3. "
            "Check the unit (lb/ft3 or kg/m3), or leave the density out to use the species table.",
            path,
        )
