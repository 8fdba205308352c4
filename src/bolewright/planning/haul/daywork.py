"""The working day: who does what when, against daylight and the wind limit."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from bolewright.job.model import Job
from bolewright.planning.haul.crane import waits, work_of
from bolewright.planning.haul.daylight import Windy, calendar_of, unforecast, wind_words, windy_hours
from bolewright.planning.haul.hours import CRANE
from bolewright.planning.haul.results import INSIDE, OUTSIDE, OutResult, Task
from bolewright.planning.haul.schedule import DAY, Run, least_hours, schedule

OFF_GROUND = ("secure", "cut", "lower")
TOGETHER = "With more than one crew, wood is moved while the next piece is cut only outside the drop zone."


@dataclass(frozen=True)
class Bar:
    """A run of one task on one day, in hours after midnight, at its likely length."""

    step: str
    day: int  # 1 is the first
    start_h: float
    end_h: float
    what: str = ""
    crew: int = 1
    machine: str = ""
    unit: int = 0  # which of several machines of that name


@dataclass(frozen=True)
class DayPlan:
    """When what is done: bars for a chart, when it ends, how many days, and what stands against it."""

    status: str
    bars: tuple[Bar, ...]
    ends_likely: str  # "day 1, 15:40"
    ends_late: str  # with every step at its longest
    days_likely: int
    days_late: int
    wind: str
    reasons: tuple[str, ...]
    crews: int = 1
    start_h: float = 0.0
    dark_h: float | None = None  # None where the job does not say when it gets dark
    windy: tuple[Windy, ...] = ()  # day and hours with gusts over the limit
    waits: tuple[Bar, ...] = ()  # when the crane stands between two picks
    hours_likely: float = 0.0  # of light from start to end
    least_h: float = 0.0  # hours of light that no schedule of these tasks can beat
    order: str = ""  # how good the schedule is, in words


def day_plan(job: Job, result: OutResult) -> DayPlan:
    """The tasks of a result laid into days from start to dark, crews and machines side by side.

    Work off the ground neither begins in hours with gusts over the limit nor where it would run into them or the
    dark; moving, loading and cleaning go on the next morning.
    """
    calendar = calendar_of(job)
    if calendar.dark - calendar.start < 1.0:
        return DayPlan(OUTSIDE, (), "", "", 0, 0, "", ("There is less than an hour of light after the start.",))
    crews, units = job.day.crews, {machine.name: machine.count for machine in job.machine}
    likely, late = ([work_of(task, end) for task in result.tasks] for end in ("likely", "high"))
    runs, slow = (schedule(works, crews, units, calendar) for works in (likely, late))
    days, days_late = _day(runs), _day(slow)
    wind, stopped = wind_words(job)
    bars, standing = _bars(runs, result.tasks), _waits(runs, result.tasks)
    reasons = [
        *_reasons(wind if stopped else "", days, days_late, job.day.light_until is not None, crews),
        *_waiting(standing),
        unforecast(job, [bar.day for bar in bars if bar.step in OFF_GROUND]),
    ]
    over = stopped or (days > 1 and job.day.light_until is not None)
    spent = calendar.worked(max((run.end for run in runs), default=calendar.start))
    least = least_hours(likely, crews, units)
    return DayPlan(
        OUTSIDE if over else INSIDE, bars, _end(runs), _end(slow), days, days_late, wind,
        tuple(filter(None, reasons)), crews, calendar.start,
        calendar.dark if job.day.light_until is not None else None, windy_hours(job), standing, spent, least,
        _order(spent, least, crews, job),
    )  # fmt: skip


def _bars(runs: Sequence[Run], tasks: Sequence[Task]) -> tuple[Bar, ...]:
    of: Mapping[str, Task] = {task.id: task for task in tasks}
    found = []
    for run in runs:
        task, day = of[run.id], int(run.start // DAY)
        start, end = run.start - day * DAY, run.end - day * DAY
        found.append(Bar(task.step, day + 1, start, end, task.what, run.crew, task.machine, run.unit))
    return tuple(found)


def _waits(runs: Sequence[Run], tasks: Sequence[Task]) -> tuple[Bar, ...]:
    """The crane between its picks."""
    found = waits(runs, {task.id: task for task in tasks})
    days = [int(start // DAY) for start, _ in found]
    return tuple(
        Bar("wait", day + 1, start - day * DAY, end - day * DAY, "waits", 0, CRANE, 1)
        for day, (start, end) in zip(days, found, strict=True)
    )


def _waiting(standing: Sequence[Bar]) -> list[str]:
    hours = sum(bar.end_h - bar.start_h for bar in standing)
    return [f"The crane stands {hours:.1f} h between its picks; that time is in its hours."] if standing else []


def _day(runs: Sequence[Run]) -> int:
    return max((int(run.start // DAY) + 1 for run in runs), default=0)


def _reasons(stopped: str, days: int, days_late: int, dark_known: bool, crews: int) -> list[str]:
    reasons = [stopped] if stopped else []
    if days_late > 1 and dark_known:
        worst = "" if days > 1 else " if every step takes its longest"
        reasons.append(f"It does not end before dark on the first day{worst}.")
    return [*reasons, *([TOGETHER] if crews > 1 else [])]


def _order(spent: float, least: float, crews: int, job: Job) -> str:
    """How good the schedule is, and what that is measured against."""
    if spent <= least + 1e-6:
        return "No schedule of these tasks with these crews ends earlier."
    hours = spent - least
    kept = job.day.forecast or job.day.wind or job.day.light_until
    why = "dark and wind keep work waiting, or" if kept else ""
    return (
        f"{spent:.1f} h of light from start to end; no schedule can take less than {least:.1f} h, so at most "
        f"{hours:.1f} h could be won ({(why + ' ') if why else ''}the order found is not the best there is)."
    )


def _end(runs: Sequence[Run]) -> str:
    if not runs:
        return ""
    last = max(run.end for run in runs)
    day = int((last - 1e-9) // DAY)
    minutes = math.ceil((last - day * DAY) * 60.0 - 1e-6)
    return f"day {day + 1}, {minutes // 60:02d}:{minutes % 60:02d}"
