"""Sections with their values, ready for a template: one cell a field, one row more than there are, to write in."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from bolewright.job.draft import Draft, place_of
from bolewright.store.edits import Path, at
from bolewright.web.cells import Field, Section
from bolewright.web.typed import field_of, name_of, shown


@dataclass(frozen=True)
class Cell:
    """One input."""

    field: Field
    name: str
    value: str
    unit: str
    faults: tuple[str, ...]
    row: str

    @property
    def label(self) -> str:
        """What it is called aloud."""
        return f"{self.row}, {self.field.label}" if self.row else self.field.label

    @property
    def html_id(self) -> str:
        """Its id in the page."""
        return "c-" + self.name.replace("/", "-").replace("_", "-")


@dataclass(frozen=True)
class Row:
    """One row; `faults` are about the row as a whole."""

    name: str
    title: str
    cells: tuple[Cell, ...]
    faults: tuple[str, ...]
    fresh: bool


@dataclass(frozen=True)
class Filled:
    """A section with its rows."""

    section: Section
    rows: tuple[Row, ...]

    @property
    def count(self) -> int:
        """Rows that hold something."""
        return sum(not row.fresh for row in self.rows)


def filled(sections: Iterable[Section], document: Mapping[str, Any], found: Draft, units: str) -> list[Filled]:
    """The sections of a page with what stands in them."""
    faults: dict[Path, list[str]] = {}
    for fault in found.faults:
        faults.setdefault(place_of(fault.path, document), []).append(fault.sentence)
    return [_filled(section, document, faults, units) for section in sections]


def _filled(section: Section, document: Any, faults: dict[Path, list[str]], units: str) -> Filled:
    if not section.many:
        return Filled(section, (_row(section, section.path, document, faults, units, ""),))
    rows = at(document, section.path)
    count = len(rows) if isinstance(rows, list) else 0
    made = [fresh_or_kept(section, n, document, faults, units, count) for n in range(count + 1)]
    return Filled(section, tuple(made))


def fresh_or_kept(
    section: Section, n: int, document: Any, faults: dict[Path, list[str]], units: str, count: int
) -> Row:
    """Row n of a section; the one past the last is empty, to write in."""
    place: Path = (*section.path, n)
    name = at(document, (*place, "id"))
    title = str(name) if name else f"{section.one} {n + 1}"
    return _row(section, place, document, faults, units, title, fresh=n >= count)


def _row(section: Section, place: Path, document: Any, faults: dict[Path, list[str]], units: str, title: str,
         fresh: bool = False) -> Row:  # fmt: skip
    cells = []
    keys: list[Path] = []
    for field in section.fields:
        path = (*place, *field.key.split("."))
        keys.append(path)
        own = _own(faults, path)
        cells.append(Cell(field, name_of(path), _shown(field, at(document, path)), field.unit(units), own, title))
    rest = [s for where, said in faults.items() if _inside(where, place) and not _has_a_cell(where, keys) for s in said]
    return Row(name_of(place), title, tuple(cells), tuple(rest), fresh)


def _has_a_cell(where: Path, keys: Sequence[Path]) -> bool:
    """Whether a fault stands at a cell, of this form or of another one for the same table."""
    return where in keys or field_of(where) is not None


def _shown(field: Field, value: Any) -> str:
    """What stands in an input; of several lines each on its own."""
    return "\n".join(map(str, value)) if field.kind == "lines" and isinstance(value, list) else shown(value)


def _own(faults: dict[Path, list[str]], path: Path) -> tuple[str, ...]:
    return tuple(faults.get(path, ()))


def _inside(where: Sequence[str | int], place: Sequence[str | int]) -> bool:
    """Faults of this row or table itself, not of a table further in."""
    return tuple(where[: len(place)]) == tuple(place) and len(where) <= len(place) + 1
