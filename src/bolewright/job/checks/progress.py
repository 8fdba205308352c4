"""Steps done and readings: on wood that is there, in an order that can be, one thing a reading."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from bolewright.job.checks.members import SLACK, Members, fault_in, likely
from bolewright.job.faults import Fault, shown
from bolewright.job.model import STEM, Job


def progress_faults(job: Job, members: Members) -> Iterator[Fault]:
    """Every fault of the steps done and the readings."""
    nameless = [None] * len(job.done or ())
    for n, step in enumerate(job.done or ()):
        for field, sentence in _step(step, members):
            yield fault_in("done", n, nameless, field, sentence)
    nameless = [None] * len(job.reading or ())
    for n, reading in enumerate(job.reading or ()):
        for field, sentence in _reading(reading, job):
            yield fault_in("reading", n, nameless, field, sentence)


def _step(step: Any, members: Members) -> Iterator[tuple[str, str]]:
    at = likely(step.at)
    if step.member is None or at is None:
        return
    for field, sentence in (("member", members.unknown(step.member)), ("at", members.beyond(step.member, step.at))):
        if sentence:
            yield field, sentence
            return
    if step.what == "prop" and step.member != STEM:
        yield "member", "A prop stands under the stem here: a limb that rests on one is a support."
    if step.what == "cut" and step.member == STEM and at <= SLACK:
        yield "at", f'A cut at "{step.at}" is at the end of the wood and takes nothing off.'


def _reading(reading: Any, job: Job) -> Iterator[tuple[str, str]]:
    kinds = reading.kinds()
    if len(kinds) != 1:
        yield "on", "A reading tells one thing: give one of force, settled, feel or mass."
        return
    steps = len(job.done or ())
    if reading.after is not None and reading.after > steps:
        yield "after", f"Only {steps} steps are done: a reading cannot be later than that."
    names = [s.id for s in job.support or ()] + [line.id for line in job.line or ()]
    props = [step.id or f"prop {n + 1}" for n, step in enumerate(job.done or ()) if step.what == "prop"]
    if kinds[0] != "mass" and reading.on is not None and reading.on not in (*names, *props):
        there = ", ".join(str(n) for n in (*names, *props) if n) or "none"
        yield "on", f"There is no support, prop or line called {shown(reading.on)}. There is: {there}."
    if reading.rose is not None and kinds[0] != "settled":
        yield "rose", "Only a movement can rise: give it with settled."
    if reading.together and kinds[0] != "mass":
        yield "together", "Only pieces are weighed together: give it with mass."
