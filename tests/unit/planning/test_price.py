"""Money: exact, line by line, and every total the sum of the lines as printed."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range
from bolewright.planning.haul.change import change
from bolewright.planning.haul.daywork import day_plan
from bolewright.planning.haul.out import out
from bolewright.planning.haul.price import TAGS, price
from bolewright.planning.haul.results import INSIDE, OUTSIDE

from .out_jobs import WHOLE, job

RESULTS = {payload: out(job(WHOLE, ("310 kg", payload))) for payload in ("310 kg", "150 kg")}
RESULT = RESULTS["310 kg"]
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
    assert tags["tip fee, logs"] == tags["sheets laid and taken up"] == "C"
    fees = next(line for line in found.lines if line.what == "tip fee, logs")
    assert fees.amount[1] == Decimal(int(RESULT.load_count.likely)) * Decimal("85.50")


EXTRA = """
[[rates.extra]]
tag = "{}"
what = "{}"
quantity = "{}"
rate = "{}"
taken = {}
"""


def test_lines_entered_by_hand_have_the_tag_given() -> None:
    """3 h of tarping at 61.15 is 183.45; an offer counts in no sum until it is taken."""
    tarp = EXTRA.format("protection", "Tarp over the hole", "3", "61.15", "false")
    offers = [EXTRA.format("optional", "Stump ground out", "2", "240", word) for word in ("false", "true")]
    found, taken = (price(job(WHOLE + tarp + offer), RESULT) for offer in offers)
    plain = price(job(WHOLE), RESULT)
    assert found is not None
    assert taken is not None
    assert plain is not None
    assert dict(found.by_tag)["B"] == (Decimal("183.45"),) * 3
    assert [end - before for end, before in zip(found.before_tax, plain.before_tax, strict=True)] == [
        Decimal("183.45")
    ] * 3
    assert [(line.what, line.amount[1]) for line in found.options] == [("Stump ground out", Decimal("480.00"))]
    assert taken.options == ()
    assert dict(taken.by_tag)["F"][1] == Decimal("480.00")
    assert taken.before_tax[1] == found.before_tax[1] + Decimal("480.00")


def test_tip_fees_by_load_weight_and_room() -> None:
    """1 short ton is 907.18474 kg: logs of the example at 42.00 a ton, as printed to two places."""
    by_ton = job(WHOLE, ('length = "10 ft"\n', 'length = "10 ft"\ntip = "42.00"\ntip_by = "short ton"\n'))
    found = price(by_ton, RESULT)
    assert found is not None
    (line,) = (line for line in found.lines if line.what == "tip fee, logs")
    logs = next(one for one in RESULT.materials if one.kind == "logs")
    assert line.unit == "tons"
    assert float(line.quantity[1]) == pytest.approx(logs.mass_kg.likely / 907.18474, abs=0.005)
    assert line.amount[1] == (line.quantity[1] * 42).quantize(Decimal("0.01"))


def test_the_crane_is_paid_only_when_the_plan_lifts() -> None:
    """Two picks of 8 to 30 minutes are less than the four hours that have to be paid; coming and going on top."""
    own = job(WHOLE, ('tax = "7 %"', 'tax = "7 %"\ncrane_hour = "240.50"\ncrane_least = "4 h"\ncrane_fixed = "380"'))
    still = price(own, RESULT)
    lifts = price(own, replace(RESULT, crane_hours=Range(0.27, 0.5, 1.0)))
    assert still is not None
    assert lifts is not None
    assert not [line for line in still.lines if "crane" in line.what]
    crane = [(line.what, line.amount) for line in lifts.lines if "crane" in line.what]
    assert crane == [("crane", (Decimal("962.00"),) * 3), ("crane, coming and going", (Decimal("380.00"),) * 3)]


@given(MONEY, MONEY, st.integers(0, 25), st.sampled_from(("310 kg", "150 kg")), st.booleans())
def test_a_change_adds_up_line_by_line(old: Decimal, new: Decimal, tax: int, payload: str, tarp: bool) -> None:
    """Differences as printed add up to the difference of the sums, at every end and in every tag."""
    first = job(WHOLE, ('"185.00"', f'"{old}"'))
    extra = EXTRA.format("protection", "Tarp", "1", "55.55", "false") if tarp else ""
    second = job(WHOLE + extra, ('"185.00"', f'"{new}"'), ("7 %", f"{tax} %"), ("310 kg", payload))
    before, after = price(first, RESULT), price(second, RESULTS[payload])
    assert before is not None
    assert after is not None
    found = change(before, after)
    for end in range(3):
        assert sum((line.difference[end] for line in found.lines), Decimal(0)) == found.before_tax[end]
        assert sum((three[end] for _, three in found.by_tag), Decimal(0)) == found.before_tax[end]
        assert found.before_tax[end] == after.before_tax[end] - before.before_tax[end]
        assert found.total[end] == found.before_tax[end] + found.tax[end]
        assert found.new_total[end] == found.old_total[end] + found.total[end]
    words = {line.what: line.word for line in found.lines}
    assert words.get("Tarp") == ("added" if tarp else None)
    assert len(found.lines) == len({(line.tag, line.what) for line in (*before.lines, *after.lines)})


def test_nothing_changed_and_other_money() -> None:
    same = price(job(WHOLE), RESULT)
    assert same is not None
    found = change(same, same)
    assert {line.word for line in found.lines} == {"as before"}
    assert found.total == (Decimal(0),) * 3
    fewer = change(same, replace(same, lines=same.lines[1:])).lines
    assert [line.what for line in fewer if line.word == "dropped"] == [same.lines[0].what]
    with pytest.raises(BadInput, match="cannot be set against each other"):
        change(same, replace(same, currency="EUR"))


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
