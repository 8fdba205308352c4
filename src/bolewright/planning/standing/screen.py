"""A list of standing trees, one row each, by the same computation as one tree; any number of rows, one at a time."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from bolewright.core.base.errors import BadInput, BolewrightError
from bolewright.core.base.range import Range
from bolewright.job.faults import JobFaults
from bolewright.job.model import Job
from bolewright.job.read import from_tables
from bolewright.job.standing import Standing
from bolewright.planning.standing.failing import failing, first_words

SAMPLES = 64  # of each tree: enough to sort a list by; look at one tree by `stand`
OF_TREE = ("species", "dbh", "density")
OF_TEST = ("shell", "shell_height", "shell_side")
NEEDED = ("id", "species", "dbh", "height", "crown_width")


@dataclass(frozen=True)
class Screened:
    """One tree of a list."""

    id: str
    status: str  # "inside" | "outside" | "not enough known" | "cannot be read"
    gust_m_s: Range | None  # at which it first fails, stem or roots
    share_standing: float | None  # of samples, at the gust it is held against
    design_gust_m_s: float | None
    breaks_first: str
    words: str


def columns(header: Iterable[str]) -> tuple[str, ...]:
    """The columns of a list, checked: an id, those of the tree and of [standing] by their names in the job document.

    Raises BadInput for a column that is not known, is there twice, or is missing.
    """
    names = tuple(name.strip().lower() for name in header)
    known = {"id", *OF_TREE, *OF_TEST, *Standing.model_fields}
    for n, name in enumerate(names):
        if name not in known:
            raise BadInput(f'Column {n + 1} is called "{name[:40]}": name it after a field of [standing].', "header")
        if name in names[:n]:
            raise BadInput(f'There are two columns called "{name}": keep one.', "header")
    missing = [name for name in NEEDED if name not in names]
    if missing:
        raise BadInput(f"The list has no column {', '.join(missing)}: every tree needs it.", "header")
    return names


def screened(names: tuple[str, ...], rows: Iterable[list[str]]) -> Iterator[Screened]:
    """One answer for every row, in order, each worked out only when it is asked for. A row that cannot be read is
    answered with its sentence, the others go on."""
    for n, row in enumerate(rows, 1):
        yield _one(names, row, n)


def _one(names: tuple[str, ...], row: list[str], n: int) -> Screened:
    given = {name: cell.strip() for name, cell in zip(names, row, strict=False) if cell.strip()}
    name = given.get("id", f"row {n}")
    try:
        if len(row) != len(names):
            raise BadInput(f"This row has {len(row)} cells where the header has {len(names)}.", "row")
        found = failing(tree_of(given))
    except JobFaults as faults:
        return _unread(name, "; ".join(str(fault) for fault in faults.faults))
    except BolewrightError as fault:
        return _unread(name, f"{fault.path}: {fault.sentence}" if fault.path else fault.sentence)
    gust = Range.of_samples(found.first)
    first = first_words(found.place)
    return Screened(name, found.status, gust, found.standing, found.design, first, found.words)


def _unread(name: str, words: str) -> Screened:
    return Screened(name, "cannot be read", None, None, None, "", words)


def tree_of(given: dict[str, str]) -> Job:
    """The job document of one row. Raises JobFaults with all that is wrong in it."""
    tree: dict[str, Any] = {name: given[name] for name in OF_TREE if name in given}
    standing = {name: value for name, value in given.items() if name in Standing.model_fields}
    raw: dict[str, Any] = {
        "schema": 1,
        "job": {"title": given.get("id", "a tree of a list")},
        "tree": {**tree, "attached": "standing"},
        "standing": standing,
        "limits": {"samples": SAMPLES},
    }
    if "shell" in given:
        test = {"kind": "drilling", "height": given.get("shell_height", "1 m"), "side": given.get("shell_side", "N")}
        raw["inspection"] = {"test": [{**test, "shell": given["shell"]}]}
    return from_tables(raw)
