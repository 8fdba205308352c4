"""A population of mature trees against the published table of wind and damage: a band of plausibility, not a proof.

Source: Environment Canada, Enhanced Fujita scale damage indicators, chapter 27, Trees: 3-second gusts at which up to
20 %, more than 20, 50 and 80 % of mature trees are down, each with its lower and upper bound. The population is made
up: yard and street trees of eight kinds, 35 to 90 cm thick, some leaning, none decayed, in a suburb.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from bolewright.core.standing.failing import gust_to_break, gust_to_uproot
from bolewright.core.standing.unknowns import draw_unknowns
from bolewright.job.read import from_tables
from bolewright.planning.standing.case import whole_of
from bolewright.reference.standing import damage_table

KINDS = (
    "northern red oak", "red maple", "sugar maple", "American beech",
    "green ash", "sweetgum", "eastern white pine", "loblolly pine",
)  # fmt: skip
PRINTED = [(70, 55, 85), (90, 65, 110), (115, 80, 150), (150, 105, 190), (190, 145, 230), (235, 190, 275)]


def a_tree(draw: np.random.Generator) -> dict[str, Any]:
    """One tree of the population."""
    thick = draw.uniform(0.35, 0.9)
    height = draw.uniform(14.0, 24.0) * (thick / 0.6) ** 0.35
    return {
        "schema": 1,
        "job": {"title": "population"},
        "tree": {"species": KINDS[draw.integers(len(KINDS))], "attached": "standing", "dbh": f"{thick:.3f} m"},
        "standing": {
            "height": f"{height:.2f} m",
            "crown_width": f"{draw.uniform(0.4, 0.65) * height:.2f} m",
            "crown_base": f"{draw.uniform(0.2, 0.4) * height:.2f} m",
            "lean": f"{abs(draw.normal(0.0, 4.0)):.1f} deg",
            "lean_towards": "N",
            "terrain": "suburb",
        },
    }


@pytest.fixture(scope="module")
def failing_km_h() -> np.ndarray:
    """Gusts at which the population fails, 40 trees with 32 samples each."""
    draw = np.random.default_rng(3)
    found = []
    for _ in range(40):
        whole = whole_of(from_tables(a_tree(draw)))
        samples = draw_unknowns(whole.unknowns, 8, 4, draw)
        stem = gust_to_break(whole.case, samples, 0.0).min(axis=1)
        found.append(np.minimum(stem, gust_to_uproot(whole.case, samples, 0.0)))
    return np.concatenate(found) * 3.6


def test_shipped_table_is_as_printed() -> None:
    """Expected, lower and upper gust of the six degrees."""
    rows = [(row.gust.likely, row.gust.low, row.gust.high) for row in damage_table()]
    np.testing.assert_allclose(np.array(rows) * 3.6, PRINTED)


@pytest.mark.parametrize(("share", "degrees"), [(20, (3, 4)), (50, (5, 5)), (80, (6, 6))])
def test_shares_down_lie_within_the_published_bounds(
    failing_km_h: np.ndarray, share: int, degrees: tuple[int, int]
) -> None:
    """The gust with a fifth, half and four fifths down, between the lower and upper bound of its degrees."""
    gust = float(np.percentile(failing_km_h, share))
    assert PRINTED[degrees[0] - 1][1] <= gust <= PRINTED[degrees[1] - 1][2]


def test_ends_of_the_table(failing_km_h: np.ndarray) -> None:
    """At the lower bound of "up to 20 % down" no more than that; at the upper bound of "more than 80 %", more."""
    assert np.mean(failing_km_h <= PRINTED[2][1]) <= 0.20
    assert np.mean(failing_km_h <= PRINTED[5][2]) >= 0.80
