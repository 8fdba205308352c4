"""Observations and tests of a job document as the pages show them, and the changes a tap makes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.utils.text import slugify

from bolewright.planning.standing.results import StandResult
from bolewright.reference.observations import GROUPS, offered
from bolewright.store.edits import Edit, at
from bolewright.web.rows import Cell, Row
from bolewright.web.standing_fields import BY_KIND, EVERY_TEST
from bolewright.web.typed import with_unit

STATES = ("seen", "not seen", "could not see")
HEADINGS = {
    "roots": "Roots and collar", "stem": "Stem", "branches": "Branches and unions", "crown": "Crown", "site": "Site",
    "targets": "Targets", "loads": "Loads",
}  # fmt: skip
ADDED = {
    "sounding": "Sounded with a mallet", "probe": "Probed", "drilling": "Drilled", "opening": "Opening measured",
    "pull": "Pulled",
}  # fmt: skip
SEEN, TESTS = ("inspection", "observation"), ("inspection", "test")


@dataclass(frozen=True)
class Item:
    """One thing to look for, what came of it, and the cells of its details once there is a row."""

    what: str
    state: str
    html_id: str
    row: Row | None

    @property
    def told(self) -> str:
        """The details as typed, in one line."""
        return "; ".join(cell.value for cell in self.row.cells if cell.value) if self.row is not None else ""


@dataclass(frozen=True)
class Group:
    """The things of one part of the tree or its place."""

    id: str
    heading: str
    items: tuple[Item, ...]

    @property
    def open(self) -> int:
        """How many are not written down yet."""
        return sum(not item.state for item in self.items)


def _observations(document: Any) -> list[Any]:
    rows = at(document, SEEN)
    return rows if isinstance(rows, list) else []


def groups_of(document: Any, rows: Sequence[Row]) -> tuple[Group, ...]:
    """Every group with what is offered and what was added in one's own words."""
    found = []
    for group in GROUPS:
        own = [(n, o) for n, o in enumerate(_observations(document)) if isinstance(o, dict) and o.get("group") == group]
        by_words = {str(o.get("what", "")).lower(): (n, o) for n, o in own}
        names = [*offered()[group], *(str(o.get("what", "")) for _, o in own)]
        words = {name.lower(): name for name in reversed(names)}
        items = [_item(group, words[key], by_words.get(key), rows) for key in dict.fromkeys(n.lower() for n in names)]
        found.append(Group(group, HEADINGS[group], tuple(items)))
    return tuple(found)


def _item(group: str, what: str, kept: tuple[int, Mapping[str, Any]] | None, rows: Sequence[Row]) -> Item:
    state = str(kept[1].get("state", "")) if kept is not None else ""
    row = rows[kept[0]] if kept is not None and kept[0] < len(rows) else None
    return Item(what, state, f"i-{group}-{slugify(what) or 'own'}", row)


def item_of(groups: Sequence[Group], group: str, what: str) -> tuple[Group, Item]:
    """One item by its group and words."""
    found = next(g for g in groups if g.id == group)
    return found, next(item for item in found.items if item.what.lower() == what.lower())


def marked(document: Any, group: str, what: str, state: str) -> list[Edit]:
    """The change that one tap makes; none when group, words or state make no sense."""
    if group not in GROUPS or not what or state not in STATES:
        return []
    rows = _observations(document)
    for n, row in enumerate(rows):
        if isinstance(row, dict) and row.get("group") == group and str(row.get("what", "")).lower() == what.lower():
            return [Edit((*SEEN, n, "state"), state)]
    place = (*SEEN, len(rows))
    return [Edit((*place, "group"), group), Edit((*place, "what"), what), Edit((*place, "state"), state)]


@dataclass(frozen=True)
class ShownTest:
    """One test: the cells its kind needs, what it said, and readings that no cell shows."""

    row: Row
    kind: str
    cells: tuple[Cell, ...]
    said: str
    beside: str


def tests_of(document: Any, rows: Sequence[Row], result: StandResult | None) -> tuple[ShownTest, ...]:
    """The tests as typed, each with what was read from it."""
    kept = at(document, TESTS)
    kept = kept if isinstance(kept, list) else []
    return tuple(_test(row, test, n, result) for n, (row, test) in enumerate(zip(rows, kept, strict=False)))


def _test(row: Row, test: Any, n: int, result: StandResult | None) -> ShownTest:
    kind = str(test.get("kind", ""))
    traced = "trace" in test
    keys = (*EVERY_TEST, *(() if traced else BY_KIND.get(kind, ())))
    by_key = {cell.field.key: cell for cell in row.cells}
    cells = tuple(
        by_key[key] for key in ("id", "height", "side", "diameter", *keys[len(EVERY_TEST) :], "note", "photo")
    )
    reads = result.tests if result is not None else ()
    said = reads[n].words if n < len(reads) and reads[n].kind == kind else ""
    shells = test.get("shells")
    others = [f"{side} {depth}" for side, depth in shells.items() if f"shells.{side}" not in by_key] if shells else []
    beside = f"a trace of {len(str(test['trace']).splitlines()) - 1} points" if traced else ", ".join(others)
    return ShownTest(row, ADDED.get(kind, kind), cells, said, beside)


def with_test(
    document: Any, kind: str, trace: str = "", more: Mapping[str, str] | None = None, units: str = "us"
) -> list[Edit]:
    """The edits that begin a test; none for a kind there is not."""
    if kind not in BY_KIND:
        return []
    kept = at(document, TESTS)
    kept = kept if isinstance(kept, list) else []
    count = 1 + sum(isinstance(test, dict) and test.get("kind") == kind for test in kept)
    names = {str(test.get("id", "")) for test in kept if isinstance(test, dict)}
    name = next(f"{kind} {n}" for n in range(count, count + len(names) + 1) if f"{kind} {n}" not in names)
    place = (*TESTS, len(kept))
    edits = [Edit((*place, "id"), name), Edit((*place, "kind"), kind)]
    edits += [Edit((*place, "trace"), trace)] if trace else []
    height = with_unit((more or {}).get("height", "").strip()[:80], "m" if units == "metric" else "ft")
    side = (more or {}).get("side", "").strip()[:80]
    return [*edits, *(Edit((*place, k), v) for k, v in (("height", height), ("side", side)) if v)]
