"""pydantic's findings in plain words, with the path a person can find in the file."""

from __future__ import annotations

from difflib import get_close_matches
from typing import Any

from pydantic import ValidationError

from bolewright.job.doors import Door
from bolewright.job.faults import Fault, entry, ordinal, shown
from bolewright.job.model import Job
from bolewright.job.quantity import EXAMPLES
from bolewright.job.shape import Slot, choices, slots, walk
from bolewright.job.table import Table

SUGGESTIONS = 100  # beyond this many faults no nearest name is looked for: it takes time and helps nobody
MOST_FAULTS = 500


def plain_faults(error: ValidationError, raw: dict[str, Any]) -> list[Fault]:
    """One fault for each finding."""
    found = error.errors(include_url=False, include_context=True)
    faults = [_fault(finding, raw, suggest=n < SUGGESTIONS) for n, finding in enumerate(found[:MOST_FAULTS])]
    more = len(found) - MOST_FAULTS
    return [*faults, Fault("", f"There are {more} more faults after these.")] if more > 0 else faults


def _fault(finding: Any, raw: dict[str, Any], suggest: bool) -> Fault:
    loc: tuple[int | str, ...] = finding["loc"]
    table, slot = _place(loc)
    path, where = _path(loc, raw)
    sentence = _sentence(finding, path, str(loc[-1]) if loc else "", table, slot, suggest)
    return Fault(path, f"{where}{sentence}")


def _place(loc: tuple[int | str, ...]) -> tuple[type[Table], Slot | None]:
    """The table a finding is in, and the field, when the document has it."""
    table: type[Table] = Job
    slot: Slot | None = None
    for part in loc:
        if isinstance(part, int):
            continue
        if slot is not None and slot.inside is not None:
            table = slot.inside
        slot = slots(table).get(part)
    return table, slot


def _path(loc: tuple[int | str, ...], raw: Any) -> tuple[str, str]:
    """The path, and for a table without an id of its own the words that find it."""
    path, where, here = "", "", raw
    for part in loc:
        if isinstance(part, str):
            path = f"{path}.{part[:40]}" if path else part[:40]
            here = here.get(part) if isinstance(here, dict) else None
            continue
        ids = [item.get("id") if isinstance(item, dict) else None for item in here] if isinstance(here, list) else []
        table, path = path, entry(path, part, ids) if part < len(ids) else f"{path}[{part}]"
        where = f"{ordinal(part)} {table}: " if path.endswith(f"[{part}]") else ""
        here = here[part] if isinstance(here, list) and part < len(here) else None
    return path, where


def _sentence(finding: Any, path: str, name: str, table: type[Table], slot: Slot | None, suggest: bool) -> str:
    kind, value = finding["type"], finding.get("input")
    if kind == "plain":
        return str(finding["ctx"]["sentence"])
    if kind == "extra_forbidden":
        return _unknown(name, table, suggest)
    if kind == "missing" and slot is not None:
        return _missing(slot, path)
    if kind == "literal_error" and slot is not None:
        return _not_a_choice(value, slot)
    if slot is not None and slot.kind == "list of tables":
        return (
            f"This is a list: write each one under its own heading [[{path.split('[')[0]}]], with two square brackets."
        )
    if slot is not None and slot.kind == "list of values":
        return 'This is a list: write it in square brackets, such as ["one", "another"].'
    if slot is not None and slot.inside is not None:
        return f"This is a table with fields of its own: write them under the heading [{path}]."
    return "What stands here cannot be read: compare it with the description of the job document."


def _unknown(name: str, table: type[Table], suggest: bool) -> str:
    """An unknown field, with the nearest name known here, or the table it belongs to."""
    known = list(slots(table))
    if suggest and len(name) <= 40:
        here = {field: f'did you mean "{field}"?' for field in known}
        other = {path.rsplit(".", 1)[-1]: f"it belongs in {path}." for path, _, _ in walk(Job)}
        near = get_close_matches(name.lower(), list({**other, **here}), n=1, cutoff=0.6)
        if near:
            return f"{shown(name)} is not a field here: {here.get(near[0]) or other[near[0]]}"
        elsewhere = [path for path, _, inside in walk(Job) if name in slots(inside)]
        if elsewhere:
            return f"{shown(name)} is not a field here: it belongs in {' or '.join(elsewhere[:3])}."
    return f"{shown(name)} is not a field here; the fields are {', '.join(known)}."


def _missing(slot: Slot, path: str) -> str:
    """A field that has to be there."""
    if slot.kind == "table":
        return f"The table [{path}] is missing: it holds {slot.info.description}."
    example = _example(slot)
    return f"This is missing: write {slot.key} = {example} ({slot.info.description})."


def _example(slot: Slot) -> str:
    """What a value of this field looks like."""
    words = choices(slot.hint)
    if words:
        return shown(words[0])
    doors = [part for part in getattr(slot.hint, "__metadata__", ()) if isinstance(part, Door)]
    if doors:
        return shown(EXAMPLES[doors[0].dimension][0])
    return {"schema": "1", "clock": "3", "id": '"A1"', "member": '"stem"', "count": "4", "section": '"4x4"'}.get(
        slot.key, '"..."'
    )


def _not_a_choice(value: Any, slot: Slot) -> str:
    """A word that is none of those allowed, with the nearest."""
    words = choices(slot.hint)
    if not isinstance(value, str):
        return f"Write {_either(words)}."
    near = get_close_matches(value.lower().replace("_", " "), [str(word) for word in words], n=1, cutoff=0.6)
    meant = f': did you mean "{near[0]}"?' if near else "."
    return f"{shown(value)} is not one of {_either(words)}{meant}"


def _either(words: list[Any]) -> str:
    quoted = [shown(word) for word in words]
    return f"{', '.join(quoted[:-1])} or {quoted[-1]}" if len(quoted) > 1 else "".join(quoted)
