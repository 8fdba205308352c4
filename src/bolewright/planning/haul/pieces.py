"""Which pieces get out as they are, by what, and where the rest must be cut shorter."""

from __future__ import annotations

import math

from bolewright.core.base.range import Range
from bolewright.core.ground.haul import Item, frustum_volume, stacked_volume
from bolewright.job.model import Job
from bolewright.planning.both import both_lengths, both_masses
from bolewright.planning.haul.results import PieceOut, RouteOut, Shorter
from bolewright.planning.passage.ways import BESIDE, QUARTERS, Way
from bolewright.planning.results import CutsResult, PieceWeight

SHORTEST_ROUND = 0.3  # m: shorter rounds are split along the grain instead (common practice)
NONE = Range.exact(0.0)


def in_order(pieces: tuple[PieceWeight, ...], cut: CutsResult | None) -> list[PieceWeight]:
    """The pieces in the order in which they come down; as they were found where there is no plan."""
    if cut is None or cut.status != "plan":
        return list(pieces)
    turn = {name: n for n, name in enumerate(p for step in cut.chosen.steps for p in step.takes)}
    return sorted(pieces, key=lambda piece: turn.get(piece.id, len(turn)))


def piece_out(piece: PieceWeight, job: Job, route: RouteOut, ways: list[Way]) -> PieceOut:
    """How one piece leaves: whole on the first way that takes it, else cut for the one that takes most."""
    thick = max(piece.diameter_start_m, piece.diameter_end_m)
    length = piece.end_m - piece.start_m
    if thick <= job.haul.chipper.likely + 1e-9:
        return PieceOut(
            piece.id,
            piece.member,
            NONE,
            piece.mass_kg,
            length,
            thick,
            "chipped",
            1,
            False,
            "thin enough for the chipper",
        )
    log, brush = piece.wood_kg, _sum(piece.small_wood_kg, piece.foliage_kg)
    narrow = route.narrowest_m is not None and thick + BESIDE > route.narrowest_m
    whole = next((w for w in ways if log.high <= w.most and length <= w.longest and not narrow), None)
    if whole is not None:
        why = f"fits {whole.name} as it is"
        return PieceOut(piece.id, piece.member, log, brush, length, thick, whole.name, 1, False, why)
    way = max(ways, key=lambda w: w.most)
    quartered = _quartered(piece, job, route, way)
    if quartered:
        why = _why(piece, thick, way, quartered, narrow, True, route)
        return PieceOut(piece.id, piece.member, log, brush, length, thick, way.name, quartered, True, why)
    parts = max(math.ceil(log.high / way.most), math.ceil(length / way.longest), 1)
    split = narrow or length / parts < SHORTEST_ROUND
    why = _why(piece, thick, way, parts, narrow, split, route)
    rounds = min(parts, max(int(length / SHORTEST_ROUND), 1))
    return PieceOut(piece.id, piece.member, log, brush, length, thick, way.name, parts, split, why, rounds)


def _quartered(piece: PieceWeight, job: Job, route: RouteOut, way: Way) -> int:
    """Parts of a round that gets out split along the grain alone, as the job says rounds are; 0 where it does not."""
    length, thick = piece.end_m - piece.start_m, max(piece.diameter_start_m, piece.diameter_end_m)
    assert job.access is not None
    if job.access.splits is None or length > min(job.access.splits.likely, way.longest) + 1e-9:
        return 0
    narrow = route.narrowest_m is not None and thick + BESIDE > route.narrowest_m
    if narrow and route.narrowest_m is not None and thick / 2.0 + BESIDE > route.narrowest_m:
        return 0
    parts = max(math.ceil(piece.wood_kg.high / way.most), QUARTERS if narrow else 2)
    return parts if parts <= QUARTERS else 0


def _why(piece: PieceWeight, thick: float, way: Way, parts: int, narrow: bool, split: bool, route: RouteOut) -> str:
    """The reason in words."""
    reasons = []
    if piece.wood_kg.high > way.most:
        heavy = both_masses(piece.wood_kg.high)
        reasons.append(f"too heavy for {way.name}: {heavy} at the heaviest, and it takes {both_masses(way.most)}")
    if narrow and route.narrowest_m is not None:
        reasons.append(f"{both_lengths(thick)} thick and the narrowest place is {both_lengths(route.narrowest_m)}")
    if not reasons:
        reasons.append(f"longer than {both_lengths(way.longest)}, the most that {way.name} or the truck takes")
    return f"{' and '.join(reasons)}; {parts} parts" + (", split along the grain" if split else "")


def shorter(piece: PieceWeight, out: PieceOut, way_most: float) -> Shorter | None:
    """What is said back to the cut order about a piece that has to be cut shorter; None when it leaves whole."""
    if out.parts <= 1 and not out.split:
        return None
    at = tuple(piece.start_m + out.length_m * n / out.rounds for n in range(1, out.rounds))
    each = out.log_kg.high / out.rounds
    in_parts = max(math.ceil(each / way_most), 2) if out.rounds > 1 else max(out.parts, 2)
    if at:
        where = ", ".join(both_lengths(place) for place in at)
        do = f"cut it again at {where} along {piece.member}, about {both_masses(each)} each at the heaviest"
        do += f"; split each round along the grain into {in_parts}" if out.split else ""
    else:
        do = f"split it along the grain into {in_parts}, about {both_masses(each / in_parts)} each at the heaviest"
    sentence = f"{piece.id} does not get out whole. It is {out.why}: {do}"
    return Shorter(piece.id, piece.member, at, way_most, sentence + ".")


def parts_of(piece: PieceWeight, out: PieceOut, end: str) -> list[Item]:
    """The parts of a piece as they are moved, at the low, likely or high end of their mass."""
    if out.way == "chipped":
        return []
    mass: float = getattr(out.log_kg, end) / out.parts
    solid = frustum_volume(piece.diameter_start_m, piece.diameter_end_m, out.length_m) / out.parts
    length = out.length_m / out.parts
    names = [piece.id] if out.parts == 1 else [f"{piece.id}/{n + 1}" for n in range(out.parts)]
    return [Item(name, mass, stacked_volume(solid), length) for name in names]


def _sum(first: Range, second: Range) -> Range:
    return Range(first.low + second.low, first.likely + second.likely, first.high + second.high)
