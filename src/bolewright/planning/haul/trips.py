"""Who takes which part out, and in how many trips."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bolewright.core.base.range import Range
from bolewright.core.ground.haul import Carrier, Item, Packed, pack
from bolewright.job.model import Job
from bolewright.planning.haul.pieces import in_order, parts_of, piece_out, shorter
from bolewright.planning.haul.results import PieceOut, RouteOut, Shorter
from bolewright.planning.passage.ways import BY_HAND, Way, ways_of
from bolewright.planning.results import CutsResult, PieceWeight

DRAG = 25.0  # kg of brush one person drags at a time (common practice)
ENDS = ("low", "likely", "high")
Moved = list[tuple[str, Item]]


@dataclass(frozen=True)
class Journey:
    """All parts on their way: pieces with how they leave, what is said back, and the trips at the three ends."""

    pieces: tuple[PieceWeight, ...]
    outs: tuple[PieceOut, ...]
    said: tuple[Shorter, ...]
    refused: tuple[str, ...]  # why a machine cannot go, one sentence each
    main: Way  # what carries most
    moved: dict[str, Moved]
    packed: dict[str, dict[str, Packed]]

    @property
    def items(self) -> list[Item]:
        """Every part that is moved, at its heaviest, in order."""
        return [item for _, item in self.moved["high"]]

    @property
    def on_wheels(self) -> int:
        """Trips of machines at the heaviest."""
        return sum(len(one.loads) for one in self.packed["high"].values())

    @property
    def in_hand(self) -> int:
        """Parts carried by hand."""
        return sum(way == BY_HAND for way, _ in self.moved["high"])

    @property
    def trips(self) -> int:
        """Trips of machines, or of hands with a log where there is none."""
        return self.on_wheels or self.in_hand

    @property
    def carries(self) -> int:
        """What is carried or dragged by hand, brush included."""
        return self.in_hand + math.ceil(self.brush.high / DRAG)

    @property
    def brush(self) -> Range:
        """Brush and thin wood in all [kg]."""
        return total([one.brush_kg for one in self.outs])

    @property
    def logs(self) -> Range:
        """Logs in all [kg]."""
        return total([one.log_kg for one in self.outs])

    @property
    def heaviest(self) -> Range:
        """The heaviest single part [kg]."""
        return _rising([max((item.mass for _, item in self.moved[end]), default=0.0) for end in ENDS])

    @property
    def carried(self) -> Range:
        """The heaviest trip of the main machine [kg]."""
        packs = [self.packed[end].get(self.main.name) for end in ENDS]
        return _rising([max((load.mass for load in one.loads), default=0.0) if one else 0.0 for one in packs])


def journey_of(job: Job, route: RouteOut, found: tuple[PieceWeight, ...], cut: CutsResult | None) -> Journey:
    """How every piece leaves and in how many trips. Raises BadInput for a machine that takes nothing."""
    pieces = in_order(found, cut)
    ways, refused = ways_of(job, route)
    outs = [piece_out(piece, job, route, ways) for piece in pieces]
    most = max(way.most for way in ways)
    said = [shorter(piece, one, most) for piece, one in zip(pieces, outs, strict=True)]
    moved = {end: _moved(pieces, outs, end) for end in ENDS}
    packed = {end: _trips(parts, ways) for end, parts in moved.items()}
    return Journey(
        tuple(pieces),
        tuple(outs),
        tuple(one for one in said if one),
        tuple(refused),
        _busiest(packed["high"], ways),
        moved,
        packed,
    )


def total(ranges: list[Range]) -> Range:
    """The sum with its ends added up."""
    return Range(sum(r.low for r in ranges), sum(r.likely for r in ranges), sum(r.high for r in ranges))


def _rising(ends: list[float]) -> Range:
    low, likely, high = sorted(ends)  # fewer, heavier trips at one end may cross over
    return Range(low, likely, high)


def _moved(pieces: list[PieceWeight], outs: list[PieceOut], end: str) -> Moved:
    return [(one.way, item) for piece, one in zip(pieces, outs, strict=True) for item in parts_of(piece, one, end)]


def _trips(moved: Moved, ways: list[Way]) -> dict[str, Packed]:
    """The trips of every machine, in the order the parts come."""
    return {
        way.name: pack([item for name, item in moved if name == way.name], Carrier(way.name, way.most * (1 + 1e-9)))
        for way in ways
        if way.machine is not None
    }


def _busiest(packed: dict[str, Packed], ways: list[Way]) -> Way:
    """The machine with the heaviest trips, hands without one."""
    heaviest = {name: max((load.mass for load in one.loads), default=0.0) for name, one in packed.items()}
    name = max(heaviest, key=lambda key: heaviest[key], default=BY_HAND)
    return next(way for way in ways if way.name == (name if heaviest.get(name, 0.0) > 0.0 else BY_HAND))
