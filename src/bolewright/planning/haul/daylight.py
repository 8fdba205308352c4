"""The hours in which work may be done: from start to dark, and the gusts that keep it off the ground, day by day."""

from __future__ import annotations

from collections.abc import Iterable

from bolewright.job.model import Job
from bolewright.planning.filled import as_set_in_both
from bolewright.planning.haul.schedule import DAY, Calendar

NO_LIGHT = 24.0
Windy = tuple[int, float, float]  # day, from and to in hours after midnight


def calendar_of(job: Job) -> Calendar:
    """Hours of work every day, and the hours in which gusts over the limit are forecast."""
    dark = hour(job.day.light_until) if job.day.light_until is not None else NO_LIGHT
    windy = ((DAY * (day - 1) + start, DAY * (day - 1) + end) for day, start, end in windy_hours(job))
    return Calendar(hour(job.day.start), dark, tuple(windy))


def windy_hours(job: Job) -> tuple[Windy, ...]:
    """When gusts over the limit are forecast, in order; all of the first day where its gusts as a whole are over it."""
    limit = job.day.wind_limit.likely
    found = [(one.day, hour(one.from_), hour(one.to)) for one in job.day.forecast if one.gusts.high > limit]
    if job.day.wind is not None and job.day.wind.high > limit:
        found.append((1, 0.0, DAY))
    return tuple(sorted(found))


def wind_words(job: Job) -> tuple[str, bool]:
    """What the forecast says about work off the ground, and whether it stops it on the first day."""
    most, wind = job.day.wind_limit.likely, job.day.wind
    limit = as_set_in_both(job, "day.wind_limit")
    over = [one for one in job.day.forecast if one.gusts.high > most]
    hours = ", ".join(f"{_on(one.day)}{one.from_} to {one.to} ({one.gusts})" for one in over)
    if wind is not None and wind.high > most:
        return f"Gusts of {wind} are forecast and the limit is {limit}: no work off the ground on the first day.", True
    if over:
        return f"Gusts over the limit of {limit} are forecast {hours}: nothing off the ground then.", False
    if job.day.forecast:
        return f"All gusts forecast are under the limit of {limit}.", False
    if wind is None:
        return f"No forecast is given: work off the ground stops at {limit}.", False
    return f"Gusts of {wind} are forecast, under the limit of {limit}.", False


def unforecast(job: Job, days: Iterable[int]) -> str:
    """A sentence for days of work off the ground that no forecast is given for; "" when there is none.

    Where nothing at all is forecast that is said already.
    """
    known = {one.day for one in job.day.forecast} | ({1} if job.day.wind is not None else set())
    missing = sorted(set(days) - known) if known else []
    if not missing:
        return ""
    names = ", ".join(map(str, missing))
    return f"No gusts are forecast for day {names}: look again before work off the ground goes on."


def hour(clock: str) -> float:
    """A time of day in hours after midnight."""
    hours, minutes = clock.split(":")
    return int(hours) + int(minutes) / 60.0


def _on(day: int) -> str:
    return f"on day {day} " if day > 1 else ""
