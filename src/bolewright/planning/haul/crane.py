"""The crane's time on the job: what it lifts, and what it waits between its picks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby

from bolewright.core.base.range import Range
from bolewright.job.model import Job
from bolewright.planning.haul.daylight import calendar_of
from bolewright.planning.haul.hours import CRANE
from bolewright.planning.haul.results import NONE, Task
from bolewright.planning.haul.schedule import DAY, Run, Work, schedule

SHORT = 1.0 / 60.0  # h: less than a minute between two picks is no waiting


def work_of(task: Task, end: str) -> Work:
    """A task at one end of its length, for the schedule."""
    hours: float = getattr(task.hours, end)
    return Work(task.id, hours, task.after, task.machine, task.off_ground, task.in_one_go)


def crane_time(job: Job, tasks: Sequence[Task]) -> Range:
    """Hours from its first pick to its last on every day it lifts, waiting between picks counted; 0 where none hangs.

    A crane is paid while it stands. Its coming, rigging up and going are no part of this.
    """
    if not any(task.machine == CRANE for task in tasks):
        return NONE
    units, spans = {machine.name: machine.count for machine in job.machine}, []
    for end in ("low", "likely", "high"):
        works = [work_of(task, end) for task in tasks]
        runs = schedule(works, job.day.crews, units, calendar_of(job))
        spans.append(sum(last - first for first, last in _spans(_picks(runs, {task.id: task for task in tasks}))))
    return Range(*sorted(spans))


def waits(runs: Sequence[Run], tasks: Mapping[str, Task]) -> list[tuple[float, float]]:
    """When the crane stands between two picks of one day, in hours after the first midnight."""
    found = []
    for _, group in groupby(_picks(runs, tasks), key=lambda run: run.start // DAY):
        day = list(group)
        found += [(a.end, b.start) for a, b in zip(day, day[1:], strict=False) if b.start - a.end > SHORT]
    return found


def _picks(runs: Sequence[Run], tasks: Mapping[str, Task]) -> list[Run]:
    return sorted((run for run in runs if tasks[run.id].machine == CRANE), key=lambda run: run.start)


def _spans(picks: Sequence[Run]) -> list[tuple[float, float]]:
    """From the first pick to the end of the last, day by day."""
    days = [list(group) for _, group in groupby(picks, key=lambda run: run.start // DAY)]
    return [(day[0].start, max(run.end for run in day)) for day in days]
