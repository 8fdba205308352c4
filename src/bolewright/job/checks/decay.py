"""Decay: a stretch that lies on its member, with less sound wood than there is radius."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from bolewright.job.checks.members import SLACK, Members, fault_in
from bolewright.job.faults import Fault
from bolewright.job.model import Job

TABLE = "tree.decay"


def decay_faults(job: Job, members: Members) -> Iterator[Fault]:
    """Every fault of the stretches of decay."""
    stretches: tuple[Any, ...] = (job.tree.decay if job.tree else ()) or ()
    nameless = [None] * len(stretches)
    for n, decay in enumerate(stretches):
        for field, sentence in (*_one(decay, members), *_overlap(stretches, n)):
            yield fault_in(TABLE, n, nameless, field, sentence)


def _one(decay: Any, members: Members) -> Iterator[tuple[str, str]]:
    """(field, sentence) for each fault of one stretch."""
    if decay.from_ is not None and decay.to is not None and decay.from_.likely >= decay.to.likely - SLACK:
        yield "to", f'The decay runs from "{decay.from_}" to "{decay.to}": it has to end farther out than it starts.'
        return
    depths = [depth for _, depth in decay.shells]
    if depths and max(depth.likely for depth in depths) <= 0:
        field = "readings" if decay.readings else "shell"
        yield field, "There is no sound wood left here: one depth has to be more than 0."
    if decay.member is None:
        return
    unknown = members.unknown(decay.member)
    if unknown:
        yield "member", unknown
        return
    beyond = members.beyond(decay.member, decay.to)
    if beyond:
        yield "to", beyond
    else:
        yield from _too_deep(decay, members)


def _too_deep(decay: Any, members: Members) -> Iterator[tuple[str, str]]:
    """Sound wood deeper than the radius at an end of the stretch or at a station within it."""
    if decay.from_ is None or decay.to is None:
        return
    member = members.by_id[decay.member]
    start, end = decay.from_.likely, decay.to.likely
    places = [start, end, *(s for s, _ in member.points if start < s < end)]
    diameters = [d for d in (member.diameter(s) for s in places) if d is not None]
    if not diameters:
        return
    radius = min(diameters) / 2
    for clock, depth in (decay.readings or {"": decay.shell}).items():
        if depth is not None and depth.likely > radius + SLACK:
            at = f" at {clock} o'clock" if clock else ""
            yield (
                "readings" if clock else "shell",
                f'"{depth}" of sound wood{at} is more than half the diameter where this stretch is thinnest '
                f"({_both(radius)}): that is no hollow. Check the depth, or end the stretch earlier.",
            )


def _both(length: float) -> str:
    return f"{length / 0.0254:.3g} in, {length * 100:.3g} cm"


def _overlap(stretches: tuple[Any, ...], n: int) -> Iterator[tuple[str, str]]:
    """A stretch that shares wood with an earlier one."""
    here = stretches[n]
    if here.from_ is None or here.to is None or here.member is None:
        return
    for before in stretches[:n]:
        if before.member != here.member or before.from_ is None or before.to is None:
            continue
        if here.from_.likely < before.to.likely - SLACK and before.from_.likely < here.to.likely - SLACK:
            stretch = f'from "{before.from_}" to "{before.to}"'
            yield "from", f"This stretch overlaps the one {stretch}: let one end where the other starts."
            return
