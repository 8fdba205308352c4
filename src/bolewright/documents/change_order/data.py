"""What stands in the change order."""

from __future__ import annotations

from bolewright.documents.common import caution_block, parties, price_facts
from bolewright.documents.given import Given
from bolewright.documents.parts import (
    Section,
    entered,
    facts,
    figures,
    money,
    money_range,
    pair,
    section,
    sign,
    stop,
    table,
    words,
)
from bolewright.job.paperwork import Change, Terms
from bolewright.planning.haul.bill import changes
from bolewright.planning.haul.change import SAME, change, why
from bolewright.planning.haul.price import TAGS, Line

STATEMENT = (
    "I have read this change order whole and seen what it is about. I order the changed work at the sums named; the "
    "sum not to be exceeded is raised as printed."
)


def lacking(given: Given) -> list[str]:
    """Something that changed."""
    if given.job.change or _by_part(given):
        return []
    return ["Nothing has changed: enter what is different in [[change]]."]


def sections(given: Given) -> list[Section]:
    """The changes, what they cost, the plan's price before and now, and the lines to sign."""
    terms = given.job.terms or Terms()
    found = [
        _wait(),
        section("Who and where", parties(given), plain="The same job, the same customer."),
        *(_change(one, given) for one in given.job.change),
        _sum(given) if given.job.change else None,
        _moved(given),
        _rates(given),
        section(
            "Signed before the changed work goes on",
            sign((("Customer", terms.authorised_by), ("Company", given.job.job.lead)), STATEMENT),
        ),
    ]
    return [part for part in found if part is not None]


def _wait() -> Section:
    said = (
        "The changed work does not go on until this is signed. Stopping, and making the place steady, never waits for "
        "a paper."
    )
    return section("Before it is signed", stop("WAIT", (said,)), wide=True)


def _rates(given: Given) -> Section:
    return section(
        "Rates",
        price_facts(given),
        caution_block("insurer"),
        plain="What an hour and a load cost in this paper.",
        held=True,
    )


def _change(one: Change, given: Given) -> Section:
    sign = given.job.rates.currency
    return section(
        f"Change {one.id}",
        words(one.what, strong=True),
        facts(
            ("Why not seen before", one.why),
            ("Photograph", _photograph(one, given)),
            ("Crew time", one.hours),
            ("Adds, before tax", money(one.price, sign)),
            ("Kind of work", one.tag),
            ("Effect on the day", one.effect),
        ),
        plain="What is different from what you signed, why nobody could see it, and what it adds.",
    )


def _photograph(one: Change, given: Given) -> str:
    """The photograph named, with its hash where it is kept."""
    if not one.photo:
        return "none yet: photograph it before it is cut"
    kept = next((p for p in given.photos or () if one.photo in (str(p.number), p.name)), None)
    return f"{one.photo}, SHA-256 {kept.sha256[:16]}…" if kept is not None else one.photo


def _sum(given: Given) -> Section:
    summed = changes(given.job)
    sign = summed.currency
    boxes = figures(
        ("added, tax in", money(summed.total, sign), "", "all changes with a price"),
        ("not to exceed, before", money(summed.ceiling_before, sign), "", ""),
        ("not to exceed, now", money(summed.ceiling_after, sign), "", ""),
    )
    rows = [[one.id, one.tag, entered(one.hours), money(one.price, sign)] for one in given.job.change]
    totals = [
        ["", "Before tax", "", money(summed.before_tax, sign)],
        ["", "Tax", "", money(summed.tax, sign)],
        ["", "In all", "", money(summed.total, sign)],
    ]
    open_ = words(f"No price was agreed for: {', '.join(summed.unpriced)}.") if summed.unpriced else None
    table_ = table(
        (0.6, 1.5, 1.2, 1.3), ("Change", "Kind of work", "Crew time", "Adds"), rows, right=(3,), totals=totals
    )
    return section(
        "What it adds",
        boxes,
        table_,
        open_,
        wide=True,
        plain="The fence moves by what is added, and only when you sign.",
    )


def _by_part(given: Given) -> list[list[object]]:
    """Lines of the plan's price that moved since it was agreed."""
    if given.before is None or given.before.price is None or given.price is None:
        return []
    sign = given.job.rates.currency
    return [
        [
            one.tag,
            one.what,
            why(one),
            _amount(one.before, sign),
            _amount(one.after, sign),
            pair(money_range(one.difference, sign)),
        ]
        for one in change(given.before.price, given.price).lines
        if one.word != SAME
    ]


def _amount(line: Line | None, sign: str) -> object:
    return pair(money_range(line.amount, sign)) if line is not None else "–"


def _moved(given: Given) -> Section | None:
    rows = _by_part(given)
    if not rows or given.before is None or given.before.price is None or given.price is None:
        return None
    moved, sign = change(given.before.price, given.price), given.job.rates.currency
    totals = [
        ["", f"{tag}  {TAGS[tag]}", "", "", "", pair(money_range(three, sign))] for tag, three in moved.by_tag
    ] + [
        [
            "",
            "In all, tax in",
            "",
            pair(money_range(moved.old_total, sign)),
            pair(money_range(moved.new_total, sign)),
            pair(money_range(moved.total, sign)),
        ]
    ]
    heads = ("Part", "What", "Why", "Agreed", "By the new plan", "Difference")
    return section(
        "The plan's price, before and now",
        words(given.before.words),
        words(f"The new plan is {moved.words}."),
        table((0.35, 1.1, 1.2, 1.1, 1.1, 1.1), heads, rows, right=(3, 4, 5), totals=totals),
        wide=True,
        plain="The work was planned anew from how the tree lies now. Lines that stayed the same are left out.",
    )
