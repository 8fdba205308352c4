"""The way out, machines and loads: names used once, every stretch with a length, boards that can be lapped."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from bolewright.job.checks.members import SLACK, fault_in
from bolewright.job.faults import Fault, shown
from bolewright.job.model import Job


def out_faults(job: Job) -> Iterator[Fault]:
    """Every fault of what concerns getting the wood out."""
    yield from _names("machine", [machine.name for machine in job.machine or ()], "name")
    yield from _names("change", [change.id for change in job.change or ()], "id")
    yield from _names("load", [load.name for load in job.load or ()], "name")
    if job.access is not None:
        yield from _names("access.gate", [gate.id for gate in job.access.gate or ()], "id")
        yield from _names("access.no_go", [place.id for place in job.access.no_go or ()], "id")
        # in a salvaged job a length that could not be read looks like one that was not given: that is told already
        yield from _legs(job.access) if job.model_fields_set else ()
        yield from _places(job.access)
    if job.boards is not None:
        yield from _boards(job.boards)
    yield from _wheels(job.machine or ())
    if job.crane is not None and job.model_fields_set:
        yield from _crane(job.crane)
    yield from _forecast(job)


def _names(table: str, names: list[Any], field: str) -> Iterator[Fault]:
    for n, name in enumerate(names):
        if name is not None and name in names[:n]:
            yield fault_in(table, n, names, field, f"The name {shown(name)} is used twice: give each its own.")


def _legs(access: Any) -> Iterator[Fault]:
    """Each stretch needs a length, or points at both its ends."""
    legs = access.leg or ()
    ids: list[Any] = [None] * len(legs)
    known = access.start is not None
    for n, leg in enumerate(legs):
        if leg.length is None and not (known and leg.to is not None):
            missing = "a length, or the point it runs to" if known else "a length"
            yield fault_in("access.leg", n, ids, "length", f"This stretch needs {missing}.")
        known = leg.to is not None


def _places(access: Any) -> Iterator[Fault]:
    ids = [place.id for place in access.no_go or ()]
    for n, place in enumerate(access.no_go or ()):
        if place.near is not None and place.far is not None and place.near.likely >= place.far.likely - SLACK:
            sentence = f'The far side ("{place.far}") has to be farther from the butt than the near side.'
            yield fault_in("access.no_go", n, ids, "far", sentence)
        if place.left is not None and place.right is not None and place.left.likely + place.right.likely <= SLACK:
            yield fault_in("access.no_go", n, ids, "right", "There is nothing between the left and the right side.")


def _boards(boards: Any) -> Iterator[Fault]:
    short = [side.likely for side in (boards.length, boards.width) if side is not None]
    if boards.lap is not None and short and boards.lap.likely >= 0.45 * min(short):
        yield Fault("boards.lap", f'A lap of "{boards.lap}" takes up nearly half of a sheet: make it shorter.')
    if boards.thickness is not None and boards.thickness.likely > 0.2:
        yield Fault("boards.thickness", f'"{boards.thickness}" is no sheet: check the number and its unit.')


def _wheels(machines: Any) -> Iterator[Fault]:
    """A wheel cannot carry more than machine and load together."""
    names = [machine.name for machine in machines]
    for n, machine in enumerate(machines):
        if machine.wheel_load is None or machine.mass is None or machine.payload is None:
            continue
        if machine.wheel_load.likely > machine.mass.likely + machine.payload.likely + SLACK:
            sentence = f'One wheel at "{machine.wheel_load}" is more than machine and load together: check them.'
            yield fault_in("machine", n, names, "wheel_load", sentence)


def _crane(crane: Any) -> Iterator[Fault]:
    """A radius for all pieces, or the spot from which each has its own."""
    if crane.radius is None and crane.at is None:
        yield Fault("crane.radius", "Give the radius at which the pieces are picked, or the spot the boom turns at.")


def _forecast(job: Job) -> Iterator[Fault]:
    for n, hours in enumerate(job.day.forecast if job.day is not None else ()):
        if hours.from_ is not None and hours.to is not None and hours.from_ >= hours.to:
            yield Fault(f"day.forecast[{n}].to", f'These gusts end at "{hours.to}", before they begin.')
