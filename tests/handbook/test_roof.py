"""Roof loads, material weights, friction and sliding on a roof against published values."""

from __future__ import annotations

import math
from typing import Any

import pytest
from tests.handbook.cases import Case, judge, of_models

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range
from bolewright.core.lifting.drag import holding_back
from bolewright.core.props.roof import PSF, SQUARE_FOOT, roof_live_load
from bolewright.reference.haul import roof_value
from bolewright.reference.rigging import rigging

PAIRS = {
    "wood on metal": "wood on metal",
    "wood on wood": "wood on wood",
    "wood on metal (rule value)": "wood on metal, rule",
    "wood on concrete": "wood on concrete",
    "sled/stoneboat on soil, log drag": "stoneboat on soil",
    "wood dry on hard smooth surface, kinetic": "dry wood, sliding on a hard smooth surface",
    "wood at intermediate moisture, kinetic": "moist wood, sliding",
    "wood near fibre saturation, kinetic": "green wood, sliding",
    "log skidding on soil": "log on soil or lawn",
    "wood/bark on asphalt shingle": "bark on asphalt shingle",
}
LIVE = {"flat/pitched/curved, unreduced": "live, flat or pitched", ">4:12, HUD guide": "live, steeper than 4:12"}


def friction(given: dict[str, Any], quantity: str) -> float:
    found: Range = rigging("drag friction", PAIRS[given["pair"]]).value
    return found.low if quantity == "mu_low" else found.high


def sliding(given: dict[str, Any], _: str) -> float:
    return holding_back(1.0, given["mu"], math.atan(given["rise_in_12"] / 12.0))


MODELS = {
    "roof_live": lambda given, _: roof_value(LIVE[given["slope"]]).value,
    "roof_concentrated": lambda given, _: roof_value("concentrated, maintenance").value,
    "roof_live_reduction": lambda given, _: roof_live_load(given["A_t_ft2"] * SQUARE_FOOT, given["rise_in_12"]) / PSF,
    "quick_weight": lambda given, _: roof_value(given["material"]).value,
    "roof_dead": lambda given, _: roof_value("dead, asphalt shingle roof").value,
    "dead_component": lambda given, _: roof_value(given["what"]).value,
    "friction_range": friction,
    "slides_on_roof": sliding,
}


@pytest.mark.parametrize("case", of_models("roof_haul.csv", MODELS), ids=str)
def test_published(case: Case) -> None:
    judge(case, MODELS)


def test_friction_on_shingle_is_taken_wide_and_marked() -> None:
    found = rigging("drag friction", "bark on asphalt shingle")
    assert (found.value.low, found.value.high) == (0.3, 0.7)
    assert found.status == "common practice"


def test_nonsense_is_refused() -> None:
    with pytest.raises(BadInput):
        roof_live_load(-1.0, 4.0)
    with pytest.raises(BadInput):
        roof_value("thatch")
