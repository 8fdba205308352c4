"""Changes of a job document: cell by cell, carried over to what somebody else has saved meanwhile."""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

Path = tuple[str | int, ...]
Tables = dict[str, Any]
_NONE: tuple[Any, ...] = ()


@dataclass(frozen=True)
class Edit:
    """One change. A path such as ("tree", "limb", 2, "at"); a row counted past the last is a new one.

    value None takes the field away, or the whole row when the path ends in its number.
    """

    path: Path
    value: Any = None


@dataclass(frozen=True)
class Conflict:
    """A place both have changed, differently. `mine` are the edits on the saved document that would bring mine in."""

    path: Path
    before: Any
    saved: Any
    wanted: Any
    mine: tuple[Edit, ...]


def applied(tables: Tables, edits: Sequence[Edit]) -> Tables:
    """The document with the edits made; rows left without any field go."""
    out: Tables = copy.deepcopy(tables)
    gone: list[Path] = []
    for edit in edits:
        if isinstance(edit.path[-1], int):
            gone.append(edit.path)
        else:
            _set(out, edit.path, edit.value)
    for path in sorted(set(gone), key=lambda p: -int(p[-1])):
        rows = at(out, path[:-1])
        if isinstance(rows, list) and int(path[-1]) < len(rows):
            del rows[int(path[-1])]
    _drop_empty_rows(out)
    return out


def at(tables: Any, path: Path) -> Any:
    """What stands at a path, None when nothing does."""
    for part in path:
        if isinstance(part, int):
            tables = tables[part] if isinstance(tables, list) and part < len(tables) else None
        else:
            tables = tables.get(part) if isinstance(tables, dict) else None
    return tables


def _set(tables: Tables, path: Path, value: Any) -> None:
    here: Any = tables
    for part, following in zip(path, path[1:], strict=False):
        fresh: Any = [] if isinstance(following, int) else {}
        if isinstance(part, int):
            while len(here) <= part:
                here.append({})
            here = here[part]
        else:
            if not isinstance(here.get(part), type(fresh)):
                here[part] = fresh
            here = here[part]
    if value is None:
        here.pop(path[-1], None)
    else:
        here[path[-1]] = value


def _drop_empty_rows(tables: Any) -> None:
    if not isinstance(tables, dict):
        return
    for key, value in list(tables.items()):
        if _is_rows(value):
            for row in value:
                _drop_empty_rows(row)
            tables[key] = [row for row in value if row]
        elif isinstance(value, dict):
            _drop_empty_rows(value)
        if tables[key] in ({}, []) and key not in ("job", "tree"):
            del tables[key]


def _is_rows(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(item, dict) for item in value)


def changes(before: Tables, after: Tables) -> list[Edit]:
    """The edits that make one document into the other."""
    return list(_changes((), before, after))


def _changes(path: Path, before: Tables, after: Tables) -> Iterator[Edit]:
    for key in dict.fromkeys((*before, *after)):
        old, new, here = before.get(key), after.get(key), (*path, key)
        if old == new:
            continue
        if isinstance(old, dict) and isinstance(new, dict):
            yield from _changes(here, old, new)
        elif _is_rows(old or []) and _is_rows(new or []) and (old or new):
            yield from _row_changes(here, old or [], new or [])
        elif isinstance(new, dict):
            yield from _changes(here, {}, new)
        else:
            yield Edit(here, new)


def _row_changes(path: Path, before: list[Tables], after: list[Tables]) -> Iterator[Edit]:
    pairs = same_rows(before, after)
    for i, row in enumerate(before):
        if i in pairs:
            yield from _changes((*path, i), row, after[pairs[i]])
        else:
            yield Edit((*path, i))
    taken = set(pairs.values())
    for k, row in enumerate(row for j, row in enumerate(after) if j not in taken):
        yield from _changes((*path, len(before) + k), {}, row)


def same_rows(before: Sequence[Tables], after: Sequence[Tables]) -> dict[int, int]:
    """Which row of one list is which of the other: by what names it, else by its place among those left over."""
    pairs: dict[int, int] = {}
    for name in (_whole, _named):
        left = [i for i in range(len(before)) if i not in pairs]
        free = [j for j in range(len(after)) if j not in pairs.values()]
        ours, theirs = [name(before[i]) for i in left], [name(after[j]) for j in free]
        for i, key in zip(left, ours, strict=True):
            if key and ours.count(key) == 1 and theirs.count(key) == 1:
                pairs[i] = free[theirs.index(key)]
    left = [i for i in range(len(before)) if i not in pairs]
    free = [j for j in range(len(after)) if j not in pairs.values()]
    if len(left) == len(free):
        pairs.update(zip(left, free, strict=True))
    return pairs


def _whole(row: Tables) -> str:
    return json.dumps(row, sort_keys=True, default=str)


def _named(row: Tables) -> str:
    if row.get("id"):
        return str(row["id"])
    return f"{row.get('member', '')} {row.get('at', '')} {row.get('kind', '')} {row.get('section', '')}".strip()


def carried_over(base: Tables, saved: Tables, edits: Sequence[Edit]) -> tuple[list[Edit], list[Conflict]]:
    """The edits made on `base`, put onto what is saved now; and those that meet another change at the same place."""
    fine: list[Edit] = []
    conflicts: list[Conflict] = []
    lost: dict[Path, list[Edit]] = {}
    for edit in edits:
        path = _moved(base, saved, edit.path)
        if path is None and isinstance(edit.path[-1], int):  # both took the row away
            continue
        if path is None:
            lost.setdefault(_row_of(base, saved, edit.path), []).append(edit)
            continue
        before, now = at(base, edit.path), at(saved, path)
        if edit.value in (now, before):  # already so, or nothing was changed here
            continue
        if now == before or (before is None and now is None):
            fine.append(Edit(path, edit.value))
        else:
            conflicts.append(Conflict(path, before, now, edit.value, (Edit(path, edit.value),)))
    conflicts += [_lost_row(base, saved, row, wanted) for row, wanted in lost.items()]
    return fine, conflicts


def _moved(base: Tables, saved: Tables, path: Path) -> Path | None:
    """The same place in the saved document; None when its row is gone."""
    out: list[str | int] = []
    for k, part in enumerate(path):
        if isinstance(part, str):
            out.append(part)
            continue
        old, new = at(base, path[:k]) or [], at(saved, tuple(out)) or []
        if part >= len(old):
            out.append(len(new) + part - len(old))
            continue
        pairs = same_rows(old, new)
        if part not in pairs:
            return None
        out.append(pairs[part])
    return tuple(out)


def _row_of(base: Tables, saved: Tables, path: Path) -> Path:
    """The row of a path that is gone from the saved document."""
    ends = [k for k, part in enumerate(path) if isinstance(part, int) and _moved(base, saved, path[: k + 1]) is None]
    return path[: ends[0] + 1] if ends else path


def _lost_row(base: Tables, saved: Tables, row: Path, wanted: Sequence[Edit]) -> Conflict:
    """Somebody took away the row these edits change: mine would bring it back, changed."""
    kept = applied(base, wanted)
    whole = at(kept, row)
    where = (*row[:-1], len(at(saved, row[:-1]) or []))
    back = tuple(_changes(where, {}, whole)) if isinstance(whole, dict) else ()
    return Conflict(row, at(base, row), None, whole, back)
