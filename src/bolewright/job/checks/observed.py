"""Observations that contradict each other, or a measurement of the same record."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from bolewright.job.faults import Fault, shown
from bolewright.job.model import Job

LEANING = 0.035  # rad, 2 deg: less is no lean to the eye (common practice)


def observed_faults(job: Job) -> Iterator[Fault]:
    """Every contradiction of what was looked for."""
    yield from _observed(job.inspection)
    yield from _against_the_record(job, job.inspection)


def _observed(inspection: Any) -> Iterator[Fault]:
    """The same thing on the same side both seen and not seen."""
    observations: tuple[Any, ...] = (inspection.observation if inspection else ()) or ()
    found: dict[tuple[Any, ...], str] = {}
    for n, o in enumerate(observations):
        if o.group is None or o.what is None or o.state is None:
            continue
        side = round(o.side.likely, 6) if o.side is not None else None
        height = o.height.likely if o.height is not None else None
        key = (o.group, o.what.strip().lower(), side, height)
        if found.setdefault(key, o.state) != o.state:
            sentence = f'{shown(o.what)} is written down both as "{found[key]}" and as "{o.state}": keep one.'
            yield Fault(f"inspection.observation[{n}].state", sentence)


def _against_the_record(job: Job, inspection: Any) -> Iterator[Fault]:
    """What is written down as not seen, and seen on some side or measured all the same."""
    observations: tuple[Any, ...] = (inspection.observation if inspection else ()) or ()
    nowhere = [
        (n, o) for n, o in enumerate(observations) if o.state == "not seen" and o.what and not (o.side or o.height)
    ]
    facts = dict(_facts(job, inspection))
    for n, o in nowhere:
        what = o.what.strip().lower()
        other = next((x for x in observations if x.state == "seen" and x.what and x.group == o.group
                      and x.what.strip().lower() == what and (x.side or x.height)), None)  # fmt: skip
        said = facts.get((o.group, what), "")
        if other is not None:
            said = f"it was seen on side {other.side}" if other.side else f"it was seen at {other.height}"
        if said:
            sentence = f"{shown(o.what)} is written down as not seen, but {said}: keep one."
            yield Fault(f"inspection.observation[{n}].state", sentence)


def _facts(job: Job, inspection: Any) -> Iterator[tuple[tuple[str, str], str]]:
    """Observations that a measurement of the record answers, with that measurement in words."""
    s: Any = job.standing
    if s is not None:
        if s.lean is not None and s.lean.low > LEANING:
            yield ("stem", "lean"), f'the tree is said to lean "{s.lean}"'
        if s.sweep is not None and s.sweep.likely != 0:
            yield ("stem", "sweep"), f'a sweep of "{s.sweep}" is given'
        if s.trench is not None:
            yield ("roots", "root cut or trenched"), f'a trench at "{s.trench}" is given'
        if s.neighbours == "lost":
            yield ("crown", "neighbours lost"), 'neighbours = "lost"'
    for test in (inspection.test if inspection else ()) or ():
        if test.kind == "opening":
            yield ("stem", "cavity opening"), "an opening was measured"
        if test.kind == "sounding" and test.sound in ("dull", "hollow"):
            yield ("stem", "dull sound"), f"it sounded {test.sound}"
    for union in (inspection.union if inspection else ()) or ():
        if union.bark == "included":
            yield ("branches", "included bark"), f"bark is said to be included at {union.limb}"
        if union.split is not None and union.split.likely > 0:
            yield ("branches", "split union"), f"the union of {union.limb} is said to be split"
