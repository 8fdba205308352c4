"""Tasks laid into days: crews and machines side by side, light and wind kept.

List scheduling: whenever a crew is free, the first task in a list that may begin, begins. The list is made by a few
rules and the shortest outcome is kept. With one crew in a fixed order that is the earliest end there is; with more it
need not be, so a bound that no schedule can beat is given beside it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

DAY = 24.0  # h
EPS = 1e-9
MOST_DAYS = 366


@dataclass(frozen=True)
class Work:
    """A task with one length [h]. machine: what it needs beside a crew, "" for nothing."""

    id: str
    hours: float
    after: tuple[str, ...] = ()
    machine: str = ""
    off_ground: bool = False
    in_one_go: bool = False


@dataclass(frozen=True)
class Run:
    """A stretch of a task, in hours after the first midnight; crews and units of a machine count from 1."""

    id: str
    start: float
    end: float
    crew: int
    unit: int


@dataclass(frozen=True)
class Calendar:
    """Hours in which people work: from start to dark every day, and when wind keeps off the ground.

    start, dark: hours after each midnight; windy: hours after the first midnight.
    """

    start: float
    dark: float
    windy: tuple[tuple[float, float], ...] = ()

    def closes(self, now: float, off_ground: bool) -> float | None:
        """When the hours running now end; None when none are running."""
        day, clock = divmod(now + EPS, DAY)
        if not self.start <= clock < self.dark - EPS:
            return None
        end = day * DAY + self.dark
        if not off_ground:
            return end
        if any(first <= now + EPS < last for first, last in self.windy):
            return None
        return min([end, *(first for first, _ in self.windy if first > now + EPS)])

    def next_change(self, now: float) -> float:
        """The next time at which hours begin or end."""
        day = math.floor((now + EPS) / DAY)
        edges = [d * DAY + clock for d in (day, day + 1) for clock in (self.start, self.dark)]
        edges += [edge for pair in self.windy for edge in pair]
        return min(edge for edge in edges if edge > now + EPS)

    def longest(self, off_ground: bool) -> float:
        """The longest stretch of hours a calm day has [h]; past the forecast every day is taken as one."""
        return self.dark - self.start

    def worked(self, now: float) -> float:
        """Hours of light from the first start until now [h]."""
        day, clock = divmod(now, DAY)
        return day * (self.dark - self.start) + min(max(clock - self.start, 0.0), self.dark - self.start)


def schedule(tasks: Sequence[Work], crews: int, units: Mapping[str, int], calendar: Calendar) -> tuple[Run, ...]:
    """The shortest of the schedules found, in the order of its runs.

    tasks in an order in which they can be done one after another; crews at least 1; units: how many of each machine.
    A task that may not be interrupted begins only where it ends before dark or wind, unless no day is long enough.
    """
    rules: tuple[Callable[[Work], float], ...] = (lambda _: 0.0, _tail(tasks), lambda task: -task.hours)
    found = [_laid(tasks, crews, units, calendar, rule) for rule in rules[: 1 if crews == 1 else None]]
    return min(found, key=lambda runs: max((run.end for run in runs), default=0.0))


def least_hours(tasks: Sequence[Work], crews: int, units: Mapping[str, int]) -> float:
    """Hours of light that no schedule of these tasks can beat [h].

    The longest chain; all work shared out evenly among the crews, tasks that stand alone counted whole; and the work
    of each machine shared out among its units.
    """
    if not tasks:
        return 0.0
    tails = _tail(tasks)
    chain = max(-tails(task) for task in tasks)
    before = _before(tasks)
    alone = [
        task.hours
        for task in tasks
        if all(o.id == task.id or o.id in before[task.id] or task.id in before[o.id] for o in tasks)
    ]
    shared = sum(alone) + (sum(task.hours for task in tasks) - sum(alone)) / crews
    machines = {task.machine for task in tasks if task.machine}
    busy = [sum(t.hours for t in tasks if t.machine == name) / units.get(name, 1) for name in machines]
    return max([chain, shared, *busy])


def _tail(tasks: Sequence[Work]) -> Callable[[Work], float]:
    """Minus the hours from the start of a task to the end along the longest chain: critical ones first."""
    longest: dict[str, float] = {}
    for task in reversed(tasks):
        later = [longest[other.id] for other in tasks if task.id in other.after]
        longest[task.id] = task.hours + max(later, default=0.0)
    return lambda task: -longest[task.id]


def _before(tasks: Sequence[Work]) -> dict[str, set[str]]:
    """Everything that has to be over before each task."""
    found: dict[str, set[str]] = {}
    for task in tasks:
        found[task.id] = set(task.after).union(*(found[name] for name in task.after))
    return found


@dataclass
class _Site:
    """The state while laying out: what is left of each task, what is over, and who does what now."""

    left: dict[str, Work]
    over: set[str] = field(default_factory=set)
    busy: dict[str, Run] = field(default_factory=dict)  # by task, with its end as far as it goes
    runs: list[Run] = field(default_factory=list)


def _laid(
    tasks: Sequence[Work], crews: int, units: Mapping[str, int], calendar: Calendar, rule: Callable[[Work], float]
) -> tuple[Run, ...]:
    """One schedule by one rule."""
    site = _Site({task.id: task for task in tasks})
    order = [task.id for task in sorted(tasks, key=rule)]
    now = calendar.start
    while site.left:
        _begin(site, order, crews, units, calendar, now)
        ends = [run.end for run in site.busy.values()]
        now = min([*ends, calendar.next_change(now)])
        if now > MOST_DAYS * DAY:
            break
        _end(site, now)
    return tuple(sorted(site.runs, key=lambda run: (run.start, run.crew)))


def _begin(
    site: _Site, order: Sequence[str], crews: int, units: Mapping[str, int], calendar: Calendar, now: float
) -> None:
    """Put free crews to the first tasks of the list that may begin."""
    for name in order:
        task = site.left.get(name)
        if task is None or name in site.busy or not site.over.issuperset(task.after):
            continue
        crew = _free({run.crew for run in site.busy.values()}, crews)
        taken = {run.unit for other, run in site.busy.items() if site.left[other].machine == task.machine}
        unit = _free(taken, units.get(task.machine, 1)) if task.machine else 0
        closes = calendar.closes(now, task.off_ground)
        if crew is None or unit is None or closes is None:
            continue
        whole = now + task.hours <= closes + EPS
        if whole or not task.in_one_go or task.hours > calendar.longest(task.off_ground) + EPS:
            site.busy[name] = Run(name, now, min(now + task.hours, closes), crew, unit)


def _free(taken: set[int], count: int) -> int | None:
    return next((n for n in range(1, count + 1) if n not in taken), None)


def _end(site: _Site, now: float) -> None:
    """Take crews off what ends now; what dark or wind cut off goes back on the list with the rest of its hours."""
    for name, run in list(site.busy.items()):
        if run.end > now + EPS:
            continue
        del site.busy[name]
        if run.end > run.start + EPS:
            site.runs.append(run)
        task = site.left[name]
        rest = task.hours - (run.end - run.start)
        if rest > EPS:
            site.left[name] = replace(task, hours=rest)
        else:
            del site.left[name]
            site.over.add(name)
