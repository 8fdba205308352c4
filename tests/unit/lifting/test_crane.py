"""Load charts: read as printed or refused; nothing read between the lines."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bolewright.core.base.errors import BadInput
from bolewright.core.lifting.crane import POUND, chart_of, gross_capacity, pick

CHART = "radius_ft,capacity_lb\n10,60000\n15,42000\n20,30500\n25,23000\n30,18000\n35,14000\n40,11500\n"


def test_between_two_lines_the_larger_radius_counts() -> None:
    chart = chart_of(CHART)
    assert gross_capacity(chart, 25 * 0.3048) == (pytest.approx(23000 * POUND), pytest.approx(25 * 0.3048))
    assert gross_capacity(chart, 25.1 * 0.3048)[0] == pytest.approx(18000 * POUND)
    assert gross_capacity(chart, 2.0)[0] == pytest.approx(60000 * POUND)


def test_metric_and_spaces_and_remarks() -> None:
    chart = chart_of("# 12 m boom\n radius_m , capacity_t\n3, 20\n4, 15\n\n5, 11\n")
    assert chart.radius == (3.0, 4.0, 5.0)
    assert chart.capacity[0] == pytest.approx(20 * 9806.65)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (("20,30500", "20,"), "Line 4 .* no capacity_lb"),
        (("20,30500", "20"), "Line 4 .* no capacity_lb"),
        (("20,30500", "20,lots"), '"lots" is not a number'),
        (("20,30500", "20,-5"), "not a number above zero"),
        (("20,30500", "20,nan"), "not a number above zero"),
        (("20,30500", "12,30500"), "radius must grow"),
        (("20,30500", "20,45000"), "cannot carry more"),
        (("20,30500\n25,23000\n30,18000\n", ""), "hole between radius 15 and 35"),
        (("radius_ft", "reach"), "one column called radius_ft"),
        (("capacity_lb", "radius_m"), "one column called"),
    ],
)
def test_a_faulty_chart_is_one_sentence(change: tuple[str, str], words: str) -> None:
    with pytest.raises(BadInput, match=words):
        chart_of(CHART.replace(*change))


def test_rigging_and_margin() -> None:
    # by hand: at 26 ft the 30 ft line holds, 18,000 lb less 700 lb rigging = 17,300 lb; 12,000 lb leaves 30.6 %
    chart = chart_of(CHART)
    found = pick(chart, 26 * 0.3048, 12000 * POUND, (500 * POUND, 200 * POUND), 0.25)
    assert found.net == pytest.approx(17300 * POUND)
    assert found.margin == pytest.approx(1 - 12000 / 17300)
    assert found.inside
    assert not pick(chart, 26 * 0.3048, 13500 * POUND, (500 * POUND, 200 * POUND), 0.25).inside
    with pytest.raises(BadInput, match="chart ends"):
        gross_capacity(chart, 45 * 0.3048)
    with pytest.raises(BadInput, match="nothing is left"):
        pick(chart, 12.0, 1.0, (11500 * POUND,), 0.25)


@given(st.floats(0.0, 12.19), st.floats(0.0, 12.19))
def test_farther_never_carries_more(near: float, far: float) -> None:
    chart = chart_of(CHART)
    assert gross_capacity(chart, max(near, far))[0] <= gross_capacity(chart, min(near, far))[0]
