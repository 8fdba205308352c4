"""A change order: what a new plan changes in the price, line by line, exact to the cent.

The difference of two prices, each worked out from its own revision of the job. Nothing here agrees to anything: it is
shown, signed and only then worked to.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from bolewright.core.base.errors import BadInput
from bolewright.planning.haul.price import Line, Price, Three, in_money

NOTHING: Three = (Decimal("0.00"), Decimal("0.00"), Decimal("0.00"))
ADDED, DROPPED, CHANGED, SAME = "added", "dropped", "changed", "as before"


@dataclass(frozen=True)
class ChangedLine:
    """One line in both prices; None where one of them does not have it."""

    tag: str
    what: str
    unit: str
    word: str  # added | dropped | changed | as before
    before: Line | None
    after: Line | None
    difference: Three  # after less before, as printed; low, likely, high


@dataclass(frozen=True)
class Change:
    """The price of a change: every line, and the sums of the differences."""

    currency: str
    lines: tuple[ChangedLine, ...]
    by_tag: tuple[tuple[str, Three], ...]
    before_tax: Three
    tax: Three
    total: Three
    old_total: Three
    new_total: Three
    words: str


def change(before: Price, after: Price) -> Change:
    """What becomes dearer and cheaper from one price to the next; sums add the differences as printed.

    Each end is taken by itself (low less low, high less high), so a difference says what the same luck would cost
    now. Raises BadInput for two currencies.
    """
    if before.currency != after.currency:
        raise BadInput(
            f"One price is in {before.currency}, the other in {after.currency}: they cannot be set against each other.",
            "rates.currency",
        )
    lines = tuple(_paired(before.lines, after.lines))
    tags = sorted({line.tag for line in lines})
    sums = tuple((tag, _sum(line.difference for line in lines if line.tag == tag)) for tag in tags)
    more = _less(after.total, before.total)
    return Change(
        after.currency,
        lines,
        tuple(pair for pair in sums if any(pair[1])),
        _sum(line.difference for line in lines),
        _less(after.tax, before.tax),
        more,
        before.total,
        after.total,
        _words(more, after),
    )


def why(line: ChangedLine) -> str:
    """What moved in a line, in words, at its likely end: how many, or what one costs."""
    old, new = line.before, line.after
    if old is None or new is None:
        return "not in the price agreed" if old is None else "no longer needed"
    said = []
    if old.quantity[1] != new.quantity[1]:
        said.append(f"{new.quantity[1]:,} {new.unit} where {old.quantity[1]:,} was agreed")
    if old.rate != new.rate:
        said.append(f"{new.rate:,} for one where {old.rate:,} was agreed")
    return "; ".join(said) or ("as before" if line.word == SAME else "its range only")


def most_moved(found: Change) -> tuple[ChangedLine, ...]:
    """The lines that are not as before, those with the largest likely difference first."""
    moved = [line for line in found.lines if line.word != SAME]
    return tuple(sorted(moved, key=lambda line: -abs(line.difference[1])))


def _paired(before: tuple[Line, ...], after: tuple[Line, ...]) -> Iterator[ChangedLine]:
    """Lines of the same work side by side, those of the new price first in each tag."""
    left = list(before)
    found = []
    for line in after:
        old = next((one for one in left if _same_work(one, line)), None)
        if old is not None:
            left.remove(old)
        found.append(_changed(old, line))
    found += [_changed(old, None) for old in left]
    yield from sorted(found, key=lambda one: one.tag)


def _same_work(one: Line, other: Line) -> bool:
    return (one.tag, one.what, one.unit) == (other.tag, other.what, other.unit)


def _changed(before: Line | None, after: Line | None) -> ChangedLine:
    line = after or before
    assert line is not None
    old, new = (one.amount if one is not None else NOTHING for one in (before, after))
    word = ADDED if before is None else DROPPED if after is None else SAME if before == after else CHANGED
    return ChangedLine(line.tag, line.what, line.unit, word, before, after, _less(new, old))


def _less(new: Three, old: Three) -> Three:
    return new[0] - old[0], new[1] - old[1], new[2] - old[2]


def _sum(threes: Iterable[Three]) -> Three:
    low, likely, high = NOTHING
    for three in threes:
        low, likely, high = low + three[0], likely + three[1], high + three[2]
    return low, likely, high


def _words(more: Three, after: Price) -> str:
    way = "dearer" if more[1] > 0 else "cheaper" if more[1] < 0 else "no dearer and no cheaper"
    amount = f" by {in_money(abs(more[1]), after.currency)} as likely" if more[1] else ""
    return f"{way}{amount}; for the new price {after.words}"
