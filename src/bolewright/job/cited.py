"""Every photograph that the record of a standing tree names, and for what."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from bolewright.job.model import Job

_NUMBER = re.compile(r"(?:photo(?:graph)?|no\.?|#)?[\s_-]*(\d{1,9})", re.IGNORECASE)


def number_in(name: str) -> int | None:
    """The number that a name of a photograph is: "4", "photo 4", "photo-04"; None where it is another name."""
    found = _NUMBER.fullmatch(name.strip())
    return int(found[1]) if found else None


@dataclass(frozen=True)
class Citation:
    """One photograph named in one place. `page` is the part of the record: "seen", "tests" or "lookback"."""

    name: str  # as written: a number, or the name of a file
    page: str
    words: str  # what it is named for

    @property
    def number(self) -> int | None:
        """The number it stands for; None where a name is written."""
        return number_in(self.name)

    def names(self, number: int, file: str) -> bool:
        """Whether the photograph of this number and file is the one named."""
        return self.number == number or self.name.strip().casefold() == file.casefold()


def citations(job: Job) -> tuple[Citation, ...]:
    """Every photograph named, in the order of the record."""
    rows = (*_looked(job), *_failed(job))
    return tuple(Citation(name, page, words) for page, words, names in rows for name in names)


def named_for(named: Iterable[Citation]) -> str:
    """Names with what they are named for, in one sentence: "4 and 5 for the conk, W; 8 to 11 for low ring"."""
    groups: dict[str, list[str]] = {}
    for citation in named:
        names = groups.setdefault(citation.words, [])
        if citation.name not in names:
            names.append(citation.name)
    return "; ".join(f"{in_a_row(names)} for {words}" for words, names in groups.items())


def in_a_row(names: Sequence[str]) -> str:
    """Names of photographs in a row, three numbers or more that follow each other as the first and the last."""
    runs: list[list[str]] = []
    for name in names:
        if runs and name.isdigit() and runs[-1][-1].isdigit() and int(name) == int(runs[-1][-1]) + 1:
            runs[-1].append(name)
        else:
            runs.append([name])
    said = [part for run in runs for part in ([f"{run[0]} to {run[-1]}"] if len(run) > 2 else run)]
    return said[0] if len(said) == 1 else f"{', '.join(said[:-1])} and {said[-1]}"


Row = tuple[str, str, tuple[str, ...]]


def _looked(job: Job) -> Iterator[Row]:
    inspection = job.inspection
    if inspection is None:
        return
    for seen in inspection.observation:
        yield "seen", _at(seen.what, seen.side), seen.photo
    for union in inspection.union:
        yield "seen", f"union of {union.limb}", union.photo
    for n, test in enumerate(inspection.test, 1):
        yield "tests", test.id or f"test {n}, {test.kind}", test.photo


def _failed(job: Job) -> Iterator[Row]:
    failure = job.failure
    if failure is None:
        return
    yield "lookback", "the break", failure.photo
    for n, root in enumerate(failure.root, 1):
        yield "lookback", _at(f"root {n}, {root.state}", root.side), root.photo
    for exhibit in failure.exhibit:
        yield "lookback", exhibit.what, exhibit.photo


def _at(what: str, side: object) -> str:
    return f"{what}, {side}" if side is not None else what
