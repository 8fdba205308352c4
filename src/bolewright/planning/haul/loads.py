"""What goes away on which truck, and what stays."""

from __future__ import annotations

import math

from bolewright.core.base.range import Range
from bolewright.core.ground.haul import Carrier, Item, bulk_volume, pack
from bolewright.job.model import Job
from bolewright.job.out import Load
from bolewright.planning.haul.results import LoadOut, Material
from bolewright.reference.haul import bulk_range

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


def loads_of(
    job: Job, materials: tuple[Material, ...], items: list[Item]
) -> tuple[tuple[LoadOut, ...], Range, tuple[str, ...]]:
    """The loads at their heaviest, their number as a range, and what no truck takes, one sentence each."""
    loads: list[LoadOut] = []
    lacking: list[str] = []
    count = [0, 0, 0]
    for material in materials:
        if material.stays or material.mass_kg.high <= 0.0:
            continue
        truck = next((one for one in job.load if not one.takes or material.kind in one.takes), None)
        if truck is None:
            lacking += [f"No truck is given that takes {material.kind}."] if job.load else []
            continue
        if material.kind == "logs":
            found, left = _log_loads(items, truck)
            lacking += left
            count = [have + len(found) for have in count]
        else:
            found, each = _bulk_loads(material, truck)
            count = [have + more for have, more in zip(count, each, strict=True)]
        loads += found
    return tuple(loads), Range(*map(float, count)), tuple(lacking)


def _log_loads(items: list[Item], truck: Load) -> tuple[list[LoadOut], list[str]]:
    carrier = Carrier(
        truck.name,
        truck.payload.likely,
        truck.volume.low if truck.volume else math.inf,
        truck.length.likely if truck.length else math.inf,
    )
    packed = pack(items, carrier)
    found = [LoadOut(truck.name, "logs", load.items, load.mass, load.room) for load in packed.loads]
    return found, [f"{name}: {reason}." for name, reason in packed.left]


def _bulk_loads(material: Material, truck: Load) -> tuple[list[LoadOut], list[int]]:
    """Chips or brush: as many loads as mass or room asks for, whichever is more."""

    def loads(mass: float, room: float) -> int:
        by_room = room / truck.volume.low if truck.volume else 0.0
        return max(math.ceil(max(mass / truck.payload.likely, by_room) - 1e-9), 1)

    low = loads(material.mass_kg.low, material.room_m3.low)
    likely = loads(material.mass_kg.likely, material.room_m3.likely)
    high = loads(material.mass_kg.high, material.room_m3.high)
    mass, room = material.mass_kg.high / high, material.room_m3.high / high
    name = material.kind
    return [LoadOut(truck.name, name, (f"{name} {n + 1}",), mass, room) for n in range(high)], [low, likely, high]
