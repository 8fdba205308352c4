"""The shipped tables: complete, sourced, in range."""

from __future__ import annotations

import pytest

from bolewright.core.base.sourced import Status
from bolewright.reference import all_species, biomass_groups, citations, cite, crown_relation, crown_share, find_species
from bolewright.reference.tables import table


def test_size_of_the_table() -> None:
    """At least 150 rows, with genera and two classes to fall back on."""
    ranks = [row.rank for row in all_species()]
    assert ranks.count("species") >= 150
    assert ranks.count("genus") >= 25
    assert ranks.count("class") == 2


def test_every_value_has_a_source_and_a_status() -> None:
    """Each filled number cell of species.csv has a known key and a status word beside it."""
    for row in table("species.csv"):
        for column, text in row.items():
            if column.endswith("_source") and row[column.removesuffix("_source") + "_source"]:
                cite(text)
            if column.endswith("_status") and text:
                Status(text)
        for name in ("specific_gravity", "bending_strength_MPa", "stiffness_GPa"):
            assert row[name]
            assert row[f"{name}_source"]
            assert row[f"{name}_status"]


def test_no_source_is_listed_for_nothing_and_none_is_missing() -> None:
    """sources.csv and the tables name the same keys."""
    used = set()
    for name in ("species.csv", "biomass_groups.csv", "biomass_ratios.csv", "crown_shares.csv"):
        for row in table(name):
            for column, text in row.items():
                if column.endswith("source") and text:
                    used.update(text.split(" + "))
    assert used <= set(citations())


def test_recalled_strength_keeps_its_mark() -> None:
    """Values recalled and not looked up say so, all the way to the object."""
    row = find_species("silver maple")
    assert row.bending_strength.status is Status.MEMORY
    assert row.log_density.status is Status.CONFIRMED
    recalled = [row for row in all_species() if row.bending_strength.source == "FPL-RECALLED"]
    assert len(recalled) == 68
    assert all(row.bending_strength.status is Status.MEMORY for row in recalled)


def test_values_are_in_the_range_of_wood() -> None:
    """SI numbers that a green tree can have; catches a slip of unit in any row."""
    for row in all_species():
        assert 0.2 < row.specific_gravity.value < 1.0
        assert 0.15 < row.wood_moisture.value < 2.5
        assert 0.03 < row.bark_share.value < 0.30
        assert 400.0 < row.log_density.value.low <= row.log_density.value.high <= 1300.0
        assert 20e6 < row.bending_strength.value < 130e6
        assert 3e9 < row.stiffness.value < 20e9
        assert 9e6 < row.compression_parallel.value < 75e6
        assert 3e6 < row.shear_parallel.value < 18e6
        assert row.crown_group in biomass_groups()


@pytest.mark.parametrize(("dbh", "n"), [(0.05, 63), (0.10, 63), (0.20, 52), (0.349, 52), (0.35, 46), (1.5, 46)])
def test_crown_class_by_diameter(dbh: float, n: int) -> None:
    """The class that holds the diameter; the end classes reach beyond the table."""
    assert crown_share("broadleaf", dbh).n == n


def test_crown_relation_says_how_far_it_reaches() -> None:
    """The smaller of the two limits, and both sources."""
    relation = crown_relation(find_species("red maple"), 0.4)
    assert relation.largest_dbh == pytest.approx(0.66)
    assert relation.source == "JENKINS2003 + BAAD2015"
    assert relation.status is Status.ESTIMATE
