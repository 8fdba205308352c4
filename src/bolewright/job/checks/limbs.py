"""Limbs: what they grow from, where, and whether they can be that thick."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from bolewright.job.checks.members import SLACK, Members, fault_in
from bolewright.job.faults import Fault, shown
from bolewright.job.model import STEM, Job

THICKER = 1.5  # a limb is never this many times as thick as what it grows from
TABLE = "tree.limb"


def limb_faults(job: Job, members: Members) -> Iterator[Fault]:
    """Every fault between a limb and its parent, and between its two ends."""
    limbs: tuple[Any, ...] = (job.tree.limb if job.tree else ()) or ()
    ids = [limb.id for limb in limbs]
    for n, limb in enumerate(limbs):
        for field, sentence in _one(limb, members):
            yield fault_in(TABLE, n, ids, field, sentence)
    for n, sentence in _rings(limbs):
        yield fault_in(TABLE, n, ids, "on", sentence)


def _one(limb: Any, members: Members) -> Iterator[tuple[str, str]]:
    """(field, sentence) for each fault of one limb."""
    if limb.on is not None and limb.on != limb.id:
        unknown = members.unknown(limb.on)
        if unknown:
            yield "on", unknown
        beyond = members.beyond(limb.on, limb.at)
        if beyond:
            yield "at", beyond
        thick = None if unknown or beyond else _thicker_than_parent(limb, members)
        if thick:
            yield "diameter", thick
    base, tip = limb.diameter, limb.tip_diameter
    if base is not None and tip is not None and tip.likely > base.likely + SLACK:
        yield "tip_diameter", f'The tip ("{tip}") is thicker than the base ("{base}"): change them round.'


def _thicker_than_parent(limb: Any, members: Members) -> str | None:
    if limb.at is None or limb.diameter is None:
        return None
    parent = members.by_id[limb.on].diameter(limb.at.likely)
    if parent is None or limb.diameter.likely <= THICKER * parent + SLACK:
        return None
    what = "the stem" if limb.on == STEM else f"limb {shown(limb.on)}"
    times = limb.diameter.likely / parent if parent > 0 else float("inf")
    how = f"{times:.1f} times as thick as" if times < 100 else "far thicker than"
    return f'"{limb.diameter}" is {how} {what} where it grows: check the diameter and where it is attached.'


def _rings(limbs: tuple[Any, ...]) -> Iterator[tuple[int, str]]:
    """(index, sentence) of one limb in every ring of limbs that grow from each other."""
    parent = {limb.id: limb.on for limb in reversed(limbs) if limb.id is not None}
    done: set[str] = {STEM}
    for n, limb in enumerate(limbs):
        trail: list[str] = []
        here = limb.id
        while here is not None and here in parent and here not in done and here not in trail:
            trail.append(here)
            here = parent[here]
        if here in trail:
            ring = [*trail[trail.index(here) :], here]
            shown_ring = " on ".join(shown(name) for name in (ring if len(ring) < 9 else [*ring[:7], "...", here]))
            yield n, f"These limbs grow from each other in a ring ({shown_ring}): one of them grows from the stem."
        done.update(trail)
