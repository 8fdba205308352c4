"""The density columns of the species table against their sources, and the spread rules against measured residuals.

Sources: Miles and Smith 2009, NRS-38, as a printed list of wood plus bark weights (lb per ft3 of wood); Wood handbook
FPL-GTR-282, Eq. 4-3 and Table 4-1. The mean-moisture check uses the two columns of Table 4-1 in our table.
"""

from __future__ import annotations

import csv
import math
from pathlib import Path

import numpy as np
import pytest

from bolewright.core.base.sourced import Status
from bolewright.core.wood import density_range, green_density, log_density, saturated_density
from bolewright.reference import Species, all_species, find_species
from bolewright.reference.tables import table

DATA = Path(__file__).parent / "data" / "wood_plus_bark_weights.csv"
PRINTED = list(csv.DictReader(DATA.read_text(encoding="utf-8").splitlines()))
KG_PER_M3 = 16.018463
RULES = {row["rule"]: (float(row["low_factor"]), float(row["high_factor"])) for row in table("density_spread.csv")}


def bark_density(row: Species) -> float:
    """Green density of the bark of a row."""
    return float(green_density(row.bark_specific_gravity.value, row.bark_moisture.value))


def exact_log_density(row: Species, moisture: float | None = None) -> float:
    """Log density of a row from its own columns, or with another wood moisture."""
    wood = green_density(row.specific_gravity.value, row.wood_moisture.value if moisture is None else moisture)
    return float(log_density(wood, bark_density(row), row.bark_share.value))


@pytest.mark.parametrize("printed", PRINTED, ids=lambda row: row["species"])
def test_wood_plus_bark_against_the_printed_list(printed: dict[str, str]) -> None:
    """41 printed weights of wood with its bark, per ft3 of wood: ours times (1 + bark share), to the printed pound."""
    row = find_species(printed["scientific_name"])
    ours = exact_log_density(row) * (1.0 + row.bark_share.value) / KG_PER_M3
    assert ours == pytest.approx(float(printed["lb_per_ft3_of_wood"]), abs=0.75)


def test_saturated_density_by_hand() -> None:
    """Wood handbook Eq. 4-3: at specific gravity 0.50 the moisture limit is 135 %, so 1175 kg/m3."""
    assert float(saturated_density(0.5)) == pytest.approx(500.0 * (1.0 + (1.54 - 0.5) / (1.54 * 0.5)), rel=1e-12)
    assert float(saturated_density(0.5)) == pytest.approx(1175.0, abs=1.0)


@pytest.mark.parametrize("row", all_species(), ids=lambda row: row.common_name)
def test_columns_agree_with_each_other(row: Species) -> None:
    """Wood and log density follow from specific gravity, moisture and bark; nothing is wetter than can be."""
    wood = float(green_density(row.specific_gravity.value, row.wood_moisture.value))
    assert row.green_wood_density.value == pytest.approx(wood, abs=1.0)
    assert row.log_density.value.likely == pytest.approx(exact_log_density(row), abs=1.0)
    assert wood <= float(saturated_density(row.specific_gravity.value))
    bark = 1000.0 * row.bark_specific_gravity.value * (1.0 + row.bark_moisture.value)
    full = log_density(saturated_density(row.specific_gravity.value),
                       saturated_density(row.bark_specific_gravity.value), row.bark_share.value)  # fmt: skip
    low, high = RULES[row.spread_rule]
    known = (row.lightest_published.value, row.heaviest_published.value)
    found = density_range(exact_log_density(row), low, high, known, float(full))
    assert row.log_density.value.low == pytest.approx(found.low, abs=1.5)
    assert row.log_density.value.high == pytest.approx(found.high, abs=1.5)
    assert bark > 0.0


def moisture_ratios(kind: str) -> list[float]:
    """Wood density by Table 4-1 over that of the old weight table, species with both values of Table 4-1."""
    found = []
    for row in all_species():
        if row.spread_rule != f"old-weights-{kind}" or row.heartwood_moisture is None or row.sapwood_moisture is None:
            continue
        apart = 0.5 * (row.heartwood_moisture.value + row.sapwood_moisture.value)
        found.append((1.0 + apart) / (1.0 + row.wood_moisture.value))
    return found


@pytest.mark.parametrize(("kind", "count"), [("broadleaf", 25), ("conifer", 23)])
def test_old_weight_rules_cover_the_residuals(kind: str, count: int) -> None:
    """The spread of the commonest two rules is the 5 and 95 % point of what Table 4-1 says of the same species."""
    ratios = moisture_ratios(kind)
    assert len(ratios) == count
    low, high = RULES[f"old-weights-{kind}"]
    five, ninety_five = np.percentile(ratios, (5, 95))
    assert high == pytest.approx(ninety_five, abs=0.03)
    assert low <= five + 0.03
    inside = np.mean([low <= ratio <= high for ratio in ratios])
    assert inside >= 0.9


@pytest.mark.parametrize("kind", ["broadleaf", "conifer"])
def test_genus_rules_join_two_spreads(kind: str) -> None:
    """Spread between species of a genus and the spread of a species, as independent lognormals."""
    groups: dict[str, list[float]] = {}
    for row in all_species():
        own = row.spread_rule.split("-")[0] in ("old", "heart", "green", "modelled")
        if own and row.rank == "species" and row.kind == kind and row.genus != "Ginkgo":
            groups.setdefault(row.genus, []).append(math.log(row.log_density.value.likely))
    deviations = [d for logs in groups.values() if len(logs) >= 3 for d in scaled_squares(logs)]
    between = 1.645 * math.sqrt(float(np.mean(deviations)))
    species_low, species_high = RULES[f"old-weights-{kind}"]
    low, high = RULES[f"genus-{kind}"]
    assert low == pytest.approx(math.exp(-math.hypot(math.log(species_low), between)), abs=0.02)
    assert high == pytest.approx(math.exp(math.hypot(math.log(species_high), between)), abs=0.02)


def scaled_squares(logs: list[float]) -> list[float]:
    """Squared deviations from the mean, scaled so that their mean estimates the variance."""
    middle, n = float(np.mean(logs)), len(logs)
    return [(value - middle) ** 2 * n / (n - 1) for value in logs]


def test_modelled_moisture_is_what_it_says() -> None:
    """Rows without measured moisture: r times the saturation moisture of Eq. 4-3, r 0.61, 0.49 or 0.42."""
    share = {"modelled-broadleaf": 0.61, "modelled-pine": 0.49, "modelled-conifer": 0.42}
    rows = [row for row in all_species() if row.wood_moisture.source == "MOISTURE-FIT"]
    assert len(rows) == 73
    for row in rows:
        limit = (1.54 - row.specific_gravity.value) / (1.54 * row.specific_gravity.value)
        assert row.wood_moisture.value == pytest.approx(share[row.spread_rule] * limit, abs=0.03)
        assert row.log_density.status is Status.ESTIMATE


@pytest.mark.parametrize(
    ("name", "wood", "log"),
    [
        ("white oak", 1010, 1016), ("northern red oak", 1026, 1071), ("live oak", 1218, 1182),
        ("sugar maple", 881, 901), ("red maple", 801, 823), ("silver maple", 737, 760), ("green ash", 833, 831),
        ("American elm", 892, 879), ("American sycamore", 833, 854), ("sweetgum", 801, 801),
        ("yellow-poplar", 780, 791), ("eastern cottonwood", 801, 764), ("loblolly pine", 849, 822),
        ("eastern white pine", 561, 594),
    ],
)  # fmt: skip
def test_common_trees(name: str, wood: float, log: float) -> None:
    """Green wood and log density that the Forest Inventory's REF_SPECIES table gives for common trees, kg/m3."""
    row = find_species(name)
    assert row.green_wood_density.value == pytest.approx(wood, abs=1.0)
    assert row.log_density.value.likely == pytest.approx(log, abs=1.0)
