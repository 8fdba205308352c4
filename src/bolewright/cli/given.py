"""What papers are made from, put together from a job file: answers, photographs in a folder, the job as agreed."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Sequence
from datetime import date as day
from pathlib import Path
from typing import Literal

from bolewright.core.base.errors import BadInput
from bolewright.documents.given import Before, Given, PhotoRow
from bolewright.documents.papers import PAPERS, Made, make, paper_named
from bolewright.job.model import Job
from bolewright.job.write import dump
from bolewright.planning.answers import answers

Units = Literal["us", "metric"]
Report = Callable[[str, float], None]
PICTURES = (".jpg", ".jpeg", ".png", ".webp", ".heic")
MOST_PHOTOS = 2000


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
    rows = photo_rows(photos) if photos is not None else None
    agreed = _agreed(before, report) if before is not None and "out" in asked else None
    found = answers(job, asked, report)
    revision = "file " + hashlib.sha256(dump(job).encode("utf-8")).hexdigest()[:8]
    given = Given.of(job, found, units=units, day=date, revision=revision, photos=rows, before=agreed)
    return make(given, only, report)


def _agreed(before: Job, report: Report) -> Before:
    price = answers(before, ("out",), report).price
    words = "Beside the job as it was agreed." if price is not None else "No price could be worked out as agreed."
    return Before(words, price)


def photo_rows(folder: Path) -> tuple[PhotoRow, ...]:
    """Every picture file in a folder by name, numbered, with its hash. Raises BadInput when it cannot be read."""
    if not folder.is_dir():
        raise BadInput(f"There is no folder {folder}: check the name.", "--photos")
    files = sorted(file for file in folder.iterdir() if file.is_file() and file.suffix.lower() in PICTURES)
    if len(files) > MOST_PHOTOS:
        raise BadInput(f"There are {len(files)} pictures in {folder}: at most {MOST_PHOTOS} are listed.", "--photos")
    try:
        return tuple(_photo(number, file) for number, file in enumerate(files, 1))
    except OSError as fault:
        raise BadInput(f"A picture in {folder} cannot be read ({fault.strerror}).", "--photos") from fault


def _photo(number: int, file: Path) -> PhotoRow:
    content = file.read_bytes()
    return PhotoRow(number, file.name, hashlib.sha256(content).hexdigest(), len(content), untouched=True, original=file)
