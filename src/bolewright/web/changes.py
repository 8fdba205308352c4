"""A change tried on the page What if, as edits of the job: a cut moved, a prop or line added, wood left on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from bolewright.planning.holding.body import Body
from bolewright.store.edits import Edit, Path, at
from bolewright.web.typed import with_unit

LINE_KINDS = ("tie-back", "lowering", "crane")
LENGTHS = {"us": "ft", "metric": "m"}
FORCES = {"us": "lb", "metric": "kN"}
NEVER = ""


class NotWhole(Exception):
    """What is missing in the change, in one sentence."""


@dataclass(frozen=True)
class Change:
    """The change in words and as edits."""

    words: str
    edits: tuple[Edit, ...]


def change_of(given: Mapping[str, str], document: Any, body: Body, units: str) -> Change:
    """The change asked for. Raises NotWhole when it cannot be told from what was given."""
    makers = {"cut": _moved_cut, "prop": _prop, "line": _line, "leave": _leave}
    make = makers.get(given.get("what", ""))
    if make is None:
        raise NotWhole("Choose what to change.")
    return make({k: v.strip()[:80] for k, v in given.items()}, document, body, units)


def _moved_cut(given: Mapping[str, str], document: Any, body: Body, units: str) -> Change:
    """All cuts of the member are written down, since a member with a cut given gets no others."""
    piece = next((p for p in body.pieces if p.id == given.get("piece")), None)
    if piece is None:
        raise NotWhole("Choose the piece whose cut is to be moved.")
    where = _length(given, "at", "how far along the cut is to be", units)
    own = [p for p in body.pieces if p.member == piece.member and p.start > body.assembly.stub_of(piece.member) + 1e-6]
    rows = document.get("cut") if isinstance(document.get("cut"), list) else []
    others = [row for row in rows if not (isinstance(row, dict) and row.get("member", "stem") == piece.member)]
    cuts = [*others, *({"member": p.member, "at": where if p is piece else _metres(p.start)} for p in own)]
    if piece not in own:
        cuts.append({"member": piece.member, "at": where})
    edits = [Edit(("cut", n, key), value) for n, row in enumerate(cuts) for key, value in row.items()]
    edits += [Edit(("cut", n)) for n in range(len(cuts), len(rows))]
    return Change(f"the cut of {piece.id} at {where}", tuple(edits))


def _prop(given: Mapping[str, str], document: Any, _: Body, units: str) -> Change:
    where = _length(given, "at", "where the prop is to stand", units)
    name = _free_name("P", document)
    row = {"id": name, "at": where, "jacked": with_unit(given.get("jacked", ""), FORCES[units]) or None}
    tight = f", jacked to {row['jacked']}" if row["jacked"] else ", snug"
    return Change(f"a prop {name} under the stem at {where}{tight}", _row("prop", row, document))


def _line(given: Mapping[str, str], document: Any, _: Body, units: str) -> Change:
    where = _length(given, "at", "where the line is tied", units)
    name = _free_name("line ", document)
    kind = given.get("kind", "")
    if kind not in LINE_KINDS:
        raise NotWhole("Choose what the line is for.")
    anchor = {k: _length(given, k, f"how far {k} it goes", units) for k in ("forward", "right", "height")}
    pull = with_unit(given.get("pull", ""), FORCES[units]) or None
    member = given.get("member") or "stem"
    row = {"id": name, "member": member, "at": where, "kind": kind, "anchor": anchor, "pull": pull}
    return Change(f"a {kind} line on {member} at {where}", _row("line", row, document))


def _leave(given: Mapping[str, str], document: Any, body: Body, _: str) -> Change:
    piece = next((p for p in body.pieces if p.id == given.get("piece")), None)
    if piece is None:
        raise NotWhole("Choose the piece that stays on.")
    until = given.get("until", NEVER)
    row = {"member": piece.member, "at": _metres(0.5 * (piece.start + piece.end)), "until": until or None}
    words = f"{piece.id} not before {until} is off" if until else f"{piece.id} never taken"
    return Change(words, _row("leave", row, document))


def _row(table: str, row: Mapping[str, Any], document: Any) -> tuple[Edit, ...]:
    """A new row at the end of a table."""
    rows = at(document, (table,))
    place: Path = (table, len(rows) if isinstance(rows, list) else 0)
    flat: dict[Path, Any] = {(k,): v for k, v in row.items() if not isinstance(v, dict)}
    flat |= {(k, inner): v for k, d in row.items() if isinstance(d, dict) for inner, v in d.items()}
    return tuple(Edit((*place, *keys), value) for keys, value in flat.items() if value is not None)


def _length(given: Mapping[str, str], name: str, what: str, units: str) -> str:
    if not given.get(name):
        raise NotWhole(f"Say {what}.")
    return with_unit(given[name], LENGTHS[units])


def _metres(value: float) -> str:
    return f"{value:.3f} m"


def _free_name(start: str, document: Any) -> str:
    """A name no support, line or prop has."""
    rows = [row for table in ("support", "line", "prop", "done") for row in at(document, (table,)) or ()]
    taken = {str(row.get("id")) for row in rows if isinstance(row, dict)}
    return next(name for n in range(1, 1000) if (name := f"{start}{n}") not in taken)
