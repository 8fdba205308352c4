"""Lists of trees as files: read a row at a time, written a row at a time, so that a list may be of any length."""

from __future__ import annotations

import csv
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from itertools import islice
from pathlib import Path
from typing import TextIO

from bolewright.core.base.errors import BadInput
from bolewright.planning.standing.screen import Screened, columns, screened

HEADER = (
    "id", "status", "gust_low_m_s", "gust_likely_m_s", "gust_high_m_s", "share_standing", "design_gust_m_s",
    "breaks_first", "words",
)  # fmt: skip


@contextmanager
def opened(name: str, skip: int) -> Iterator[tuple[Iterator[Screened], int]]:
    """The answers of a list, and how many trees it has (0 where it comes through the pipe)."""
    if name == "-":
        yield _answers(csv.reader(sys.stdin), skip), 0
        return
    try:
        with Path(name).open(encoding="utf-8-sig", newline="") as counted:
            total = max(sum(1 for line in counted if line.strip()) - 1 - skip, 0)
        with Path(name).open(encoding="utf-8-sig", newline="") as file:
            yield _answers(csv.reader(file), skip), total
    except UnicodeDecodeError:
        raise BadInput(f"{name} is not UTF-8 text: save the list again as CSV in UTF-8.") from None
    except csv.Error as fault:
        raise BadInput(f"{name} is no list of trees ({fault}): save it again as CSV.") from None
    except OSError as fault:
        raise BadInput(f"{name} cannot be opened ({fault.strerror}): check the name and the folder.") from None


def _answers(rows: Iterator[list[str]], skip: int) -> Iterator[Screened]:
    filled = (row for row in rows if any(cell.strip() for cell in row))
    header = next(filled, None)
    if header is None:
        raise BadInput("This list is empty: its first line names the columns.", "header")
    return screened(columns(header), islice(filled, skip, None))


@contextmanager
def table(out: Path | None, as_json: bool) -> Iterator[Callable[[Screened], None]]:
    """A function that writes one answer and lets it go."""
    if out is None:
        yield _writer(sys.stdout, as_json)
        return
    try:
        with out.open("x", encoding="utf-8", newline="") as file:
            yield _writer(file, as_json)
    except FileExistsError:
        raise BadInput(f"{out} is there already: choose another name, nothing is written over.", "--out") from None


def _writer(file: TextIO, as_json: bool) -> Callable[[Screened], None]:
    if as_json:
        from bolewright.planning.machine import line

        return lambda row: print(line(row), file=file, flush=True)
    writer = csv.writer(file, lineterminator="\n")
    writer.writerow(HEADER)
    return lambda row: writer.writerow(_cells(row))


def _cells(row: Screened) -> list[str]:
    gust = row.gust_m_s
    ends = [f"{x:.1f}" for x in (gust.low, gust.likely, gust.high)] if gust is not None else ["", "", ""]
    share = f"{row.share_standing:.2f}" if row.share_standing is not None else ""
    design = f"{row.design_gust_m_s:.1f}" if row.design_gust_m_s is not None else ""
    return [row.id, row.status, *ends, share, design, row.breaks_first, row.words]
