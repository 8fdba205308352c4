"""What holds the tree up, as text."""

from __future__ import annotations

import math

from rich.console import Console

from bolewright.cli.show import page as sheet
from bolewright.cli.show.page import Units
from bolewright.core.base.range import Range
from bolewright.drawings import units as words
from bolewright.planning.results import HoldResult, Learnt, PieceRole, PlateOutcome, SupportForce

ANSWERS = {
    "held": "HELD where it lies",
    "not held": "NOT HELD where it lies",
    "can roll": "CAN ROLL",
    "can slide": "CAN SLIDE",
}
HAZARDS = {"not held": ("people", "stored energy"), "can roll": ("roll",), "can slide": ("sliding",)}
SUPPORT_COLUMNS = ("Support", "Carries", "At most")
LEARNT_COLUMNS = ("Read at", "After step", "Read", "Foreseen", "Foreseen now")
PIECE_COLUMNS = ("Piece", "Is a", "Building, if it were gone")


def show(title: str, result: HoldResult, units: Units, sources: bool = True) -> None:
    """Print the answer, the supports, the margins and what each piece does."""
    page = sheet.console()
    sheet.answer(page, title, ANSWERS.get(result.status, result.status), good=result.status == "held")
    if result.motion is not None and result.motion.kind != "held":
        moved = sheet.moved(result.motion, units)
        sheet.line(page, moved[:1].upper() + moved[1:])
    sheet.cautions(page, *HAZARDS.get(result.status, ()))
    if result.gone:
        sheet.line(page, f"Off by now: {', '.join(result.gone)}. What follows is of what is left.")
    if result.supports:
        sheet.line(page, f"Building carries {sheet.likely_force(result.building_N, units)}")
    what = "Tree with its root plate" if result.plate else "Tree"
    sheet.line(page, f"{what} weighs {sheet.likely_force(result.total_N, units)}")
    touching = [force for force in result.supports if not _only_possible(force)]
    if touching:
        sheet.heading(page, "Supports")
        sheet.table(page, SUPPORT_COLUMNS, (_support(force, units) for force in touching))
    _possible(page, [force for force in result.supports if _only_possible(force)], units)
    _margins(page, result, units)
    if result.learnt:
        sheet.heading(page, "What was read, beside what was foreseen")
        sheet.table(page, LEARNT_COLUMNS, (_learnt(row, units) for row in result.learnt))
    if result.pieces:
        sheet.heading(page, "What each piece does")
        sheet.table(page, PIECE_COLUMNS, (_piece(role, units) for role in result.pieces))
    _plate(page, result.plate, units)
    sheet.notes(page, result.notes)
    sheet.filled_in(page, result.filled_in if sources else (), units)


def _support(force: SupportForce, units: Units) -> tuple[str, str, str]:
    bound = force.cannot_exceed_N
    most = words.force(bound, units) if math.isfinite(bound) else "no bound"
    carried = words.force_range(force.force_N, units) if force.state == "carries" else force.state
    name = force.id if force.kind in force.id else f"{force.id} ({force.kind})"
    return name, f"{carried}; {force.note}" if force.note else carried, most


def _learnt(row: Learnt, units: Units) -> tuple[str, ...]:
    read = row.said if row.read is None else words.reading(row.read, row.kind, units)
    foreseen, now = (words.reading(value, row.kind, units) for value in (row.foreseen, row.now))
    return row.on, str(row.after_steps or "as found"), read, foreseen, now


def _only_possible(force: SupportForce) -> bool:
    """A place where the tree would land if it moved, and does not touch now."""
    return force.kind == "possible" and force.state == "not touching"


def _possible(page: Console, places: list[SupportForce], units: Units) -> None:
    """One line for all places looked at that do not touch, with the nearest."""
    nearest = min(places, key=lambda force: force.gap_m.likely if force.gap_m else math.inf, default=None)
    if nearest is None or nearest.gap_m is None:
        return
    count = f"{len(places)} more places looked at" if len(places) > 1 else "One more place looked at"
    gap = words.small(nearest.gap_m.likely, units)
    sheet.line(page, f"{count}, not touching; nearest: {nearest.id}, {gap} off")


def _piece(role: PieceRole, units: Units) -> tuple[str, str, str]:
    return role.id, role.role, change(role.building_change_N, units)


def change(force: Range, units: Units) -> str:
    """A change of load in words: "1,200 lb more (900 to 1,500)"."""
    turned = force if force.likely >= 0 else force.scaled(-1.0)
    if words.force(turned.likely, units) == words.force(0.0, units):
        return "no change"
    number, _, rest = words.force_range(turned, units).partition(" (")
    return f"{number} {'more' if force.likely >= 0 else 'less'}" + (f" ({rest}" if rest else "")


def _margins(page: Console, result: HoldResult, units: Units) -> None:
    margins = result.margins
    if margins is None:
        return
    sheet.heading(page, "How far from moving")
    tip, roll = words.length(margins.tipping_m, units), words.length(margins.rolling_m, units)
    sheet.line(page, f"Tips if its weight shifts {tip} {margins.tipping_towards}", indent=2)
    rolls = f"Rolls if its weight shifts {roll} {margins.rolling_towards}"
    sheet.line(page, "Rolls: nothing keeps it from it" if result.status == "can roll" else rolls, indent=2)
    if margins.friction_needed is not None:
        needed = f"Needs friction {margins.friction_needed:.2f}; low value taken {margins.friction_low:.2f}"
        known = margins.sliding_ratio is not None and math.isfinite(margins.sliding_ratio)
        ratio = f" (ratio {margins.sliding_ratio:.2f}, below 1 it can slide)" if known else ""
        sheet.line(page, needed + ratio, indent=2)
    if margins.note:
        sheet.line(page, margins.note, indent=2)


def _plate(page: Console, outcomes: tuple[PlateOutcome, ...], units: Units) -> None:
    if not outcomes:
        return
    sheet.heading(page, "Root plate once the stem is cut off")
    sheet.cautions(page, "root plate")
    for outcome in outcomes:
        shares = ", ".join(f"{name} {share:.0%}" for name, share in outcome.share.items() if share > 0)
        stub = words.length(outcome.stub_m, units)
        sheet.line(page, f"Stub {stub}: {outcome.outcome}" + (f" ({shares} of samples)" if shares else ""), indent=2)
