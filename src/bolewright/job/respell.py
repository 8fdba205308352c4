"""Puts misspelt names right for the rest of the reading, so that what stands under them is checked in the same go."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Any

from bolewright.job.faults import Fault, entry, shown
from bolewright.job.model import Job
from bolewright.job.shape import slots
from bolewright.job.table import Table

MOST = 200  # unknown names looked at, and entries of a list gone through; a file with more is not a job
MOST_ENTRIES = 1000
LONGEST = 40
CLOSE = 0.7


def respell(raw: dict[str, Any]) -> tuple[dict[str, Any], list[Fault]]:
    """The document with every name near to one that is not there given that name, and a fault for each."""
    work = _Work([])
    return work.table(raw, Job, ""), work.faults


@dataclass
class _Work:
    """The faults found so far, and how many unknown names have been looked at."""

    faults: list[Fault]
    looked: int = 0

    def table(self, raw: dict[str, Any], model: type[Table], path: str) -> dict[str, Any]:
        """A table with its names put right, and those of the tables in it."""
        known = slots(model)
        read: dict[str, Any] = {}
        taken = set(raw)
        for name, value in raw.items():
            read[name if name in known else self.right_name(name, known, taken, path)] = value
        for key, slot in known.items():
            if slot.inside is not None:
                read.update({key: self.inside(read[key], slot.inside, _joined(path, key))} if key in read else {})
        return read

    def inside(self, value: Any, model: type[Table], path: str) -> Any:
        """The same for a table in a table, or a list of them."""
        if isinstance(value, dict):
            return self.table(value, model, path)
        if not isinstance(value, list) or len(value) > MOST_ENTRIES:
            return value
        ids = [item.get("id") if isinstance(item, dict) else None for item in value]
        return [
            self.table(item, model, entry(path, n, ids)) if isinstance(item, dict) else item
            for n, item in enumerate(value)
        ]

    def right_name(self, name: str, known: Iterable[str], taken: set[str], path: str) -> str:
        """The name that was meant, with a fault; or the name itself where nothing is near."""
        self.looked += 1
        meant = _meant(name, [key for key in known if key not in taken]) if self.looked <= MOST else None
        if meant is None:
            return name
        self.faults.append(Fault(_joined(path, name), f'{shown(name)} is not a field here: did you mean "{meant}"?'))
        taken.add(meant)
        return meant


def _joined(path: str, name: str) -> str:
    return f"{path}.{name}" if path else name


def _meant(name: str, free: list[str]) -> str | None:
    """The one name not yet given that this is near to, capitals aside."""
    if len(name) > LONGEST:
        return None
    near = get_close_matches(name.lower().replace(" ", "_").replace("-", "_"), free, n=1, cutoff=CLOSE)
    return near[0] if near else None
