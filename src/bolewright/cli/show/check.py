"""The state of a job file as text."""

from __future__ import annotations

from collections.abc import Iterable

from rich.console import Console

from bolewright.cli.show import page as sheet
from bolewright.job.problems import Missing

COMMANDS = {
    "weigh": "what it weighs",
    "hold": "what holds it up",
    "cuts": "in what order to cut",
    "stand": "how it stands",
}


def show(title: str, gaps: dict[str, list[Missing]]) -> None:
    """Print whether the file can be used, what must be added for each question, and what is filled in."""
    page = sheet.console()
    open_ = [name for name, found in gaps.items() if any(gap.needed for gap in found)]
    first = "The file is right" + (", but something is missing" if open_ else " and complete enough to answer")
    sheet.answer(page, title, first, good=not open_)
    for name, words in ((name, words) for name, words in COMMANDS.items() if name in gaps):
        sheet.line(page, f"{words}: {'cannot be answered yet' if name in open_ else 'can be answered'}", indent=2)
    needed = _once(gap for name in open_ for gap in gaps[name] if gap.needed)
    _section(page, "Needed", needed)
    _section(page, "Filled in unless you give it", _once(g for found in gaps.values() for g in found if not g.needed))


def _once(gaps: Iterable[Missing]) -> list[Missing]:
    """Each gap once: a harder question asks for all that an easier one does."""
    return list(dict.fromkeys(gaps))


def _section(page: Console, name: str, gaps: list[Missing]) -> None:
    if gaps:
        sheet.heading(page, name)
    for gap in gaps:
        sheet.line(page, f"{gap.path}: {gap.sentence}", indent=2)
