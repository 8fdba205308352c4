"""Reference tables with their sources: species, crowns, and the full citation behind every key."""

from bolewright.reference.crowns import (
    BiomassGroup,
    CrownRelation,
    CrownShare,
    biomass_groups,
    component_ratio,
    crown_relation,
    crown_share,
    crown_shares,
)
from bolewright.reference.names import find_species
from bolewright.reference.species import Species, all_species
from bolewright.reference.tables import citations, cite

__all__ = [
    "BiomassGroup",
    "CrownRelation",
    "CrownShare",
    "Species",
    "all_species",
    "biomass_groups",
    "citations",
    "cite",
    "component_ratio",
    "crown_relation",
    "crown_share",
    "crown_shares",
    "find_species",
]
