"""What was done, in money: the bill from hours worked, and changes with the price agreed for them.

Decimals throughout: an amount is the quantity printed times its rate, rounded half up to the cent; sums add the lines
as printed. Nothing here is an estimate, and nothing says what a policy pays.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from bolewright.job.model import Job
from bolewright.planning.haul.price import CENT, KINDS, STEP_TAGS, TAGS

HOUR = Decimal(3600)
NOTHING = Decimal("0.00")


@dataclass(frozen=True)
class BillLine:
    """One line as printed."""

    tag: str
    what: str
    unit: str
    quantity: Decimal
    rate: Decimal
    amount: Decimal


@dataclass(frozen=True)
class Bill:
    """All lines with their sums: by tag, before tax, tax, in all; and what that is against the ceiling agreed."""

    currency: str
    lines: tuple[BillLine, ...]
    by_tag: tuple[tuple[str, Decimal], ...]
    before_tax: Decimal
    tax: Decimal
    total: Decimal
    ceiling: Decimal | None  # with changes that have a price
    words: str


@dataclass(frozen=True)
class Changes:
    """Changes with a price, summed like a bill; before and after are the ceiling without and with them."""

    currency: str
    before_tax: Decimal
    tax: Decimal
    total: Decimal
    ceiling_before: Decimal | None
    ceiling_after: Decimal | None
    unpriced: tuple[str, ...]  # names of changes without a price


def bill(job: Job) -> Bill | None:
    """The bill from hours worked and lines entered; None while nothing was entered or hours have no rate."""
    lines = tuple(sorted(_lines(job), key=lambda line: line.tag))
    if not lines or (job.worked and job.rates.crew_hour is None):
        return None
    before = _total(line.amount for line in lines)
    tax = _tax(job, before)
    sums = tuple((tag, _total(line.amount for line in lines if line.tag == tag)) for tag in TAGS)
    ceiling = changes(job).ceiling_after
    return Bill(
        job.rates.currency,
        lines,
        tuple(pair for pair in sums if pair[1]),
        before,
        tax,
        before + tax,
        ceiling,
        _against(before + tax, ceiling),
    )


def changes(job: Job) -> Changes:
    """The changes of the job in money. A ceiling is raised by what changes add, tax included."""
    before = _total(change.price for change in job.change if change.price is not None)
    tax = _tax(job, before)
    ceiling = job.rates.ceiling
    return Changes(
        job.rates.currency,
        before,
        tax,
        before + tax,
        ceiling,
        None if ceiling is None else ceiling + before + tax,
        tuple(change.id for change in job.change if change.price is None),
    )


def _lines(job: Job) -> Iterable[BillLine]:
    """Hours worked of one step make one line; then the lines entered."""
    for step in dict.fromkeys(row.step for row in job.worked):
        seconds = sum(row.hours.likely for row in job.worked if row.step == step)
        hours = (Decimal(repr(seconds)) / HOUR).quantize(CENT, ROUND_HALF_UP)
        yield _line(STEP_TAGS[step], f"crew, {step}", "h", hours, job.rates.crew_hour or NOTHING)
    for row in job.billed:
        yield _line(KINDS[row.tag], row.what, row.unit, row.quantity, row.rate)


def _line(tag: str, what: str, unit: str, quantity: Decimal, rate: Decimal) -> BillLine:
    return BillLine(tag, what, unit, quantity, rate, (quantity * rate).quantize(CENT, ROUND_HALF_UP))


def _tax(job: Job, before: Decimal) -> Decimal:
    share = Decimal(str(round(job.rates.tax.likely, 6))) if job.rates.tax is not None else Decimal(0)
    return (before * share).quantize(CENT, ROUND_HALF_UP)


def _total(amounts: Iterable[Decimal]) -> Decimal:
    return sum((amount.quantize(CENT, ROUND_HALF_UP) for amount in amounts), NOTHING)


def _against(total: Decimal, ceiling: Decimal | None) -> str:
    if ceiling is None:
        return "no ceiling was agreed"
    if total <= ceiling:
        return "inside the ceiling agreed"
    return "over the ceiling agreed: the part above it needs a change order signed before that work was done"
