"""Crown allowance: order, refusals, notes."""

from __future__ import annotations

import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range
from bolewright.core.wood import crown_allowance
from bolewright.reference import crown_relation, find_species


@pytest.mark.parametrize("name", ["red maple", "loblolly pine", "unknown broadleaf", "unknown conifer"])
@pytest.mark.parametrize("dbh", [0.05, 0.3, 0.9, 1.6])
def test_allowance_rises_and_is_marked(name: str, dbh: float) -> None:
    """Low, likely, high in order; always an estimate with its sources."""
    species = find_species(name)
    found = crown_allowance(dbh, crown_relation(species, dbh), species.kind, species.wood_moisture.value)
    assert 0.0 < found.branch_per_area.low < found.branch_per_area.likely < found.branch_per_area.high
    assert 0.0 < found.foliage_per_area.low < found.foliage_per_area.likely < found.foliage_per_area.high
    assert found.status == "estimate"
    assert found.source


def test_big_street_trees_are_flagged() -> None:
    """Beyond the trees behind the relation, the note says so."""
    species = find_species("red maple")
    found = crown_allowance(1.2, crown_relation(species, 1.2), species.kind, 0.6)
    assert "thicker than the 66 cm" in found.note


def test_a_given_leaf_moisture_replaces_the_recalled_one() -> None:
    """Own leaf moisture: no mark from memory, and the mass follows it."""
    species = find_species("red maple")
    relation = crown_relation(species, 0.4)
    dry = crown_allowance(0.4, relation, species.kind, 0.6, Range.exact(0.0))
    wet = crown_allowance(0.4, relation, species.kind, 0.6, Range.exact(1.0))
    assert "from memory" not in dry.note
    assert wet.foliage_per_area.likely == pytest.approx(2.0 * dry.foliage_per_area.likely)


def test_a_twig_is_refused() -> None:
    """The relation starts at 2.5 cm."""
    species = find_species("red maple")
    with pytest.raises(BadInput, match="at least 2"):
        crown_allowance(0.01, crown_relation(species, 0.01), species.kind, 0.6)
