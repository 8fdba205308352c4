"""What goes away on which truck, and what stays."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bolewright.core.base.range import Range
from bolewright.core.ground.haul import Carrier, Item, Packed, bulk_volume, pack
from bolewright.job.model import Job
from bolewright.job.out import Load
from bolewright.planning.haul.results import LoadOut, Material, Tipped
from bolewright.reference.haul import bulk_range

ENDS = ("low", "likely", "high")
STACK = "round wood fills about two thirds of its stack (cord of 128 ft3 with 85 ft3 of wood)"


def brush_kind(job: Job) -> str:
    """Chips, or loose brush where a truck takes that and none takes chips."""
    takes = [load.takes for load in job.load]
    loose = any("brush" in kinds for kinds in takes) and not any("chips" in kinds or not kinds for kinds in takes)
    return "brush" if loose else "chips"


def materials_of(job: Job, logs: Range, log_room: float, brush: Range) -> tuple[Material, ...]:
    """Logs and chips (or brush) of the whole tree with the room they take."""
    kind = brush_kind(job)
    bulk = bulk_range(kind)
    room = Range(0.85 * log_room, log_room, 1.25 * log_room)
    return (
        Material("logs", logs, room, "logs" in job.haul.stays, STACK, "confirmed"),
        Material(kind, brush, bulk_volume(brush, bulk.value), kind in job.haul.stays, bulk.source, str(bulk.status)),
    )


@dataclass(frozen=True)
class Driven:
    """What is driven away: loads at their heaviest, what each truck takes in all, and what no truck takes."""

    loads: tuple[LoadOut, ...]
    tipped: tuple[Tipped, ...]
    lacking: tuple[str, ...]  # one sentence each

    @property
    def count(self) -> Range:
        """Loads in all at the lightest, likely and heaviest."""
        return Range(*(sum(getattr(one.loads, end) for one in self.tipped) for end in ENDS))


def driven_away(job: Job, materials: tuple[Material, ...], items: dict[str, list[Item]]) -> Driven:
    """Everything that does not stay, on the trucks in the order they are given; items at the three ends of mass.

    Logs go in the order they come on the first truck for logs that takes them; a truck farther down takes only what
    those before it cannot. Chips and brush go by mass or room, whichever asks for more loads.
    """
    loads: list[LoadOut] = []
    tipped: list[Tipped] = []
    lacking: list[str] = []
    for material in materials:
        if material.stays or material.mass_kg.high <= 0.0:
            continue
        trucks = [one for one in job.load if not one.takes or material.kind in one.takes]
        if not trucks:
            lacking += [f"No truck is given that takes {material.kind}."] if job.load else []
        elif material.kind == "logs":
            found = _log_loads(items, trucks)
            loads, tipped, lacking = [*loads, *found.loads], [*tipped, *found.tipped], [*lacking, *found.lacking]
        else:
            more, whole = _bulk_loads(material, trucks[0])
            loads, tipped = [*loads, *more], [*tipped, whole]
    return Driven(tuple(loads), tuple(tipped), tuple(lacking))


def _log_loads(items: dict[str, list[Item]], trucks: list[Load]) -> Driven:
    """Logs packed in order at each end of their mass; the loads shown are the heaviest."""
    packed = {end: _packed(items[end], trucks) for end in ENDS}
    loads, tipped = [], []
    for n, truck in enumerate(trucks):
        each = [packed[end][0][n] for end in ENDS]
        if not any(one.loads for one in each):
            continue
        loads += [LoadOut(truck.name, "logs", load.items, load.mass, load.room) for load in each[2].loads]
        counts, masses, rooms = (
            Range(*sorted(values))
            for values in zip(
                *((len(one.loads), sum(x.mass for x in one.loads), sum(x.room for x in one.loads)) for one in each),
                strict=True,
            )
        )
        tipped.append(Tipped(truck.name, "logs", counts, masses, rooms))
    return Driven(tuple(loads), tuple(tipped), tuple(f"{name}: {reason}." for name, reason in packed["high"][1]))


def _packed(items: list[Item], trucks: list[Load]) -> tuple[list[Packed], tuple[tuple[str, str], ...]]:
    """What each truck takes, and what none does with the reason of the first."""
    found, left = [], tuple((item.id, "") for item in items)
    reasons: dict[str, str] = {}
    for truck in trucks:
        names = {name for name, _ in left}
        one = pack([item for item in items if item.id in names], _carrier(truck))
        found.append(one)
        left = one.left
        reasons = {**dict(left), **reasons}
    return found, tuple((name, reasons[name]) for name, _ in left)


def _carrier(truck: Load) -> Carrier:
    room = truck.volume.low if truck.volume else math.inf
    return Carrier(truck.name, truck.payload.likely, room, truck.length.likely if truck.length else math.inf)


def _bulk_loads(material: Material, truck: Load) -> tuple[list[LoadOut], Tipped]:
    """Chips or brush: as many loads as mass or room asks for, whichever is more."""

    def loads(mass: float, room: float) -> int:
        by_room = room / truck.volume.low if truck.volume else 0.0
        return max(math.ceil(max(mass / truck.payload.likely, by_room) - 1e-9), 1)

    low = loads(material.mass_kg.low, material.room_m3.low)
    likely = loads(material.mass_kg.likely, material.room_m3.likely)
    high = loads(material.mass_kg.high, material.room_m3.high)
    mass, room, name = material.mass_kg.high / high, material.room_m3.high / high, material.kind
    whole = Tipped(truck.name, name, Range(float(low), float(likely), float(high)), material.mass_kg, material.room_m3)
    return [LoadOut(truck.name, name, (f"{name} {n + 1}",), mass, room) for n in range(high)], whole
