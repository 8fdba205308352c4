"""A job still being filled in: everything is kept as typed, and what can be used of it is worked with.

A value that cannot be read, or a row with something missing, is left out of the answer and named; nothing is dropped
from what is kept.
"""

from __future__ import annotations

import copy
import re
from dataclasses import dataclass
from typing import Any

from bolewright.job.faults import Fault, JobFaults
from bolewright.job.model import Job
from bolewright.job.read import from_tables
from bolewright.job.shape import slots

ROUNDS = 40
# In these rows a value that is filled in when it is missing may go alone. Elsewhere the whole row goes: a support whose
# gap cannot be read must not be taken to touch, nor one whose member cannot be found to carry the stem.
ALONE = (("tree", "stem"), ("tree", "limb"))
_PART = re.compile(r'([^.\["\]]+)|\["([^"]*)"\]|\[(\d+)\]')


@dataclass(frozen=True)
class Draft:
    """What can be used of a document: the job with the faulty parts left out, or None when too little is there."""

    job: Job | None
    faults: tuple[Fault, ...]
    left_out: tuple[str, ...]  # paths of rows and values the answer does without


def draft(raw: dict[str, Any]) -> Draft:
    """The job in these tables as far as it can be used, with every fault of the whole."""
    tables, first, left_out = copy.deepcopy(raw), None, list[str]()
    for _ in range(ROUNDS):
        try:
            job = from_tables(tables)
        except JobFaults as found:
            first = found.faults if first is None else first
            dropped = _without(tables, found.faults)
            if not dropped:
                return Draft(None, first, tuple(left_out))
            left_out += [path for path in dropped if path not in left_out]
            continue
        return Draft(job, first or (), tuple(left_out))
    return Draft(None, first or (), tuple(left_out))


def place_of(path: str, raw: Any) -> tuple[str | int, ...]:
    """A fault's path as keys and row numbers of these tables; as far as it can be followed."""
    place: list[str | int] = []
    for name, row_id, number in _PART.findall(path):
        if name:
            place.append(name)
            raw = raw.get(name) if isinstance(raw, dict) else None
            continue
        rows = raw if isinstance(raw, list) else []
        if number:
            n = int(number)
        else:
            n = next((k for k, row in enumerate(rows) if isinstance(row, dict) and row.get("id") == row_id), -1)
        if not 0 <= n < len(rows):
            break
        place.append(n)
        raw = rows[n]
    return tuple(place)


def place_names(path: str) -> tuple[list[str], str]:
    """The keys of a fault's path in order, and the id of the innermost row, else its number from 1; "" without one."""
    names, row = [], ""
    for name, row_id, number in _PART.findall(path):
        if name:
            names.append(name)
        else:
            row = row_id or str(int(number) + 1)
    return names, row


def _without(tables: dict[str, Any], faults: tuple[Fault, ...]) -> list[str]:
    """Take out what the faults are about: a whole row of a list, or a value that may be missing; its paths."""
    rows: dict[tuple[str | int, ...], str] = {}
    values: dict[tuple[str | int, ...], str] = {}
    for fault in faults:
        place = place_of(fault.path, tables)
        numbers = [k for k, part in enumerate(place) if isinstance(part, int)]
        if numbers and place[: numbers[0]] in ALONE and _may_go(place, tables):
            values.setdefault(place, fault.path)
        elif numbers:
            rows.setdefault(place[: numbers[0] + 1], fault.path.split("].")[0] + "]")
        else:
            value = _nearest_that_may_go(place, tables)
            if value:
                values.setdefault(value, fault.path if value == place else ".".join(map(str, value)))
    for place in sorted(values, key=len, reverse=True):
        _at(tables, place[:-1]).pop(place[-1], None)
    for place in sorted(rows, key=lambda p: -int(p[-1])):
        del _at(tables, place[:-1])[place[-1]]
    return [*values.values(), *rows.values()]


def _nearest_that_may_go(place: tuple[str | int, ...], tables: dict[str, Any]) -> tuple[str | int, ...]:
    """The value, else the table around it that the job can do without: boards without a thickness are no boards yet.

    Never the tree: what it lies on and how it is held must not be left out unseen.
    """
    shortest = len(place) if place[:1] == ("tree",) else 1
    return next((place[:k] for k in range(len(place), shortest - 1, -1) if _may_go(place[:k], tables)), ())


def _may_go(place: tuple[str | int, ...], tables: dict[str, Any]) -> bool:
    """Whether a value is there and the job can do without it."""
    table: Any = Job
    for part in place[:-1]:
        if isinstance(part, str):
            slot = slots(table).get(part) if table else None
            table = slot.inside if slot else None
    holder = _at(tables, place[:-1]) if place else None
    if not isinstance(holder, dict) or not isinstance(place[-1], str) or place[-1] not in holder:
        return False
    slot = slots(table).get(place[-1]) if table else None
    if slot is None:
        return True  # a field no job has
    in_row = any(isinstance(part, int) for part in place)
    return not slot.info.is_required() and (slot.info.default is None or not in_row)


def _at(tables: Any, place: tuple[str | int, ...]) -> Any:
    for part in place:
        if isinstance(part, int):
            tables = tables[part]
        else:
            tables = tables.get(part) if isinstance(tables, dict) else None
    return tables
