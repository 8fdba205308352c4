"""Money: exact, line by line, and every total the sum of the lines as printed."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bolewright.planning.haul.daywork import day_plan
from bolewright.planning.haul.out import out
from bolewright.planning.haul.price import TAGS, price
from bolewright.planning.haul.results import INSIDE, OUTSIDE

from .out_jobs import WHOLE, job

RESULT = out(job(WHOLE))
MONEY = st.decimals("0.01", "9999.99", places=2)


@given(MONEY, MONEY, MONEY, st.integers(0, 25))
def test_totals_are_the_sum_of_printed_lines(crew: Decimal, machine: Decimal, tip: Decimal, tax: int) -> None:
    """Quantity as printed times rate, to the cent, by Python's own decimals; nothing lost in between."""
    own = job(
        WHOLE, ('"185.00"', f'"{crew}"'), ('"60.00"', f'"{machine}"'), ('"85.50"', f'"{tip}"'), ("7 %", f"{tax} %")
    )
    found = price(own, RESULT)
    assert found is not None
    for end in range(3):
        for line in found.lines:
            exact = line.quantity[end] * line.rate
            assert abs(line.amount[end] - exact) <= Decimal("0.005")
            assert line.amount[end].as_tuple().exponent == -2
        before = sum((line.amount[end] for line in found.lines), Decimal(0))
        assert found.before_tax[end] == before
        assert sum((three[end] for _, three in found.by_tag), Decimal(0)) == before
        assert found.total[end] == before + found.tax[end]
        assert abs(found.tax[end] - before * tax / 100) <= Decimal("0.005")
    assert found.total[0] <= found.total[1] <= found.total[2]


def test_every_line_has_a_tag_of_its_own_kind() -> None:
    found = price(job(WHOLE), RESULT)
    assert found is not None
    assert {line.tag for line in found.lines} <= set(TAGS)
    tags = {line.what: line.tag for line in found.lines}
    assert tags["crew, secure"] == "A"
    assert tags["tip fee"] == tags["sheets laid and taken up"] == "C"
    fees = next(line for line in found.lines if line.what == "tip fee")
    assert fees.amount[1] == Decimal(int(RESULT.load_count.likely)) * Decimal("85.50")


def test_no_crew_rate_no_price() -> None:
    assert price(job(WHOLE, ('crew_hour = "185.00"\n', "")), RESULT) is None


def test_ceiling_in_words() -> None:
    for ceiling, words in (("99,000.00", "inside the ceiling set, at"), ("1.00", "outside the ceiling set as likely")):
        found = price(job(WHOLE, ("9,000.00", ceiling)), RESULT)
        assert found is not None
        assert words in found.words


def test_day_ends_when_the_hours_are_over() -> None:
    """Start 07:30 plus the likely hours, one step after another."""
    plan = day_plan(job(WHOLE), RESULT)
    assert plan.bars[0].start_h == 7.5
    for before, after in zip(plan.bars, plan.bars[1:], strict=False):
        assert after.start_h == pytest.approx(before.end_h)
    assert plan.bars[-1].end_h == pytest.approx(7.5 + RESULT.hours.likely)


def test_dark_moves_the_rest_to_the_next_day() -> None:
    """Two hours of light a day: as many days as hours over two, rounded up; no bar runs into the dark."""
    plan = day_plan(job(WHOLE + '\n[day]\nstart = "08:00"\nlight_until = "10:00"\n'), RESULT)
    assert plan.days_likely == -(-RESULT.hours.likely // 2)
    assert all(8.0 <= bar.start_h < bar.end_h <= 10.0 for bar in plan.bars)
    assert sum(bar.end_h - bar.start_h for bar in plan.bars) == pytest.approx(RESULT.hours.likely)
    assert plan.status == OUTSIDE


def test_wind_over_the_limit_keeps_off_the_ground() -> None:
    calm, windy = (
        day_plan(job(WHOLE + f'\n[day]\nwind = "{wind}"\nwind_limit = "25 mph"\n'), RESULT)
        for wind in ("18 mph", "30 mph")
    )
    assert (calm.status, windy.status) == (INSIDE, OUTSIDE)
    assert "no work off the ground" in windy.wind
