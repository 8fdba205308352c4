"""What was typed into the sheet, as changes of the job document."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

from bolewright.store.edits import Edit, Path, at
from bolewright.web.cells import Field, Section
from bolewright.web.fields import all_sections

_PLAIN = re.compile(r"-?[0-9]+(?:\.[0-9]+)?(?:\s*\.\.\s*[0-9]+(?:\.[0-9]+)?){0,2}")
_FEET_INCHES = re.compile(r"([0-9]+)\s+([0-9]+(?:\.[0-9]+)?)")
LONGEST_CELL = 12_000  # past the longest text a job takes, so that what is too long is refused and not cut off
LONGEST_NAME = 300  # of an input
MOST_NEW_ROWS = 30


def name_of(path: Path) -> str:
    """The name of an input for a place in the document."""
    return "/".join(str(part) for part in path)


def path_of(name: str) -> Path:
    """The place an input is for."""
    return tuple(
        int(part) if part.isascii() and part.isdecimal() and len(part) < 6 else part for part in name.split("/")
    )


def field_of(path: Path) -> tuple[Section, Field] | None:
    """The section and field a place belongs to; None for a place no page asks for."""
    words = tuple(part for part in path if isinstance(part, str))
    numbers = sum(isinstance(part, int) for part in path)
    for part in all_sections():
        for field in part.fields:
            if words == (*part.path, *field.key.split(".")) and numbers == int(part.many):
                return part, field
    return None


def edits_of(posted: Mapping[str, str], document: Any, units: str) -> list[Edit]:
    """The changes in posted inputs against the document they were shown with."""
    found = []
    for name, text in posted.items():
        if "/" not in name:
            continue
        path = path_of(name)
        known = field_of(path)
        if known is None or _far_past_the_last(path, document):
            continue
        value = value_of(known[1], text, units)
        now = at(document, path)
        if value != _shown_value(now):
            found.append(Edit(path, value))
    return _without_bare_rows(found, document)


def _far_past_the_last(path: Path, document: Any) -> bool:
    """A row number no page can have asked for."""
    for k, part in enumerate(path):
        rows = at(document, path[:k])
        if isinstance(part, int) and part > (len(rows) if isinstance(rows, list) else 0) + MOST_NEW_ROWS:
            return True
    return False


def _shown_value(value: Any) -> Any:
    """A date in a document may be a date of its own; on the sheet it is text."""
    return value if isinstance(value, bool | int | float | list | dict | str | type(None)) else str(value)


def _without_bare_rows(edits: Sequence[Edit], document: Any) -> list[Edit]:
    """A new row in which only a choice stands that the form itself filled in is no row."""
    rows: dict[Path, list[Edit]] = {}
    for edit in edits:
        numbers = [k for k, part in enumerate(edit.path) if isinstance(part, int)]
        row = edit.path[: numbers[0] + 1] if numbers else ()
        if row and at(document, row) is None:
            rows.setdefault(row, []).append(edit)
    bare = {row for row, inside in rows.items() if all(edit.value is None for edit in inside)}
    return [edit for edit in edits if not any(edit.path[: len(row)] == row for row in bare)]


def value_of(field: Field, text: str, units: str) -> Any:
    """The value for the document: the text as typed, a plain number with the unit of its column; None when empty."""
    typed = text.replace("\r\n", "\n").strip()[:LONGEST_CELL]
    if not typed:
        return None
    if field.kind == "yes":
        return {"yes": True, "no": False}.get(typed.lower(), typed)
    if field.kind == "number":
        return _number(typed)
    if field.kind == "lines":
        return [line.strip() for line in typed.splitlines() if line.strip()]
    if field.kind == "list":
        return [part.strip() for part in re.split(r"[,\n]", typed) if part.strip()]
    return with_unit(typed, field.unit(units)) if field.kind == "amount" else typed


def _number(typed: str) -> Any:
    try:
        number = float(typed)
    except ValueError:
        return typed
    if not -1e9 < number < 1e9:
        return typed
    return int(number) if number.is_integer() else number


def with_unit(typed: str, unit: str) -> str:
    """A plain number with the unit its column is headed by; "24 6" under feet is 24 ft 6 in."""
    if not unit:
        return typed
    feet = _FEET_INCHES.fullmatch(typed)
    if feet and unit == "ft":
        return f"{feet[1]} ft {feet[2]} in"
    if not _PLAIN.fullmatch(typed) or (unit == "%" and _at_most_one(typed)):
        return typed
    return f"{typed} {unit}"


def _at_most_one(typed: str) -> bool:
    try:
        return float(typed) <= 1.0
    except ValueError:
        return False


def shown(value: Any) -> str:
    """A value of the document as an input shows it."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float) and value.is_integer():
        return f"{value:.0f}"
    if isinstance(value, list | tuple):
        return ", ".join(str(item) for item in value)
    return str(value)
