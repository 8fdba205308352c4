"""Price, ways of doing it side by side, and what a change costs, as text."""

from __future__ import annotations

from decimal import Decimal

from rich.console import Console

from bolewright.cli.show import page as sheet
from bolewright.planning.haul.change import Change, ChangedLine
from bolewright.planning.haul.price import TAGS, Line, Price, Three, Way

LINE_COLUMNS = ("", "What", "Quantity", "Rate", "Likely", "From", "To")
CHANGE_COLUMNS = ("", "What", "", "Before", "Now", "Difference", "From", "To")
INSURER = "What an insurer pays is not said here: the policy and the adjuster decide."
FIRST = "Show this with photographs and have it signed before work goes on."


def show(page: Console, price: Price | None, ways: tuple[Way, ...]) -> None:
    """Every line with its sums by tag and in all, offers beside them, then the ways side by side."""
    if price is None:
        return
    sheet.heading(page, f"Price in {price.currency}")
    sheet.table(page, LINE_COLUMNS, [*(_line(line) for line in price.lines), *_sums(price)])
    for tag, three in price.by_tag:
        sheet.line(page, f"{tag} {TAGS[tag]}: {_three(three)}", indent=2)
    for line in price.options:
        sheet.line(page, f"Offered, in no sum: {line.what}, {_sum(line.amount[1])}", indent=2)
    sheet.line(page, f"Ceiling: {price.words}")
    sheet.line(page, INSURER)
    _ways(page, ways)


def changed(change: Change | None) -> None:
    """What the job costs more or less than its earlier revision, line by line."""
    if change is None:
        return
    page = sheet.console()
    sheet.heading(page, f"Change from the earlier revision, in {change.currency}")
    sums = [("before tax", change.before_tax), ("tax", change.tax), ("in all", change.total)]
    rows = [_changed(line) for line in change.lines if line.word != "as before"]
    same = sum(line.word == "as before" for line in change.lines)
    rows += [("", f"{same} lines as before", "", "", "", "0.00", "0.00", "0.00")] if same else []
    rows += [("", name, "", "", "", *_ends(three)) for name, three in sums]
    sheet.table(page, CHANGE_COLUMNS, rows)
    sheet.line(page, f"Was {_three(change.old_total)}, is {_three(change.new_total)}: {change.words}.")
    sheet.line(page, FIRST)


def _line(line: Line) -> tuple[str, ...]:
    return line.tag, line.what, f"{line.quantity[1]} {line.unit}", f"{line.rate:,}", *_ends(line.amount)


def _changed(line: ChangedLine) -> tuple[str, ...]:
    before, now = ("" if one is None else _sum(one.amount[1]) for one in (line.before, line.after))
    return line.tag, line.what, line.word, before, now, *_ends(line.difference)


def _ends(three: Three) -> tuple[str, str, str]:
    """Likely first, then from and to."""
    return _sum(three[1]), _sum(three[0]), _sum(three[2])


def _sums(price: Price) -> list[tuple[str, ...]]:
    rows = [("before tax", price.before_tax), ("tax", price.tax), ("in all", price.total)]
    return [("", name, "", "", *_ends(three)) for name, three in rows]


def _three(three: Three) -> str:
    return f"{_sum(three[1])} ({_sum(three[0])} to {_sum(three[2])})"


def _sum(amount: Decimal) -> str:
    return f"{amount:,}"


def _ways(page: Console, ways: tuple[Way, ...]) -> None:
    if len(ways) < 2:
        return
    sheet.heading(page, "Ways of doing it, side by side")
    for way in ways:
        sheet.line(page, f"{way.title}: {_three(way.price.total)}, {way.status}", indent=2)
