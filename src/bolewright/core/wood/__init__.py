"""Wood: green density, green strength, and what to add for the crown nobody measured."""

from bolewright.core.wood.crown import LEAF_MOISTURE, CrownAllowance, CrownRelation, crown_allowance, dry_mass
from bolewright.core.wood.density import check_density, density_range, green_density, log_density, saturated_density
from bolewright.core.wood.strength import (
    CLEAR_WOOD_FACTOR,
    POWER_LAWS,
    VARIATION,
    green_strength,
    strength_from_density,
)

__all__ = [
    "CLEAR_WOOD_FACTOR",
    "LEAF_MOISTURE",
    "POWER_LAWS",
    "VARIATION",
    "CrownAllowance",
    "CrownRelation",
    "check_density",
    "crown_allowance",
    "density_range",
    "dry_mass",
    "green_density",
    "green_strength",
    "log_density",
    "saturated_density",
    "strength_from_density",
]
