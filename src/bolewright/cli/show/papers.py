"""What was made and what was not, as text."""

from __future__ import annotations

from pathlib import Path

from bolewright.cli.show import page as sheet
from bolewright.documents.papers import Made


def show(title: str, made: Made, folder: Path, written: tuple[str, ...]) -> None:
    """The files with their titles, then every paper that was not made and what it lacks."""
    page = sheet.console()
    count = f"{len(written)} FILE{'' if len(written) == 1 else 'S'} WRITTEN TO {folder}"
    sheet.answer(page, title, count if written else "NO PAPER MADE", good=bool(written))
    sheet.table(page, ("File", "Paper"), ((name, made.titles.get(name, "")) for name in written))
    if made.not_made:
        sheet.heading(page, "Not made, and what is missing")
    for paper in made.not_made:
        sheet.line(page, f"{paper.title} ({paper.name})", indent=2)
        for reason in paper.reasons:
            sheet.line(page, reason, indent=4)
    sheet.cautions(page, "insurer")
