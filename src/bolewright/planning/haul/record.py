"""The company's own record: what earlier jobs were to take by present times, what they took, and what that teaches.

A job's hours are planned as it stood before work began, by the times of the job being planned: a time that was changed
meanwhile is not put right twice. Nothing here changes a job; its rows are taken into one when a person says so.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, get_args

from bolewright.core.base.errors import BolewrightError
from bolewright.core.base.range import Range
from bolewright.core.base.shrinkage import weight_of
from bolewright.job.model import Job
from bolewright.job.rates import Actual, Rates
from bolewright.planning.haul.hours import HOUR, hours_by
from bolewright.planning.haul.learning import PRIOR_JOBS, learnt, log_ratios
from bolewright.planning.haul.out import out
from bolewright.planning.haul.results import Amounts
from bolewright.planning.results import CutsResult, WeighResult

STEPS: tuple[str, ...] = get_args(Actual.model_fields["step"].annotation)
ONE_TIME = {"set-up": "set_up", "secure": "secure", "cut": "cut", "lower": "lower", "load": "load", "clean": "clean"}
BY_PLAN = ("secure", "cut", "lower")  # counted from the order of cuts
MOST_JOBS = 60  # the newest; sixty are believed 94 in 100 already
NO_HOURS = "No hours worked are written down."
NOT_OVER = "It is not over: enter what was done in its hand-over, or the number of its invoice."
LEFT_OUT = "Left out:"
NO_PLAN = "no order of cuts is kept with it"


@dataclass(frozen=True)
class Compared:
    """One kind of work on an earlier job. ratio: took over planned, None where they are not compared; then why."""

    step: str
    planned_h: Range
    took_h: float
    ratio: float | None
    why: str = ""


@dataclass(frozen=True)
class Earlier:
    """An earlier job. why: what keeps it out of the record, "" when it counts; key: where it is kept."""

    name: str
    site: str
    on: date | None
    key: str
    why: str
    steps: tuple[Compared, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def identity(self) -> tuple[str, str, date | None]:
        """What tells it from other jobs."""
        return self.name.strip().casefold(), self.site.strip().casefold(), self.on

    @property
    def counts(self) -> bool:
        """Whether others learn from it."""
        return not self.why

    @property
    def left_out(self) -> bool:
        """Whether somebody has left it out with a word."""
        return self.why.startswith(LEFT_OUT)


@dataclass(frozen=True)
class Learnt:
    """What the record teaches of one kind of work: from how many jobs, and how far the time moves."""

    step: str
    jobs: int
    ratio: float | None  # middle of took over planned (geometric mean)
    lowest: float | None
    highest: float | None
    weight: float  # trust in the record, 0 to 1
    factor: float  # on the planned time
    now: float  # the factor this job counts with now
    usual_h: Range | None  # the one time of the rates, where this kind of work has one
    learnt_h: Range | None


@dataclass(frozen=True)
class Record:
    """Every earlier job looked at, what is learnt step by step, and the rows that bring it into the job."""

    title: str
    jobs: tuple[Earlier, ...]
    counted: int
    stays: tuple[int, ...]  # which rows of the job's own are of none of these jobs, and count beside them
    steps: tuple[Learnt, ...]
    rows: tuple[dict[str, Any], ...]  # of rates.actual
    taken: bool  # whether the job counts with these rows already


def as_found(job: Job) -> Job:
    """The job as it was before work began: nothing done, nothing read on the way."""
    return job.model_copy(update={"done": (), "reading": ()})


def amounts(job: Job, cut: CutsResult | None, weighed: WeighResult | None = None) -> Amounts:
    """What there was to do on a job before work began; times play no part in it. Raises as `out` does."""
    return out(as_found(job), cut, weighed).to_do


def earlier_job(job: Job, todo: Amounts | BolewrightError | None, planned: bool, times: Rates, key: str) -> Earlier:
    """A job as others may learn from it. todo: what there was to do, or why that is not known; planned: by an order."""
    kept = (job.job.title, job.job.site or "", job.job.date, key)
    why = _kept_out(job)
    if why or todo is None:
        return Earlier(*kept, why)
    if isinstance(todo, BolewrightError):
        return Earlier(*kept, f"What was planned cannot be worked out: {todo.sentence}")
    steps = compared(job, todo, planned, times)
    if not any(one.ratio for one in steps):
        return Earlier(*kept, "Nothing that was planned has hours written down for it.", steps)
    notes = ("Part of it was not done: leave it out if that changed its hours.",) if _not_done(job) else ()
    return Earlier(*kept, "", steps, notes)


def _kept_out(job: Job) -> str:
    """Why nobody learns from a job, "" when its hours are there and it is over."""
    if job.rates.left_out is not None:
        return f"{LEFT_OUT} {job.rates.left_out}"
    if not job.worked:
        return NO_HOURS
    over = (job.hand_over is not None and (job.hand_over.done or job.hand_over.at)) or (job.terms and job.terms.invoice)
    return "" if over else NOT_OVER


def _not_done(job: Job) -> bool:
    return job.hand_over is not None and bool(job.hand_over.not_done)


def compared(job: Job, todo: Amounts, planned: bool, times: Rates) -> tuple[Compared, ...]:
    """Hours worked beside those planned by these times, for every kind of work; hours of one kind are added up."""
    found = []
    for step, hours in hours_by(times, todo).items():
        took = sum(row.hours.likely for row in job.worked if row.step == step) / HOUR
        why = _not_compared(step, hours, took, planned)
        found.append(Compared(step, hours, took, None if why else took / hours.likely, why))
    return tuple(found)


def _not_compared(step: str, hours: Range, took: float, planned: bool) -> str:
    if took <= 0.0:
        return "no hours are written down for it"
    if step in BY_PLAN and not planned:
        return NO_PLAN
    return "" if hours.likely > 0.0 else "none of it was planned"


def record(job: Job, found: Sequence[Earlier], key: str = "") -> Record:
    """The record for a job, from the earlier jobs found: each once, the newest first, never the job itself.

    Rows the job has of none of these jobs, typed in or taken from elsewhere, stay and count.
    """
    jobs, own = _each_once(job, found, key), job.rates.actual
    seen = {(one.name.casefold(), one.on) for one in jobs}
    stays = tuple(n for n, row in enumerate(own) if row.job is None or (row.job.casefold(), row.on) not in seen)
    rows = tuple(row for one in jobs if one.counts for row in _rows(one))
    every = _with(own, stays, rows)
    return Record(
        job.job.title, jobs, sum(one.counts for one in jobs), stays,
        tuple(_learnt(job.rates, every, step) for step in STEPS), rows, Counter(every) == Counter(own),
    )  # fmt: skip


def with_record(job: Job, found: Record) -> Job:
    """The job with the record in its rates, in place of what it had of the same jobs."""
    rows = _with(job.rates.actual, found.stays, found.rows)
    return job.model_copy(update={"rates": job.rates.model_copy(update={"actual": rows})})


def _with(own: Sequence[Actual], stays: Sequence[int], rows: Sequence[dict[str, Any]]) -> tuple[Actual, ...]:
    """A job's rows that stay, and those of the record."""
    return (*(own[n] for n in stays), *(Actual.model_validate(row) for row in rows))


def _each_once(job: Job, found: Sequence[Earlier], key: str) -> tuple[Earlier, ...]:
    """The newest first, with the reason for every one that does not count."""
    itself = Earlier(job.job.title, job.job.site or "", job.job.date, key, "")
    seen = {itself.identity: "This is the job being planned."}
    jobs, counted = [], 0
    for one in sorted(found, key=lambda one: one.on or date.min, reverse=True):
        why = one.why or seen.get(one.identity, "")
        if not why and counted >= MOST_JOBS:
            why = f"Only the newest {MOST_JOBS} count."
        if not why:
            seen[one.identity] = "The same job again, by title, site and day: it counts once."
            counted += 1
        jobs.append(replace(one, why=why))
    return tuple(jobs)


def _rows(one: Earlier) -> list[dict[str, Any]]:
    """What a job document says of an earlier job, in hours."""
    name = {"job": one.name, **({"on": one.on.isoformat()} if one.on is not None else {})}
    return [
        {"step": step.step, "planned": _hours(step.planned_h.likely), "took": _hours(step.took_h), **name}
        for step in one.steps
        if step.ratio is not None
    ]  # fmt: skip


def _hours(hours: float) -> str:
    """As a job document writes it, to a third of a second."""
    return f"{round(hours, 4):g} h"


def _learnt(rates: Rates, every: Sequence[Actual], step: str) -> Learnt:
    """One kind of work."""
    logs, factor = log_ratios(every, step), learnt(every, step)
    low, middle, high = (
        (math.exp(end) for end in (min(logs), sum(logs) / len(logs), max(logs))) if logs else (None, None, None)
    )
    usual = _usual(rates, step)
    return Learnt(
        step, len(logs), middle, low, high, weight_of(len(logs), PRIOR_JOBS), factor, learnt(rates.actual, step), usual,
        usual.scaled(factor) if usual is not None else None,
    )  # fmt: skip


def _usual(rates: Rates, step: str) -> Range | None:
    if step not in ONE_TIME:
        return None
    time = getattr(rates, ONE_TIME[step])
    return Range(time.low / HOUR, time.likely / HOUR, time.high / HOUR)
