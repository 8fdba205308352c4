"""The way out over the lawn, as the crew's sheet has it: what to keep off, what is cut again, which truck."""

from __future__ import annotations

from typing import Any

from bolewright.documents.briefing import words as w
from bolewright.documents.common import no_way_out
from bolewright.documents.given import Given
from bolewright.documents.parts import Block, Section, facts, points, section, table, words
from bolewright.drawings import units as u
from bolewright.planning.both import in_one
from bolewright.planning.haul.results import OutResult, PieceOut, Shorter

MOST_PIECES = 40  # of one truck, by name


def way_out(given: Given) -> Section:
    """How the wood leaves the garden; why nothing is said where that was not worked out."""
    out, units = given.out, given.units
    if out is None:
        return section("Out over the lawn", words(no_way_out(given)))
    access = given.job.access
    keep_off = [f"{place.id} ({place.kind})" for place in access.no_go] if access is not None else []
    return section(
        "Out over the lawn",
        facts(*_rows(out, units)),
        words("Keep off:", strong=True),
        points(keep_off, "nothing entered: ask the owner what lies under the lawn"),
        *_outside(out),
        *_cut_again(out, units),
        words("On the trucks:", strong=True),
        _trucks(out, units),
        plain="How the wood leaves the garden, and what wheels must not touch.",
        wide=True,
    )


def _rows(out: OutResult, units: u.Units) -> list[tuple[str, Any]]:
    route, boards = out.route, out.boards
    sheets = f"{boards.needed} needed, {boards.have} on the truck; {boards.words}" if boards else "none entered"
    return [
        ("The way", f"{u.length(route.length_m, units)}, {u.length(route.soft_m, units)} of it soft"),
        ("Narrowest", u.length(route.narrowest_m, units) if route.narrowest_m is not None else None),
        ("With", f"{out.machine}, {out.trips} trips; {out.carries} carries by hand"),
        ("Heaviest part", u.mass_range(out.heaviest_kg, units)),
        ("Sheets", sheets),
        *_ground(out, units),
    ]


def _ground(out: OutResult, units: u.Units) -> list[tuple[str, str]]:
    """Pressure under the wheels beside its limit, with where that comes from."""
    ground = out.ground
    if ground is None:
        return []
    under = u.pressure_range(ground.boards_kPa or ground.bare_kPa, units)
    limit = f"{u.pressure(ground.limit_kPa, units)} ({ground.limit_source}; {ground.limit_status})"
    return [(f"On the {ground.surface}", f"{under}; limit {limit}")]


def _outside(out: OutResult) -> list[Block]:
    if not out.outside:
        return [] if out.shorter else [points((), "Nothing is outside the limits set.")]
    return [words("Outside the limits set:", strong=True), points(out.outside)]


def _cut_again(out: OutResult, units: u.Units) -> list[Block]:
    """Pieces that do not get out whole: how long they are, why, and where to cut."""
    if not out.shorter:
        return []
    pieces = {piece.id: piece for piece in out.pieces}
    rows = [_piece(pieces[one.piece], one, units) for one in out.shorter]
    heads = ("Piece", "Long", "Why, and into how many", "Cut it at")
    return [words("Does not get out whole:", strong=True), table((0.5, 0.8, 3.6, 2.1), heads, rows)]


def _piece(piece: PieceOut, said: Shorter, units: u.Units) -> list[str]:
    at = ", ".join(u.length(place, units) for place in said.at_m)
    where = f"{at} on {said.member}" if at else "–"
    return [piece.id, u.length(piece.length_m, units), in_one(piece.why, units), where]


def _trucks(out: OutResult, units: u.Units) -> Block:
    rows = (
        [one.carrier, one.kind, w.listed(list(one.items), MOST_PIECES), u.mass(one.mass_kg, units)] for one in out.loads
    )
    heads = ("Truck", "With", "Pieces", "At the heaviest")
    return table((1.1, 0.6, 3.4, 0.9), heads, rows, right=(3,), empty="No truck is entered.")
