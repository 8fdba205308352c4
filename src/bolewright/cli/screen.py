"""`bolewright screen`: a list of standing trees in, a table of answers out, row by row."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bolewright.cli import late
from bolewright.cli.door import ANSWER_IS_NO, ANSWERED, CANCELLED, door, say

if TYPE_CHECKING:
    from bolewright.planning.standing.screen import Screened

Trees = Annotated[str, typer.Argument(metavar="TREES", help="CSV file, one tree a row, or - to read it from the pipe.")]
AsLines = Annotated[bool, typer.Option("--json", help="Print one JSON object a line instead of CSV.")]
TableFile = Annotated[Path | None, typer.Option("--out", metavar="FILE", help="Write the table to this new file.")]
Skip = Annotated[int, typer.Option("--skip", min=0, help="Leave out the first so many trees: go on where it stopped.")]


def screen(trees: Trees, as_json: AsLines = False, out: TableFile = None, skip: Skip = 0) -> None:
    """A list of standing trees, each by the same computation as `stand`; Ctrl-C keeps the rows that are done."""
    with door(False), late.screen_list(trees, skip) as (rows, total), late.screen_table(out, as_json) as write:
        done, stopped = _worked(rows, total, write)
        if stopped:
            say(f"Stopped after {done} trees: those are written. Go on with --skip {skip + done}.")
        elif done == 0:
            say("There is no tree in this list.")
    sys.exit(CANCELLED if stopped else ANSWERED if done else ANSWER_IS_NO)


def _worked(rows: Iterator[Screened], total: int, write: Callable[[Screened], None]) -> tuple[int, bool]:
    """How many rows were written, and whether it was stopped by hand."""
    done = 0
    with late.waiting("looking at the trees") as report:
        try:
            for row in rows:
                write(row)
                done += 1
                report(f"{done} trees", done / total if total else 0.0)
        except KeyboardInterrupt:
            return done, True
    return done, False
