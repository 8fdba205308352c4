"""Finding trees by the names people use."""

from __future__ import annotations

import pytest

from bolewright.core.base.errors import BadInput
from bolewright.reference import all_species, find_species
from bolewright.reference.names import SEVERAL_TREES


@pytest.mark.parametrize(
    ("asked", "scientific"),
    [
        ("silver maple", "Acer saccharinum"),
        ("SILVER  Maple", "Acer saccharinum"),
        ("acer SACCHARINUM", "Acer saccharinum"),
        ("oak", "Quercus spp."),
        ("Quercus", "Quercus spp."),
        ("Quercus sp.", "Quercus spp."),
        ("Quercus spp", "Quercus spp."),
        ("red oak", "Quercus rubra"),
        ("yellow poplar", "Liriodendron tulipifera"),
        ("tulip-tree", "Liriodendron tulipifera"),
        ("Douglas fir", "Pseudotsuga menziesii"),
        ("gray poplar", "Populus x canescens"),
        ("English oak", "Quercus robur / Q. petraea"),
        ("Ginkgo sp.", "Ginkgo biloba"),
        ("turkey oak", "Quercus cerris"),
        ("box elder", "Acer negundo"),
        ("unknown broadleaf", "Broadleaf unknown"),
    ],
)
def test_found(asked: str, scientific: str) -> None:
    """Case, hyphens, spaces, genus abbreviations and other common names."""
    assert find_species(asked).scientific_name == scientific


@pytest.mark.parametrize(
    ("asked", "offered"),
    [
        ("silver mapel", "silver maple"),
        ("Qurcus rubra", "northern red oak"),
        ("purple spotted oak", "oak"),
        ("Quercus imaginaria", "oak"),
        ("zzzz", "unknown broadleaf"),
        ("cedar", "eastern redcedar"),
        ("", "unknown broadleaf"),
        ("123", "unknown broadleaf"),
    ],
)
def test_not_found_offers_something(asked: str, offered: str) -> None:
    """The error is one sentence or two with what may have been meant."""
    with pytest.raises(BadInput) as caught:
        find_species(asked)
    assert offered in caught.value.sentence


def test_main_names_find_their_own_row() -> None:
    """Every common name leads to its row; every scientific name to the first row that has it."""
    first = {}
    for row in all_species():
        assert find_species(row.common_name) is row
        first.setdefault(row.scientific_name, row)
    for name, row in first.items():
        assert find_species(name) is row


def test_every_name_offered_for_an_ambiguous_word_is_found() -> None:
    """What the error tells people to say works."""
    for names in SEVERAL_TREES.values():
        for name in names:
            find_species(name)
