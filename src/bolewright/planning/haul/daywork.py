"""The working day: steps one after another against daylight, and what wind keeps off the ground."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bolewright.job.model import Job
from bolewright.planning.haul.results import INSIDE, OUTSIDE, OutResult

OFF_GROUND = ("secure", "cut", "lower")
ORDER = ("set-up", "secure", "cut", "lower", "move", "load", "clean")
NO_LIGHT = 24.0


@dataclass(frozen=True)
class Bar:
    """A run of one step on one day, in hours after midnight, at its likely length."""

    step: str
    day: int  # 1 is the first
    start_h: float
    end_h: float


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


def day_plan(job: Job, result: OutResult) -> DayPlan:
    """The steps of a result laid into days from start to dark, in their order; nothing overlaps.

    One crew does one thing at a time, so in a fixed order this is the earliest end there is. A step that dark cuts
    off goes on the next morning. Wind over the limit keeps everything off the ground from starting at all.
    """
    start = _hour(job.day.start)
    dark = _hour(job.day.light_until) if job.day.light_until is not None else NO_LIGHT
    reasons = []
    if dark - start < 1.0:
        return DayPlan(OUTSIDE, (), "", "", 0, 0, "", ("There is less than an hour of light after the start.",))
    likely = _laid(result, start, dark, "likely")
    late = _laid(result, start, dark, "high")
    wind, stopped = _wind(job)
    if stopped:
        reasons.append(wind)
    days, days_late = likely[-1].day if likely else 0, late[-1].day if late else 0
    if days_late > 1 and job.day.light_until is not None:
        reasons.append(
            "It does not end before dark on the first day"
            + ("" if days > 1 else " if every step takes its longest")
            + "."
        )
    status = OUTSIDE if stopped or (days > 1 and job.day.light_until is not None) else INSIDE
    return DayPlan(status, likely, _end(likely), _end(late), days, days_late, wind, tuple(reasons))


def _laid(result: OutResult, start: float, dark: float, end: str) -> tuple[Bar, ...]:
    """Bars of every step at one end of its range."""
    bars: list[Bar] = []
    day, now = 1, start
    for step in sorted(result.steps, key=lambda one: ORDER.index(one.step)):
        left: float = getattr(step.hours, end)
        while left > 1e-9:
            run = min(left, dark - now)
            if run > 1e-9:
                bars.append(Bar(step.step, day, now, now + run))
                now, left = now + run, left - run
            if left > 1e-9:
                day, now = day + 1, start
    return tuple(bars)


def _wind(job: Job) -> tuple[str, bool]:
    """What the forecast says about work off the ground, and whether it stops it."""
    limit = job.day.wind_limit
    if job.day.wind is None:
        return f"No forecast is given: work off the ground stops at {limit}.", False
    if job.day.wind.high > limit.likely:
        return f"Gusts of {job.day.wind} are forecast and the limit is {limit}: no work off the ground.", True
    return f"Gusts of {job.day.wind} are forecast, under the limit of {limit}.", False


def _hour(clock: str) -> float:
    hours, minutes = clock.split(":")
    return int(hours) + int(minutes) / 60.0


def _end(bars: tuple[Bar, ...]) -> str:
    if not bars:
        return ""
    minutes = math.ceil(bars[-1].end_h * 60.0 - 1e-6)
    return f"day {bars[-1].day}, {minutes // 60:02d}:{minutes % 60:02d}"
