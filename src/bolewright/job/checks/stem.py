"""Stations along the stem, and whether what holds the butt is described."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

from bolewright.job.checks.members import SLACK, fault_in, likely
from bolewright.job.faults import Fault
from bolewright.job.model import Job, Station

TABLE = "tree.stem"


def stem_faults(job: Job) -> Iterator[Fault]:
    """Stations that do not start at the butt, do not follow each other, or climb more than the stem is long."""
    stations: tuple[Any, ...] = (job.tree.stem if job.tree else ()) or ()
    if stations and stations[0].at is not None and stations[0].at.likely > SLACK:
        sentence = f'The first station is at "{stations[0].at.text}": start at the butt with at = "0 ft".'
        yield _fault(stations, 0, "at", sentence)
    for n, (before, here) in enumerate(pairwise(stations), start=1):
        if before.at is not None and here.at is not None and here.at.likely <= before.at.likely + SLACK:
            sentence = (
                f'"{here.at.text}" does not lie beyond the station before it, "{before.at.text}": '
                "write the stations in order from the butt outward."
            )
            yield _fault(stations, n, "at", sentence)
    yield from _too_steep(stations)


def _too_steep(stations: tuple[Any, ...]) -> Iterator[Fault]:
    """Two stations cannot lie farther apart up and sideways than along the stem."""
    measured = [(n, s) for n, s in enumerate(stations) if s.at is not None and s.height is not None]
    for (_, before), (n, here) in pairwise(measured):
        along = here.at.likely - before.at.likely
        up = here.height.likely - before.height.likely
        aside = (likely(here.offset) or 0.0) - (likely(before.offset) or 0.0)
        if along > SLACK and math.hypot(up, aside) > along + SLACK:
            yield _fault(stations, n, "height", _steep_sentence(before, here))


def _steep_sentence(before: Station, here: Station) -> str:
    heights = f'from height "{before.height}" to "{here.height}"'
    sideways = " and sideways" if here.offset is not None or before.offset is not None else ""
    return (
        f"The stem goes {heights}{sideways}, which is more than the length between the two stations, "
        f'"{before.at}" to "{here.at}": measure one of them again.'
    )


def _fault(stations: tuple[Any, ...], n: int, field: str, sentence: str) -> Fault:
    return fault_in(TABLE, n, [None] * len(stations), field, sentence)


def attachment_faults(job: Job) -> Iterator[Fault]:
    """What holds the butt, and the table that describes it, have to agree."""
    tree: Any = job.tree
    if tree is None or tree.attached is None:
        return
    if tree.attached == "root plate" and tree.root_plate is None:
        sentence = 'attached = "root plate" needs the table [tree.root_plate] with its diameter and thickness.'
        yield Fault("tree.root_plate", sentence)
    for table, word in (("root_plate", "root plate"), ("hinge", "hinge")):
        if getattr(tree, table) is not None and tree.attached != word:
            given = f'[tree.{table}] is given, but attached = "{tree.attached}"'
            yield Fault("tree.attached", f'{given}: write "{word}", or take the table out.')
