"""Props to count with and wood left on: on wood that is there, waiting for limbs that are there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from bolewright.job.checks.members import Members, fault_in, likely
from bolewright.job.faults import Fault, shown
from bolewright.job.model import STEM, Job


def wanted_faults(job: Job, members: Members) -> Iterator[Fault]:
    """Every fault of props and of wood left on."""
    ids = [prop.id for prop in job.prop or ()]
    for n, prop in enumerate(job.prop or ()):
        beyond = members.beyond(STEM, prop.at)
        if beyond:
            yield fault_in("prop", n, ids, "at", beyond)
    nameless = [None] * len(job.leave or ())
    for n, leave in enumerate(job.leave or ()):
        for field, sentence in _left(leave, job, members):
            yield fault_in("leave", n, nameless, field, sentence)


def _left(leave: Any, job: Job, members: Members) -> Iterator[tuple[str, str]]:
    for field, name in (("member", leave.member), ("until", leave.until)):
        unknown = members.unknown(name) if name is not None else None
        if unknown:
            yield field, unknown
            return
    beyond = members.beyond(leave.member, leave.at) if leave.member is not None else None
    if beyond:
        yield "at", beyond
    if leave.until == STEM:
        yield "until", "Wood waits for a limb to be off, not for the stem."
    elif leave.until is not None and leave.until in _under(leave.member, likely(leave.at), job):
        yield "until", f"{shown(leave.member)} comes off with {shown(leave.until)}, so it cannot wait for it."


def _under(member: str | None, at: float | None, job: Job) -> list[str]:
    """The limb itself and what it grows from, limb after limb."""
    if at is None:
        return []
    grows = {limb.id: limb.on for limb in (job.tree.limb if job.tree else ()) or ()}
    found: list[str] = []
    while member is not None and member != STEM and member not in found:
        found.append(member)
        member = grows.get(member)
    return found
