"""What all answers share: the console, headings, tables, cautions, and what was filled in."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Literal

from rich.box import SIMPLE
from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from bolewright.core.base.range import Range
from bolewright.drawings import units as words
from bolewright.planning.results import FilledIn, Motion
from bolewright.reference.cautions import cautions_for

Units = Literal["us", "metric"]


def console() -> Console:
    """The terminal, without guesses at what to colour."""
    return Console(highlight=False, soft_wrap=False)


def answer(page: Console, title: str, words_: str, good: bool) -> None:
    """The title of the job, then the answer in one heavy line; a bad one is marked with words and bars, not colour."""
    page.print(Text(title, style="dim"))
    page.print(Text(words_ if good else f"▌▌ {words_} ▐▐", style="bold"))


def line(page: Console, text: str, indent: int = 0) -> None:
    """One line of text, wrapped under itself."""
    page.print(Padding(Text(text), (0, 0, 0, indent), expand=False))


def heading(page: Console, text: str) -> None:
    """A heading with air above it."""
    page.print()
    page.print(Text(text, style="bold underline"))


def table(page: Console, columns: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
    """A plain table with a header line."""
    grid = Table(box=SIMPLE, pad_edge=False, show_edge=False, header_style="bold")
    for name in columns:
        grid.add_column(name, overflow="fold")
    for row in rows:
        grid.add_row(*(Text(cell) for cell in row))
    page.print(grid)


def cautions(page: Console, *places: str) -> None:
    """The cautions of these hazards, each once, as a list."""
    grid = Table.grid(padding=(0, 1))
    for caution in cautions_for(*places):
        grid.add_row(Text("!", style="bold"), Text(caution.text, style="bold"))
    if grid.row_count:
        page.print(grid)


def likely_mass(value: Range, units: Units) -> str:
    """ "likely 2,900 lb (2,300 to 3,700)"."""
    return f"likely {words.mass_range(value, units)}"


def likely_force(value: Range, units: Units) -> str:
    """ "likely 2,900 lb (2,300 to 3,700)"."""
    return f"likely {words.force_range(value, units)}"


def moved(motion: Motion, units: Units) -> str:
    """A movement in words with how far and what stops it."""
    parts = [motion.words]
    if motion.kind != "held" and motion.distance_m is not None:
        parts.append(f"about {words.small(motion.distance_m, units)}")
    if motion.kind != "held":
        parts.append(f"then rests on {motion.rests_on}" if motion.rests_on else "nothing found that stops it")
    return ", ".join(parts)


def files(folder: Path | None, names: tuple[str, ...]) -> None:
    """Say where drawings and papers are."""
    if folder is None or not names:
        return
    page = console()
    heading(page, "Written")
    line(page, f"{folder}/: {', '.join(names)}")


def filled_in(page: Console, rows: Sequence[FilledIn], units: Units) -> None:
    """What was not measured and what stands in for it."""
    if not rows:
        return
    heading(page, "Filled in, not measured")
    for row in rows:
        line(page, f"{row.path}: {row.said(units)} ({row.why}; {row.source}, {row.status})", indent=2)


def notes(page: Console, texts: Sequence[str]) -> None:
    """Remarks that belong to the whole answer."""
    if texts:
        heading(page, "Note")
    for text in texts:
        line(page, text, indent=2)
