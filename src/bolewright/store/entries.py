"""Entries from tablets taken in once: the same key a second time is answered as the first time and changes nothing."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from bolewright.store.edits import Edit
from bolewright.store.models import KeptJob, TakenEntry

LONGEST_KEY = 64


@dataclass
class Entry:
    """What a tablet says about an entry: its key, the page it was typed on, and when it was made if it was sent later.

    `edits` is filled in by the page that takes it, so that later entries of the same page are read on top of them.
    """

    key: str
    sheet: str = ""
    made_at: datetime | None = None
    base: int | None = None
    edits: Sequence[Edit] = field(default_factory=tuple)


def known_answer(key: str, place: str) -> dict[str, Any] | None:
    """The answer given to this key; None when it was not taken in yet. Raises KeyError for a key used elsewhere."""
    taken = TakenEntry.objects.filter(key=key).first()
    if taken is None:
        return None
    if taken.place != place:
        raise KeyError(key)
    found: dict[str, Any] = json.loads(taken.answer)
    return found


def take(entry: Entry, job: KeptJob | None, place: str, by: str, answer: dict[str, Any]) -> TakenEntry:
    """Write down that an entry was taken in. Raises IntegrityError when that was done at the same moment."""
    return TakenEntry.objects.create(
        key=entry.key, job=job, place=place, made_at=entry.made_at, by=by[:80], sheet=entry.sheet, base=entry.base,
        edits=_written(entry.edits), answer=json.dumps(answer),
    )  # fmt: skip


def _written(edits: Sequence[Edit]) -> str:
    return json.dumps([[list(edit.path), edit.value] for edit in edits]) if edits else ""


def edits_before(job: KeptJob, sheet: str, base: int) -> list[list[Edit]]:
    """What the same page has changed since the revision it shows, entry by entry, without hearing what became of it."""
    if not sheet:
        return []
    rows = TakenEntry.objects.filter(job=job, sheet=sheet, base=base).exclude(edits="").order_by("pk")
    return [[Edit(tuple(path), value) for path, value in json.loads(row.edits)] for row in rows]
