"""The tables of docs/job-document.md, written from the models so that the page cannot drift from the program."""

from __future__ import annotations

from typing import Any, get_args

from bolewright.job.doors import Door, OrWord, Reader
from bolewright.job.guards import MOST
from bolewright.job.model import Job
from bolewright.job.quantity import EXAMPLES
from bolewright.job.shape import Slot, choices, slots, walk
from bolewright.job.table import Table

# Fields read in a way of their own, which no type can show.
_OWN = {
    "schema": "`1`",
    "normal": '`"up"`, `"square to roof"`, `[0, 0.3, 1]`',
    "section": '`"4x4"`, `"100 x 150 mm"`, `"round 8 in"`',
    "readings": '`{ "12" = "5 in", "3" = "4 in" }`',
    "shells": '`{ N = "5 in", SW = "4 in" }`',
    "date": '`"2026-03-28"`',
}


def field_tables() -> str:
    """Markdown: a heading and a table of fields for every table of the document."""
    parts = [_one("", "table", Job)]
    parts += [_one(path, kind, inside) for path, kind, inside in walk(Job)]
    return "\n\n".join(parts) + "\n"


def _one(path: str, kind: str, table: type[Table]) -> str:
    """One table of the document."""
    heading = f"[[{path}]]" if kind == "list of tables" else f"[{path}]"
    about = " ".join((table.__doc__ or "").split())
    most = MOST.get(tuple(path.split(".")))
    limit = f" At most {most[0]}." if most else ""
    rows = [_row(slot) for slot in slots(table).values()]
    lines = [f"### `{heading}`" if path else "### Top of the file", "", about + limit, ""]
    return "\n".join([*lines, "| field | meaning | write | left out |", "|---|---|---|---|", *rows])


def _row(slot: Slot) -> str:
    cells = (f"`{slot.key}`", slot.info.description or "", write_as(slot), left_out(slot))
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


def write_as(slot: Slot) -> str:
    """How a value of the field is written: an example, or the words there are to choose from."""
    if slot.inside is not None:
        return "tables" if slot.kind == "list of tables" else "table"
    if slot.kind == "list of values":
        return '`["...", "..."]`'
    if slot.key in _OWN:
        return _OWN[slot.key]
    for mark in _marks(slot.hint):
        if isinstance(mark, OrWord):
            return ", ".join([_examples(mark.door), *(f'`"{word}"`' for word in mark.words)])
        if isinstance(mark, Door):
            return _examples(mark)
        if isinstance(mark, Reader):
            return _plain(mark.shape)
    return ", ".join(f'`"{word}"`' if isinstance(word, str) else f"`{word}`" for word in choices(slot.hint))


def _examples(door: Door) -> str:
    return ", ".join(f'`"{example}"`' for example in EXAMPLES[door.dimension])


def _plain(shape: dict[str, Any]) -> str:
    """A field that is no quantity, from its JSON schema."""
    if "examples" in shape:
        return ", ".join(f'`"{example}"`' for example in shape["examples"])
    if shape["type"] == "boolean":
        return "`true`, `false`"
    if shape["type"] in ("integer", "number"):
        whole = "whole number" if shape["type"] == "integer" else "number"
        return f"{whole} {shape['minimum']} to {shape['maximum']}"
    return '`"..."`'


def left_out(slot: Slot) -> str:
    """What happens when the field is left out."""
    if slot.info.is_required():
        return "**has to be there**"
    default = slot.info.get_default(call_default_factory=True, validated_data={})
    if slot.inside is not None or slot.kind == "list of values":
        return "none" if default is None or default == () else "as its fields say"
    if default is None:
        return "not known"
    text = str(default).lower() if isinstance(default, bool) else str(default)
    return f"`{text}`"


def _marks(hint: Any) -> list[Any]:
    """The readers on a type hint, through "or nothing"."""
    found = list(getattr(hint, "__metadata__", ()))
    for part in get_args(hint):
        found += _marks(part) if not isinstance(part, str) else []
    return found
