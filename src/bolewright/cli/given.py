"""What papers are made from, put together from a job file: answers, photographs in a folder, the job as agreed."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date as day
from pathlib import Path
from typing import Literal

from bolewright.core.base.errors import BadInput
from bolewright.documents import insurer_pack, photo_log
from bolewright.documents.given import Before, Given, PhotoRow
from bolewright.documents.papers import PAPERS, Made, make, paper_named
from bolewright.job.cited import number_in
from bolewright.job.model import Job
from bolewright.job.write import dump
from bolewright.planning.answers import answers
from bolewright.store.pictures import small_copy

Units = Literal["us", "metric"]
Report = Callable[[str, float], None]
PICTURES = (".jpg", ".jpeg", ".png", ".webp", ".heic")
MOST_PHOTOS = 2000
WITH_PICTURES = (photo_log.PAPER.name, insurer_pack.PAPER.name)
PRINTED = 520  # pixels of the longer side of a picture on paper


def known(names: Sequence[str]) -> None:
    """Raise BadInput for a paper there is none of."""
    for name in names:
        if paper_named(name) is None:
            there = ", ".join(paper.name for paper in PAPERS)
            raise BadInput(f"There is no paper called {name!r}: choose of {there}.", "--only")


def made_papers(
    job: Job,
    only: Sequence[str],
    units: Units,
    date: day | None,
    photos: Path | None,
    before: Job | None,
    report: Report,
) -> Made:
    """The papers asked for, all of them without `only`."""
    wanted = [paper for paper in PAPERS if not only or paper.name in only]
    asked = {name for paper in wanted for name in paper.uses}
    looked_at = any(paper.name in WITH_PICTURES for paper in wanted)
    rows = photo_rows(photos, lambda _number, _name: looked_at) if photos is not None else None
    agreed = _agreed(before, report) if before is not None and "out" in asked else None
    found = answers(job, asked, report)
    revision = "file " + hashlib.sha256(dump(job).encode("utf-8")).hexdigest()[:8]
    given = Given.of(job, found, units=units, day=date, revision=revision, photos=rows, before=agreed)
    return make(given, only, report)


def _agreed(before: Job, report: Report) -> Before:
    price = answers(before, ("out",), report).price
    words = "Beside the job as it was agreed." if price is not None else "No price could be worked out as agreed."
    return Before(words, price)


def photo_rows(folder: Path, shown: Callable[[int, str], bool] = lambda _number, _name: False) -> tuple[PhotoRow, ...]:
    """Every picture file in a folder by name, numbered, with its hash; those shown with a small copy to print.

    A file called by a number ("4.jpg", "photo-04.jpg") has that number where every file is; else its place among them.
    Raises BadInput when the folder or a file cannot be read.
    """
    if not folder.is_dir():
        raise BadInput(f"There is no folder {folder}: check the name.", "--photos")
    files = sorted(file for file in folder.iterdir() if file.is_file() and file.suffix.lower() in PICTURES)
    if len(files) > MOST_PHOTOS:
        raise BadInput(f"There are {len(files)} pictures in {folder}: at most {MOST_PHOTOS} are listed.", "--photos")
    try:
        return tuple(_photo(number, file, shown(number, file.name)) for number, file in _numbered(files))
    except OSError as fault:
        raise BadInput(f"A picture in {folder} cannot be read ({fault.strerror}).", "--photos") from fault


def _numbered(files: Sequence[Path]) -> list[tuple[int, Path]]:
    """The files with their numbers: those in their names where every name is another number, else their places."""
    own = [number_in(file.stem) for file in files]
    if None not in own and len(set(own)) == len(own):
        return sorted((number or 0, file) for number, file in zip(own, files, strict=True))
    return list(enumerate(files, 1))


def _photo(number: int, file: Path, shown: bool) -> PhotoRow:
    content = file.read_bytes()
    digest = hashlib.sha256(content).hexdigest()
    row = PhotoRow(number, file.name, digest, len(content), untouched=True, original=file)
    small = small_copy(file, PRINTED) if shown else None
    return row if small is None else replace(row, thumb=small[0], thumb_size=small[1])
