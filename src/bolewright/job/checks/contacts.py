"""Supports, lines and cuts: on wood that is there, with values that agree."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from bolewright.job.checks.members import SLACK, Members, fault_in, likely
from bolewright.job.faults import Fault
from bolewright.job.model import STEM, Job


def contact_faults(job: Job, members: Members) -> Iterator[Fault]:
    """Every fault of supports, lines and cuts."""
    for table, items in (("support", job.support), ("line", job.line), ("cut", job.cut)):
        ids = [getattr(item, "id", None) for item in items or ()]
        for n, item in enumerate(items or ()):
            for field, sentence in _on_wood(item, members):
                yield fault_in(table, n, ids, field, sentence)
    for n, support in enumerate(job.support or ()):
        for field, sentence in _support(support):
            yield fault_in("support", n, [s.id for s in job.support], field, sentence)
    yield from _cuts(job.cut or (), members)


def _on_wood(item: Any, members: Members) -> Iterator[tuple[str, str]]:
    if item.member is None:
        return
    for field, sentence in (("member", members.unknown(item.member)), ("at", members.beyond(item.member, item.at))):
        if sentence:
            yield field, sentence


def _support(support: Any) -> Iterator[tuple[str, str]]:
    if support.gap is not None and support.gap.low > 0 and support.feel in ("snug", "hard"):
        yield "feel", f'It cannot feel {support.feel} with a gap of "{support.gap}": take one of the two out.'


def _cuts(cuts: tuple[Any, ...], members: Members) -> Iterator[Fault]:
    """Cuts that take nothing off, and cuts given twice."""
    seen: set[tuple[str, float]] = set()
    nameless = [None] * len(cuts)
    for n, cut in enumerate(cuts):
        at = likely(cut.at)
        if cut.member is None or at is None:
            continue
        member = members.by_id.get(cut.member)
        length = member.length if member else None
        at_end = length is not None and abs(at - length) <= SLACK
        if at_end or (cut.member == STEM and at <= SLACK):
            yield fault_in(
                "cut", n, nameless, "at", f'A cut at "{cut.at}" is at the end of the wood and takes nothing off.'
            )
        if (cut.member, round(at, 4)) in seen:
            yield fault_in("cut", n, nameless, "at", f'The cut at "{cut.at}" is given twice: keep one.')
        seen.add((cut.member, round(at, 4)))
