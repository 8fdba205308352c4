"""The bill and changes: decimals worked by hand beside each."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bolewright.job.read import loads
from bolewright.planning.haul.bill import bill, changes

HEAD = 'schema = 1\n[job]\ntitle = "Oak"\n[tree]\nspecies = "oak"\nattached = "free"\n'
RATES = '[rates]\ncrew_hour = "185.00"\ntax = "7 %"\nceiling = "1000.00"\n'


def worked(step: str, hours: str) -> str:
    return f'[[worked]]\nstep = "{step}"\nhours = "{hours}"\n'


def test_hours_times_rate_and_sums_by_hand() -> None:
    """1.25 h + 45 min of cutting are 2.00 h x 185.00 = 370.00; tarp 140.00; tax 7 % of 510.00 is 35.70."""
    tarp = '[[billed]]\ntag = "protection"\nwhat = "tarp"\nquantity = "1"\nunit = "each"\nrate = "140.00"\n'
    made = bill(loads(HEAD + RATES + worked("cut", "1.25 h") + worked("cut", "45 min") + tarp))
    assert made is not None
    assert [(x.tag, x.quantity, x.amount) for x in made.lines] == [
        ("A", Decimal("2.00"), Decimal("370.00")),
        ("B", Decimal("1"), Decimal("140.00")),
    ]
    assert (made.before_tax, made.tax, made.total) == (Decimal("510.00"), Decimal("35.70"), Decimal("545.70"))
    assert made.words == "inside the ceiling agreed"


def test_half_a_cent_goes_up() -> None:
    """0.5 h x 185.01 = 92.505, printed 92.51."""
    made = bill(loads(HEAD + RATES.replace("185.00", "185.01") + worked("clean", "30 min")))
    assert made is not None
    assert made.lines[0].amount == Decimal("92.51")
    assert made.lines[0].tag == "C"


def test_no_bill_without_hours_or_rates() -> None:
    """A plan is no bill."""
    assert bill(loads(HEAD + RATES)) is None
    assert bill(loads(HEAD + worked("cut", "1 h"))) is None


def test_over_the_ceiling_is_said_and_changes_raise_it() -> None:
    """6 h are 1,110.00, 1,187.70 with tax: over 1,000.00. A change of 200.00 and 14.00 tax raises that to 1,214.00."""
    job = HEAD + RATES + worked("cut", "6 h")
    over = bill(loads(job))
    assert over is not None
    assert over.words.startswith("over the ceiling agreed")
    raised = bill(
        loads(job + '[[change]]\nid = "1"\nwhat = "bolt"\nprice = "200.00"\n[[change]]\nid = "2"\nwhat = "x"\n')
    )
    assert raised is not None
    assert raised.ceiling == Decimal("1214.00")
    assert raised.words == "inside the ceiling agreed"


def test_changes_without_a_price_are_named() -> None:
    """They are not counted as nothing."""
    found = changes(loads(HEAD + RATES + '[[change]]\nid = "1"\nwhat = "bolt"\n'))
    assert found.unpriced == ("1",)
    assert found.total == 0


@given(
    st.lists(st.tuples(st.integers(1, 99_999), st.integers(0, 9_999_999)), min_size=1, max_size=12),
    st.integers(0, 30),
)
def test_totals_are_sums_of_printed_lines(lines: list[tuple[int, int]], tax: int) -> None:
    """Whatever the lines: amounts have two places, sums by tag and before tax add them, tax is added once."""
    rows = "".join(
        f'[[billed]]\ntag = "{("make safe", "debris", "stump")[k % 3]}"\nwhat = "x"\nunit = "h"\n'
        f'quantity = "{q / 100:.2f}"\nrate = "{r / 100:.2f}"\n'
        for k, (q, r) in enumerate(lines)
    )
    made = bill(loads(f'{HEAD}[rates]\ntax = "{tax} %"\n{rows}'))
    assert made is not None
    assert all(line.amount == round(line.amount, 2) for line in made.lines)
    assert sum(line.amount for line in made.lines) == made.before_tax == sum(amount for _, amount in made.by_tag)
    assert made.total == made.before_tax + made.tax


@pytest.mark.parametrize("text", ['"2.555"', "true", '"-1"', '"a few"', "0", "[]"])
def test_how_many_is_a_plain_number(text: str) -> None:
    """One plain sentence for what is not."""
    from bolewright.job.faults import JobFaults

    row = f'[[billed]]\ntag = "stump"\nwhat = "x"\nunit = "h"\nquantity = {text}\nrate = "1.00"\n'
    with pytest.raises(JobFaults, match="plain number over 0"):
        loads(HEAD + row)
