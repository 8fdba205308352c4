"""What was read, felt or weighed picks among the samples: each stands for a tree that could be lying there.

A sample counts for as much as it agrees with every reading; those that agree are kept, so that forces, masses and the
order to come are all of a tree that shows what was read.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.errors import BadInput, NotEnoughKnown
from bolewright.core.base.range import Range
from bolewright.core.contact.actions import Array
from bolewright.core.contact.samples import NORMAL_95
from bolewright.core.contact.state import State, System, rise_of_contacts
from bolewright.core.contact.supports import is_couple
from bolewright.core.tree.pieces import piece_masses
from bolewright.job.model import Job, Reading
from bolewright.planning import defaults
from bolewright.planning.both import both_lengths, both_masses, both_units
from bolewright.planning.holding.body import Body
from bolewright.planning.holding.feel import FARTHEST, FEWEST, agreement
from bolewright.planning.results import FilledIn, Learnt

SMALLEST_SHARE = 0.002  # of the whole weight: no gauge is read finer than this


@dataclass(frozen=True)
class Foreseen:
    """What every sample foresees for one reading. value (B,): force [N], movement [m] or mass [kg]; agrees (B,)."""

    reading: Reading
    kind: str
    value: Array
    agrees: Array
    read: Range | None


def foreseen(job: Job, body: Body, system: System, states: tuple[State, ...]) -> list[Foreseen]:
    """What the samples foresee for every reading of the job, and how well each agrees with it.

    Raises BadInput for a reading at something that is not there any more.
    """
    return [_one(n, reading, body, system, states) for n, reading in enumerate(job.reading)]


def _one(n: int, reading: Reading, body: Body, system: System, states: tuple[State, ...]) -> Foreseen:
    kind, state = reading.kinds()[0], states[reading.after]
    if kind == "mass":
        value = _mass(n, reading, body, system)
    else:
        rows = _rows(n, reading, system, state)
        value = state.force[rows].sum(axis=0) if kind != "settled" else _sunk(system, states, reading, rows)
    total = np.abs(state.force[~is_couple(list(system.contacts))]).sum(axis=0)
    if reading.feel is not None:
        share = np.divide(value, total, out=np.zeros_like(total), where=state.held)
        return Foreseen(reading, kind, value, agreement(share, reading.feel) * state.held, None)
    read, spread = _read(reading, kind, float(np.median(total)))
    miss = (value - read.likely) / np.where(value > read.likely, spread[1], spread[0])
    agrees = np.exp(-0.5 * miss**2) * (state.held if kind != "mass" else 1.0)
    return Foreseen(reading, kind, value, agrees, read)


def _rows(n: int, reading: Reading, system: System, state: State) -> list[int]:
    own = system.integrals.action_piece
    rows = [i for i, c in enumerate(system.contacts) if c.id == reading.on and np.any(c.force)]
    there = [i for i in rows if state.keep[own[i]] and state.present[i]]
    if not there:
        said = f"{reading.on} was not there any more, or not yet, after {reading.after} steps."
        raise BadInput(said, f"reading[{n}].on")
    return there


def _sunk(system: System, states: tuple[State, ...], reading: Reading, rows: list[int]) -> Array:
    """How far the wood at a support sank from the tree as found [m]; the other way round when it was read to rise."""
    rise = (rise_of_contacts(system, states[reading.after]) - rise_of_contacts(system, states[0]))[rows].mean(axis=0)
    return np.asarray(rise if reading.rose else -rise)


def _mass(n: int, reading: Reading, body: Body, system: System) -> Array:
    names = [p.id for p in body.pieces]
    for name in (reading.on, *reading.together):
        if name not in names:
            raise BadInput(f"There is no piece {name}. The pieces are: {', '.join(names)}.", f"reading[{n}].on")
    rows = [names.index(name) for name in dict.fromkeys((reading.on, *reading.together))]
    masses = piece_masses(body.assembly, body.labels, len(names))[rows, :4].sum(axis=0)
    return np.asarray(masses @ system.samples.mass[:4])


def _read(reading: Reading, kind: str, weight: float) -> tuple[Range, tuple[float, float]]:
    """What was read and its standard deviations below and above, as typed or as filled in."""
    quantity = getattr(reading, kind)
    if quantity.has_spread:
        low, high = quantity.likely - quantity.low, quantity.high - quantity.likely
    else:
        low = high = defaults.READ_WITHIN[kind] * (quantity.likely if kind != "settled" else 1.0)
    least = NORMAL_95 * (SMALLEST_SHARE * weight if kind == "force" else 1e-3 * max(quantity.likely, 1.0))
    low, high = max(low, least), max(high, least)
    return Range(quantity.likely - low, quantity.likely, quantity.likely + high), (low / NORMAL_95, high / NORMAL_95)


def picked(told: list[Foreseen], felt: Array, wanted: int, rng: np.random.Generator) -> NDArray[np.int64]:
    """Numbers of the samples (wanted,) in proportion to how well they agree with all readings and with what was felt.

    felt (B,): agreement with the feel at the supports. Raises NotEnoughKnown when no sample shows what was read.
    Source: sequential importance resampling, Gordon, Salmond & Smith, IEE Proceedings F 140(2), 1993.
    Checked by: tests/unit/planning/test_readings.py.
    """
    weight = felt * np.prod([f.agrees for f in told], axis=0) if told else felt
    enough = float(weight.max(initial=0.0)) >= np.exp(-0.5 * FARTHEST**2 * max(len(told), 1))
    if not enough or weight.sum() ** 2 / max(float((weight**2).sum()), 1e-300) < FEWEST:
        raise NotEnoughKnown(_does_not_fit(told), _path(told))
    steps = (rng.random() + np.arange(wanted)) / wanted
    return np.asarray(np.searchsorted(np.cumsum(weight / weight.sum()), steps).clip(0, len(weight) - 1))


def _path(told: list[Foreseen]) -> str:
    worst = _farthest(told)
    return f"reading[{worst}]" if worst is not None else ""


def _farthest(told: list[Foreseen]) -> int | None:
    """The reading that the samples agree with least."""
    return min(range(len(told)), key=lambda n: float(told[n].agrees.mean()), default=None)


def _does_not_fit(told: list[Foreseen]) -> str:
    worst = _farthest(told)
    if worst is None:
        return (
            "What was felt at the supports does not fit the measurements: no way of resting gives those loads. "
            "Check the heights, the places and the feel entered."
        )
    f = told[worst]
    band = Range.of_samples(f.value)
    words = {"settled": both_lengths, "mass": both_masses}.get(f.kind, both_units)
    return (
        f"What was read at {f.reading.on} does not fit the tree as measured: {words(band.low)} to {words(band.high)} "
        "was foreseen there. Stop and look again: at the reading, at the measurements, and at what holds the tree."
    )


def learnt(before: list[Foreseen], after: list[Foreseen]) -> tuple[Learnt, ...]:
    """Foreseen beside read, and what is foreseen for the same reading now."""
    return tuple(
        Learnt(
            on=b.reading.on,
            kind=b.kind,
            after_steps=b.reading.after,
            said=b.reading.said or str(getattr(b.reading, b.kind)),
            read=b.read,
            foreseen=Range.of_samples(b.value),
            now=Range.of_samples(a.value),
        )
        for b, a in zip(before, after, strict=True)
    )


def filled_spreads(job: Job) -> list[FilledIn]:
    """Readings that came without a spread, and the one taken."""
    words = {"force": ("± 10 %", ""), "mass": ("± 3 %", ""), "settled": ("± 6 mm", "± 1/4 in")}
    out = []
    for n, reading in enumerate(job.reading):
        kind = reading.kinds()[0]
        if kind in words and not getattr(reading, kind).has_spread:
            why = f"how closely it was read at {reading.on} was not given"
            metric, us = words[kind]
            out.append(FilledIn(f"reading[{n}].{kind}", metric, why, "judgement", "common practice", us))
    return out
