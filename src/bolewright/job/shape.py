"""The shape of the document read off the models: which fields a table has and which of them are tables themselves."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from types import UnionType
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from pydantic.fields import FieldInfo

from bolewright.job.table import Table

Kind = Literal["value", "table", "list of tables", "list of values"]


@dataclass(frozen=True)
class Slot:
    """One field of a table: its attribute, its key in the document, and the table inside it if there is one."""

    attribute: str
    key: str
    kind: Kind
    inside: type[Table] | None
    info: FieldInfo
    hint: Any


@cache
def slots(table: type[Table]) -> dict[str, Slot]:
    """Every field of a table by its key in the document."""
    hints = get_type_hints(table, include_extras=True)
    found = {}
    for attribute, info in table.model_fields.items():
        kind, inside = _kind(hints[attribute])
        key = info.alias or attribute
        found[key] = Slot(attribute, key, kind, inside, info, hints[attribute])
    return found


def _kind(hint: Any) -> tuple[Kind, type[Table] | None]:
    """What a type hint holds."""
    if isinstance(hint, type) and issubclass(hint, Table):
        return "table", hint
    if get_origin(hint) in (Union, UnionType):
        kinds = [_kind(part) for part in get_args(hint) if part is not type(None)]
        return next((kind for kind in kinds if kind[1] is not None), ("value", None))
    if get_origin(hint) is tuple:
        _, inside = _kind(get_args(hint)[0])
        return ("list of tables", inside) if inside else ("list of values", None)
    return "value", None


def walk(table: type[Table], path: str = "") -> Iterator[tuple[str, Kind, type[Table]]]:
    """Every table of the document, outermost first: its path, whether it is one or a list, and its model."""
    for slot in slots(table).values():
        if slot.inside is not None:
            here = f"{path}.{slot.key}" if path else slot.key
            yield here, slot.kind, slot.inside
            yield from walk(slot.inside, here)


def choices(hint: Any) -> list[str | int]:
    """The words or numbers of a Literal, however deep it sits in a type hint; none for any other hint."""
    found: list[str | int] = []
    for part in get_args(hint):
        found += choices(part) if get_args(part) else [part] if isinstance(part, str | int) else []
    return found
