"""What holds the tree up and what it weighs, as tables."""

from __future__ import annotations

from typing import Any

from bolewright.core.base.range import Range
from bolewright.documents.briefing import words as w
from bolewright.drawings import units as u
from bolewright.drawings.units import Units
from bolewright.planning.results import HoldResult, Margins, PieceWeight, SupportForce, WeighResult

MEANINGS = (
    ("prop", "carries load"),
    ("counterweight", "taking it off loads the building more"),
    ("ballast", "taking it off relieves the building"),
    ("idle", "taking it off changes little"),
)


def holding(weigh: WeighResult, hold: HoldResult, units: Units) -> dict[str, Any]:
    """Supports, pieces, margins and the root plate."""
    present = {role.role for role in hold.pieces}
    return {
        "supports": [_support(support, units) for support in hold.supports if support.gap_m is None],
        "clear": [_clear(support, units) for support in sorted(hold.supports, key=_gap) if support.gap_m is not None],
        "building": w.force(hold.building_N, units),
        "total": w.force(hold.total_N, units),
        "whole": "All that rests, with the root plate" if weigh.plate_kg is not None else "Whole tree",
        "pieces": _pieces(weigh, hold, units),
        "meanings": [[word, meaning] for word, meaning in MEANINGS if word in present],
        "margins": _margins(hold.margins, hold.status == "can roll", units) if hold.margins else [],
        "plate": [_outcome(outcome.stub_m, outcome.outcome, outcome.share, units) for outcome in hold.plate],
        "notes": list(dict.fromkeys([*hold.notes, *weigh.notes])),
    }


def _support(support: SupportForce, units: Units) -> dict[str, Any]:
    touching = support.state != "not touching"
    remarks = [f"limit set: {u.force(support.limit_N, units)}"] if support.limit_N is not None else []
    remarks += [support.note] if support.note else []
    if support.full_force_N is not None and touching:
        remarks.append(f"with friction {u.force(support.full_force_N, units)}")
    return {
        "id": support.id,
        "kind": support.kind + (", on the building" if support.on_building else ""),
        "where": w.place_on(support.member, support.at_m, units),
        "force": w.force(support.force_N, units) if touching else ("–", ""),
        "bound": w.bound(support.cannot_exceed_N, touching, units),
        "state": support.state,
        "remarks": "; ".join(remarks),
    }


def _gap(support: SupportForce) -> float:
    return support.gap_m.likely if support.gap_m is not None else 0.0


def _clear(support: SupportForce, units: Units) -> list[str]:
    """A place that would catch the tree, and how far off it is."""
    assert support.gap_m is not None
    building = " (building)" if support.on_building else ""
    return [
        u.small(support.gap_m.likely, units),
        f"{support.id}{building}, {w.place_on(support.member, support.at_m, units)}",
    ]


def _pieces(weigh: WeighResult, hold: HoldResult, units: Units) -> list[dict[str, Any]]:
    """Pieces as weighed, each with its role where that is known; roles of other pieces after them."""
    roles = {role.id: role for role in hold.pieces}
    weights = {piece.id: piece for piece in weigh.pieces}
    return [_piece(name, weights.get(name), roles.get(name), units) for name in dict.fromkeys([*weights, *roles])]


def _piece(name: str, weight: PieceWeight | None, role: Any, units: Units) -> dict[str, Any]:
    part = _part(weight, units) if weight else ""
    return {
        "id": name,
        "part": part,
        "mass": w.mass(weight.mass_kg, units) if weight else ("–", ""),
        "role": role.role if role else "–",
        "change": w.change(role.building_change_N, units) if role else "–",
        "why": role.why if role else "",
    }


def _part(piece: PieceWeight, units: Units) -> str:
    ends = f"{u.length(piece.start_m, units)} to {u.length(piece.end_m, units)}"
    thick = dict.fromkeys([u.size(piece.diameter_start_m, units), u.size(piece.diameter_end_m, units)])
    return f"{piece.member} {ends}, {' to '.join(thick)} thick"


def _margins(margins: Margins, rolls: bool, units: Units) -> list[list[str]]:
    rolling = f"{u.length(margins.rolling_m, units)} to spare {margins.rolling_towards}"
    rows = [
        ["Tipping", f"{u.length(margins.tipping_m, units)} to spare {margins.tipping_towards}"],
        ["Rolling", "it can roll" if rolls else rolling],
    ]
    if margins.friction_needed is not None:
        sliding = f"needs friction {margins.friction_needed:.2f}; low value taken {margins.friction_low:.2f}"
        rows.append(["Sliding", sliding])
    else:
        rows.append(["Sliding", f"no friction tried holds it by itself; low value taken {margins.friction_low:.2f}"])
    return [*rows, ["", margins.note]] if margins.note else rows


def _outcome(stub: float, outcome: str, share: dict[str, float], units: Units) -> list[str]:
    shares = ", ".join(f"{name} {part:.0%}" for name, part in share.items() if part > 0)
    return [u.length(stub, units), outcome, shares]


def forces_table(before: dict[str, Range], after: dict[str, Range], units: Units) -> list[dict[str, Any]]:
    """Each support before and after a step, with the word for what became of it."""
    return [_before_after(name, before.get(name), after.get(name), units) for name in dict.fromkeys([*before, *after])]


def _before_after(name: str, before: Range | None, after: Range | None, units: Units) -> dict[str, Any]:
    was, now = (w.force(value, units) if value is not None else ("–", "") for value in (before, after))
    word = _became(before, after, was[0], now[0])
    return {"id": name, "before": was, "after": now, "word": word}


def _became(before: Range | None, after: Range | None, was: str, now: str) -> str:
    if after is None:
        return "gone"
    if before is None:
        return "new"
    if was == now:
        return "same"
    return "more" if after.likely > before.likely else "less"
