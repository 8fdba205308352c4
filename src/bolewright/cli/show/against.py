"""Two inspections of one tree as text: what can be told, what was measured both times, what was seen, the rating."""

from __future__ import annotations

from bolewright.cli.show import page as sheet
from bolewright.cli.show.page import Units
from bolewright.core.base.range import Range
from bolewright.drawings.standing_words import amount, step
from bolewright.planning.both import in_one
from bolewright.planning.standing.changes import CHANGED, Change, Comparison, WordChange

COLUMNS = ("", "Then", "Now", "Change", "")
MARK = {CHANGED: "CHANGED"}


def show(found: Comparison, units: Units) -> None:
    """Print the comparison."""
    page = sheet.console()
    sheet.heading(page, f"Against the inspection of {found.earlier_date or 'no day named'}")
    for sentence in (*found.doubts, *found.words):
        sheet.line(page, in_one(sentence, units), indent=2)
    if found.conditions:
        sheet.line(page, f"Taken alike for both: {'; '.join(found.conditions)}", indent=2)
    rows = [*found.measured, *found.answers]
    sheet.table(page, COLUMNS, (_row(change, units) for change in rows))
    words = [w for w in (*found.observations, *found.targets, *found.rating) if w.changed]
    for word in words:
        sheet.line(page, _words(word), indent=2)


def _row(change: Change, units: Units) -> tuple[str, str, str, str, str]:
    moved = step(change.change, change.kind, units) if change.change is not None else ""
    verdict = MARK.get(change.verdict, change.verdict)
    return (
        in_one(change.what, units),
        _value(change, change.before, units),
        _value(change, change.after, units),
        moved,
        verdict,
    )


def _value(change: Change, value: Range | None, units: Units) -> str:
    """What was measured without its error, which the verdict weighs; what was worked out with its range."""
    if value is None:
        return "-"
    return amount(value if change.group == "answer" else Range.exact(value.likely), change.kind, units)


def _words(word: WordChange) -> str:
    return f"{word.group}, {word.what}: {word.before or 'nothing'} -> {word.after or 'nothing'} ({word.words})"
