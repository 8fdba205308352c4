"""Cribs against the published rescue figures."""

from __future__ import annotations

import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.base.sourced import Status
from bolewright.core.props.crib import (
    CRIB_STRESS,
    CRUSH_BEFORE_FAILURE,
    Crib,
    crib_capacity,
    crib_height_limit,
    crib_of_height,
    crib_stiffness,
    top_layer_capacity,
)
from bolewright.core.props.timber import INCH, PSI, Strengths

POUND = 4.4482216152605
FOOT = 12.0 * INCH


@pytest.mark.parametrize(
    ("inches", "members", "pounds"),
    [
        (3.5, 2, 24000.0),  # Firehouse (2011) shoring part 1: 4x4, four contacts
        (5.5, 2, 60000.0),  # the same: 6x6, four contacts
        (3.5, 3, 54000.0),  # course value quoted on a fire service forum: 4x4, three a layer
        (5.5, 3, 135000.0),  # from memory, sanity range: 9 contacts of 15,000 lb
        (7.5, 2, 112000.0),  # from memory, sanity range: 4 contacts of 28,000 lb
    ],
)
def test_published_crib_loads(inches: float, members: int, pounds: float) -> None:
    assert crib_capacity(inches * INCH, members) / POUND == pytest.approx(pounds, rel=0.03)


def test_one_crossing_of_four_by_four() -> None:
    # 6,000 lb for each contact, citing FEMA practice
    assert crib_capacity(3.5 * INCH, 2, carries=1) / POUND == pytest.approx(6000.0, rel=0.03)


def test_a_missing_crossing_is_dropped_and_a_log_is_on_two() -> None:
    full = crib_capacity(3.5 * INCH, 2)
    assert crib_capacity(3.5 * INCH, 2, missing=1) == pytest.approx(0.75 * full)
    assert crib_capacity(3.5 * INCH, 2, carries=2) == pytest.approx(0.5 * full)
    assert crib_capacity(3.5 * INCH, 2, missing=3, carries=2) == pytest.approx(0.25 * full)
    with pytest.raises(BadInput, match="crossing"):
        crib_capacity(3.5 * INCH, 2, missing=4)


def test_height_limits() -> None:
    # Firehouse (2011): not above three times the width; encyclopedia page on box cribs: 4x4 about 4 ft, 6x6 about 6 ft
    assert crib_height_limit(3.5 * INCH, 1.0 * FOOT) == pytest.approx(3.0 * FOOT)
    assert crib_height_limit(3.5 * INCH, 3.0 * FOOT) == pytest.approx(4.0 * FOOT)
    assert crib_height_limit(5.5 * INCH, 3.0 * FOOT) == pytest.approx(6.0 * FOOT)


def test_a_built_crib_keeps_the_published_proportions() -> None:
    crib = crib_of_height(3.5 * INCH, 3.0 * FOOT)
    assert crib.layers == 10  # 36 / 3.5 = 10.3
    assert crib.height <= 3.0 * FOOT < crib.height + crib.side
    assert crib.height <= 3.0 * crib.width
    overhang = 0.5 * (crib.stick - crib.width - crib.side)
    assert overhang == pytest.approx(crib.side)  # at least the depth of the timber past each crossing
    assert CRUSH_BEFORE_FAILURE == 0.2  # cribbing question-and-answer page: up to 20 % before failing
    with pytest.raises(BadInput, match="no room"):
        crib_of_height(5.5 * INCH, 0.2)


def test_top_stick_as_a_simple_beam() -> None:
    # P L / 4 = Fb b^3 / 6 for one 4x4 of 16 in: 4 x 1000 x 42.875 / 6 / 16 = 1786.5 lb
    wood = Strengths(1000.0 * PSI, 0.0, 1e9, 0.0, 0.0, 0.0, 0.0, "test", Status.CONFIRMED)
    crib = Crib(3.5 * INCH, 2, 16.0 * INCH, 5, 26.5 * INCH)
    assert top_layer_capacity(crib, wood, 1) / POUND == pytest.approx(1786.46, rel=1e-4)
    assert top_layer_capacity(crib, wood, 4) == pytest.approx(4.0 * top_layer_capacity(crib, wood, 1))
    # v = 1.5 (P/2) / A: P = 2 x 180 x 12.25 / 1.5 = 2940 lb where shear governs
    weak = Strengths(1e9, 0.0, 180.0 * PSI, 0.0, 0.0, 0.0, 0.0, "test", Status.CONFIRMED)
    assert top_layer_capacity(crib, weak, 1) / POUND == pytest.approx(2940.0, rel=1e-9)


def test_settling_is_one_dent_for_each_layer_of_crossings() -> None:
    crib = Crib(3.5 * INCH, 2, 16.0 * INCH, 5, 26.5 * INCH)
    load = 2.0 * crib.side**2 * CRIB_STRESS
    assert load / crib_stiffness(crib) == pytest.approx(4 * 0.04 * INCH)
