"""Cords, piles, debris formulas, bulk densities and road limits against published values; loads against all ways."""

from __future__ import annotations

import math
from functools import cache
from typing import Any

import pytest
from hypothesis import given as forall
from hypothesis import strategies as st
from tests.handbook.cases import Case, cases, judge, of_models
from tests.handbook.test_roof import MODELS as ROOF

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range
from bolewright.core.ground.haul import (
    CORD,
    CUBIC_FOOT,
    CUBIC_YARD,
    FOOT,
    POUND,
    SOLID_FIREWOOD,
    SOLID_PULPWOOD,
    THROWN_CORD,
    Carrier,
    Item,
    box_pile,
    bridge_limit,
    bulk_volume,
    face_cord,
    frustum_volume,
    house_debris,
    pack,
    shed_debris,
    stacked_volume,
    why_not,
)
from bolewright.reference.haul import PER_YARD, bulk_density, bulk_range, debris_factor, vehicle_mass

DEBRIS = {
    "hardwood/softwood vegetative, trucked": "hardwood brush, trucked",
    "softwood": "softwood brush, trucked",
    "15 trees of 8 in. diameter": "15 trees of 8 in",
    "chipping volume reduction": "brush over chips",
}


def house(given: dict[str, Any], _: str) -> float:
    return house_debris(given["L_ft"] * FOOT, given["W_ft"] * FOOT, given["stories"], given["VCM"]) / CUBIC_YARD


def shed(given: dict[str, Any], _: str) -> float:
    return shed_debris(*(given[side] * FOOT for side in ("L_ft", "W_ft", "H_ft"))) / CUBIC_YARD


def cord(given: dict[str, Any], quantity: str) -> float:
    gross = box_pile(*(side * FOOT for side in given["stack_ft"]))
    share = {"gross": 1.0, "solid_firewood": SOLID_FIREWOOD, "solid_pulpwood": SOLID_PULPWOOD}[quantity]
    return gross * share / CUBIC_FOOT


def acre(given: dict[str, Any], _: str) -> float:
    side = math.sqrt(given["area_acre"] * 43560.0) * FOOT
    return box_pile(given["height_ft"] * FOOT, side, side) / CUBIC_YARD


MODELS = {
    "debris_house": house,
    "debris_house_1000ft2": house,
    "debris_outbuilding": shed,
    "pile": acre,
    "pile_weight": lambda given, _: box_pile(*(side * FOOT for side in given["pile_ft"])) / CUBIC_YARD,
    "bulk_density": lambda given, _: bulk_density(given["material"]).value / PER_YARD,
    "cord": cord,
    "loose_pile": lambda given, _: THROWN_CORD / CUBIC_FOOT,
    "face_cord": lambda given, _: face_cord(given["piece_in"] / 12.0 * FOOT) / CUBIC_FOOT,
    "debris_factor": lambda given, _: debris_factor(DEBRIS[given["what"]]).value,
    "road_limit": lambda given, _: vehicle_mass(given["what"]).value / POUND,
    "bridge_formula": lambda given, _: bridge_limit(given["L_ft"] * FOOT, given["N_axles"]) / POUND,
    "payload_typical": lambda given, _: vehicle_mass(given["vehicle"]).value / POUND,
}


@pytest.mark.parametrize("case", of_models("roof_haul.csv", MODELS), ids=str)
def test_published(case: Case) -> None:
    judge(case, MODELS)


def test_every_row_of_the_table_is_taken() -> None:
    assert {case.model for case in cases("roof_haul.csv")} == set(MODELS) | set(ROOF)


def test_ranges_hold_the_published_densities() -> None:
    """Chips: Oregon DEQ 473 green, garden page 500 to 800, trade 400 up. Brush: 250 loose, 600 loose yard waste."""
    chips, brush = bulk_range("chips").value, bulk_range("brush").value
    for material in ("green wood chips", "wood chips, general low", "wood chips, general high"):
        assert chips.low <= bulk_density(material).value <= chips.high + 1e-9
    for material in ("loose yard debris", "yard waste, loose"):
        assert brush.low <= bulk_density(material).value <= brush.high + 1e-9


def test_cord_and_frustum() -> None:
    # definition: 128 cubic feet; firewood reference page: about 85 of them wood
    assert pytest.approx(128.0) == CORD / CUBIC_FOOT
    assert stacked_volume(85.0 * CUBIC_FOOT) == pytest.approx(CORD)
    # geometry: a cone holds a third of its cylinder
    assert frustum_volume(1.0, 0.0, 3.0) == pytest.approx(math.pi / 4.0)
    assert bulk_volume(Range(1.0, 2.0, 3.0), Range(1.0, 2.0, 4.0)) == Range(0.25, 1.0, 3.0)


ITEMS = st.lists(st.tuples(st.integers(1, 60), st.integers(1, 20)), max_size=9)


@forall(ITEMS)
def test_no_other_way_in_order_takes_fewer_loads(sizes: list[tuple[int, int]]) -> None:
    """Against every way of cutting the row of pieces into runs that fit."""
    items = [Item(f"p{n}", float(m), float(r), 1.0) for n, (m, r) in enumerate(sizes)]
    cart = Carrier("cart", 60.0, 25.0)

    @cache
    def least(start: int) -> int:
        if start == len(items):
            return 0
        best = len(items)
        for end in range(start + 1, len(items) + 1):
            if sum(i.mass for i in items[start:end]) <= 60.0 and sum(i.room for i in items[start:end]) <= 25.0:
                best = min(best, 1 + least(end))
        return best

    packed = pack(items, cart)
    assert len(packed.loads) == least(0)
    assert [name for load in packed.loads for name in load.items] == [item.id for item in items]
    assert sum(load.mass for load in packed.loads) == pytest.approx(sum(item.mass for item in items))


def test_what_fits_no_load_is_said() -> None:
    truck = Carrier("trailer", 900.0, 6.0, 3.0)
    packed = pack([Item("S1", 1000.0, 1.0, 2.0), Item("S2", 100.0, 1.0, 4.0), Item("b", 10.0, 7.0, 1.0)], truck)
    assert packed.loads == ()
    assert [name for name, _ in packed.left] == ["S1", "S2", "b"]
    assert "cut it in 2" in why_not(Item("S1", 1000.0, 1.0, 2.0), truck)
    with pytest.raises(BadInput):
        pack([], Carrier("nothing", 0.0))
