"""Price from hours and the company's own rates, in decimals: every line tagged, totals the sum of the lines printed.

What a policy pays is not worked out here or anywhere: the tags only keep apart what insurers and owners ask apart.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal

from bolewright.core.base.range import Range
from bolewright.job.model import Job
from bolewright.job.out import Load
from bolewright.job.rates import Extra
from bolewright.planning.haul.out import out
from bolewright.planning.haul.results import OutResult, Tipped
from bolewright.planning.results import CutsResult
from bolewright.planning.weigh import weigh

CENT, HUNDREDTH = Decimal("0.01"), Decimal("0.01")
TAGS = {
    "A": "make safe and off the structure",
    "B": "temporary protection",
    "C": "debris",
    "D": "other trees",
    "E": "stump",
    "F": "optional",
}
KINDS = dict(zip(("make safe", "protection", "debris", "other trees", "stump", "optional"), TAGS, strict=True))
PER = {"short ton": ("tons", 907.18474), "tonne": ("tonnes", 1000.0)}  # kg
PER_ROOM = {"cubic yard": ("cubic yards", 0.764554857984), "cubic metre": ("cubic metres", 1.0)}  # m3
HOUR = 3600.0
STEP_TAGS = {"set-up": "A", "secure": "A", "cut": "A", "lower": "A", "move": "C", "load": "C", "clean": "C"}
Three = tuple[Decimal, Decimal, Decimal]


@dataclass(frozen=True)
class Line:
    """One line as printed: quantity to two places, rate, and amount to the cent; each low, likely and high."""

    tag: str
    what: str
    unit: str
    quantity: Three
    rate: Decimal
    amount: Three


@dataclass(frozen=True)
class Price:
    """All lines with their sums: by tag, before tax, tax, and in all."""

    currency: str
    lines: tuple[Line, ...]
    by_tag: tuple[tuple[str, Three], ...]
    before_tax: Three
    tax: Three
    total: Three
    ceiling: Decimal | None
    words: str
    options: tuple[Line, ...] = ()  # offered and not taken: in no sum


@dataclass(frozen=True)
class Way:
    """One way of doing the job, priced."""

    title: str
    status: str
    price: Price


def in_money(amount: Decimal, currency: str) -> str:
    """A sum with its currency, "$1,234.50" or "EUR 1,234.50"; two places, more only where a rate has them."""
    exponent = amount.as_tuple().exponent
    places = max(2, -exponent if isinstance(exponent, int) else 2)
    gap = " " if currency[-1:].isalnum() else ""
    return f"{'-' if amount < 0 else ''}{currency}{gap}{abs(amount):,.{places}f}"


def price(job: Job, result: OutResult) -> Price | None:
    """The price of getting the job done as worked out, None without a crew rate.

    Each line is quantity as printed times rate, rounded half up to the cent; sums add the lines as printed.
    """
    if job.rates.crew_hour is None:
        return None
    extras = [(one, _extra(one)) for one in job.rates.extra]
    counted = [line for one, line in extras if one.tag != "optional" or one.taken]
    every = [*_lines(job, result), *counted]
    lines = tuple(sorted((line for line in every if line.quantity[2] > 0), key=lambda line: line.tag))
    before = _sum(line.amount for line in lines)
    share = Decimal(str(round(job.rates.tax.likely, 6))) if job.rates.tax is not None else Decimal(0)
    tax = _each(before, lambda amount: _cents(amount * share))
    total = _sum((before, tax))
    tags = tuple((tag, _sum(line.amount for line in lines if line.tag == tag)) for tag in TAGS)
    return Price(
        job.rates.currency,
        lines,
        tuple(pair for pair in tags if any(pair[1])),
        before,
        tax,
        total,
        job.rates.ceiling,
        _against(total, job.rates.ceiling),
        tuple(line for one, line in extras if line not in counted),
    )


def priced_ways(job: Job, cut: CutsResult) -> tuple[Way, ...]:
    """Every plan of the cut order priced side by side, the chosen one first; plans that found no order are left out."""
    weighed = weigh(job)
    found = []
    for plan in (cut.chosen, *cut.alternatives):
        if plan.status != "plan":
            continue
        result = out(job, replace(cut, chosen=plan, status="plan"), weighed)
        priced = price(job, result)
        if priced is not None:
            found.append(Way(plan.title, result.status, priced))
    return tuple(found)


def _lines(job: Job, result: OutResult) -> Iterable[Line]:
    rates = job.rates
    assert rates.crew_hour is not None
    for step in result.steps:
        yield _line(STEP_TAGS[step.step], f"crew, {step.step}", "h", step.hours, rates.crew_hour)
    hauling = _range_sum([step.hours for step in result.steps if step.step in ("move", "load")])
    if rates.machine_hour is not None and result.machine != "by hand":
        yield _line("C", result.machine, "h", hauling, rates.machine_hour)
    yield from _crane(job, result)
    if rates.sheet is not None:
        yield _line("C", "sheets laid and taken up", "sheets", Range.exact(float(result.sheets)), rates.sheet)
    trucks = {truck.name: truck for truck in job.load}
    for one in result.tipped:
        yield from _tip(trucks[one.carrier], one, rates.tip_load)


def _crane(job: Job, result: OutResult) -> Iterable[Line]:
    """The crane where the plan lifts with it: its hours, paid for the least time at least, and its coming and going."""
    rates, hours = job.rates, result.crane_hours
    if hours.high <= 0.0:
        return
    if rates.crane_hour is not None:
        least = rates.crane_least.likely / HOUR if rates.crane_least is not None else 0.0
        paid = Range(max(hours.low, least), max(hours.likely, least), max(hours.high, least))
        yield _line("A", "crane", "h", paid, rates.crane_hour)
    if rates.crane_fixed is not None:
        yield _line("A", "crane, coming and going", "times", Range.exact(1.0), rates.crane_fixed)


def _tip(truck: Load, taken: Tipped, usual: Decimal | None) -> Iterable[Line]:
    """The tip fee of one truck, by the load, by weight or by room."""
    fee = truck.tip if truck.tip is not None else usual
    if fee is None:
        return
    what = f"tip fee, {taken.kind}"
    by = truck.tip_by if truck.tip is not None else "load"
    if by in PER:
        yield _line("C", what, PER[by][0], taken.mass_kg.scaled(1.0 / PER[by][1]), fee)
    elif by in PER_ROOM:
        yield _line("C", what, PER_ROOM[by][0], taken.room_m3.scaled(1.0 / PER_ROOM[by][1]), fee)
    else:
        yield _line("C", what, "loads", taken.loads, fee)


def _extra(one: Extra) -> Line:
    """A line entered by hand."""
    much = one.quantity.quantize(HUNDREDTH, ROUND_HALF_UP)
    shown: Three = (much, much, much)
    amount = _each(shown, lambda value: _cents(value * one.rate))
    return Line(KINDS[one.tag], one.what, one.unit, shown, one.rate, amount)


def _line(tag: str, what: str, unit: str, quantity: Range, rate: Decimal) -> Line:
    three = (quantity.low, quantity.likely, quantity.high)
    printed = tuple(Decimal(repr(value)).quantize(HUNDREDTH, ROUND_HALF_UP) for value in three)
    shown: Three = (printed[0], printed[1], printed[2])
    return Line(tag, what, unit, shown, rate, _each(shown, lambda value: _cents(value * rate)))


def _each(three: Three, change: object) -> Three:
    assert callable(change)
    return change(three[0]), change(three[1]), change(three[2])


def _cents(amount: Decimal) -> Decimal:
    return amount.quantize(CENT, ROUND_HALF_UP)


def _sum(threes: Iterable[Three]) -> Three:
    low = likely = high = Decimal("0.00")
    for three in threes:
        low, likely, high = low + three[0], likely + three[1], high + three[2]
    return low, likely, high


def _range_sum(ranges: list[Range]) -> Range:
    return Range(sum(r.low for r in ranges), sum(r.likely for r in ranges), sum(r.high for r in ranges))


def _against(total: Three, ceiling: Decimal | None) -> str:
    if ceiling is None:
        return "no ceiling is set"
    if total[2] <= ceiling:
        return "inside the ceiling set, at its highest too"
    if total[1] <= ceiling:
        return "inside the ceiling set as likely, outside at its highest: a change order before it is passed"
    return "outside the ceiling set as likely: a change order before work starts"
