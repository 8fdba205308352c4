"""Hours by step from the company's own times, with what its record has taught."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from bolewright.core.base.range import Range
from bolewright.job.model import Job
from bolewright.job.quantity import Quantity
from bolewright.job.rates import Actual, Rates
from bolewright.planning.haul.results import BoardsOut, RouteOut, StepHours
from bolewright.planning.haul.trips import Journey
from bolewright.planning.results import CutsResult

HOUR = 3600.0
WALK = Range(0.6, 0.9, 1.2)  # m/s with a load, there and back (common practice)
PRIOR_JOBS = 4.0  # a new step is believed as much as four jobs would be
CRANE = "crane"
LOWERED = ("lower on a line", "crane pick")


def learnt(record: tuple[Actual, ...], step: str) -> float:
    """Factor on a planned time from the company's record: its mean of took over planned, shrunk towards 1.

    With n jobs the logarithm counts n / (n + 4): a first job hardly moves it, many jobs almost replace the plan.
    """
    ratios = [
        math.log(one.took.likely / one.planned.likely)
        for one in record
        if one.step == step and one.planned.likely > 0.0 and one.took.likely > 0.0
    ]
    return math.exp(sum(ratios) / (len(ratios) + PRIOR_JOBS)) if ratios else 1.0


def _hours(time: Quantity, count: float = 1.0) -> Range:
    return Range(time.low, time.likely, time.high).scaled(count / HOUR)


def _plus(*ranges: Range) -> Range:
    return Range(sum(r.low for r in ranges), sum(r.likely for r in ranges), sum(r.high for r in ranges))


@dataclass(frozen=True)
class DoneStep:
    """A step of the job that is carried out: the kind of its hours, what it needed beside the crew, and the hours."""

    kind: str  # secure | cut | lower
    machine: str
    what: str
    hours: Range


def done_steps(job: Job) -> tuple[DoneStep, ...]:
    """Hours of the steps that are done, by the rates: a prop, a piece let down or lifted, or any other cut.

    They belong to the job as much as those to come; without them a plan from here would look cheaper than the whole.
    """
    rates, found = job.rates, []
    for row in job.done:
        kind = "secure" if row.what == "prop" else "lower" if row.how in LOWERED else "cut"
        time = {"secure": rates.secure, "lower": rates.lower, "cut": rates.cut}[kind]
        machine = CRANE if row.how == "crane pick" else ""
        what = f"{'set a prop under' if kind == 'secure' else 'cut'} {row.member}, done"
        found.append(DoneStep(kind, machine, what, _hours(time).scaled(learnt(rates.actual, kind))))
    return tuple(found)


def step_hours(
    job: Job, route: RouteOut, cut: CutsResult | None, going: Journey, boards: BoardsOut | None, loads: int
) -> tuple[StepHours, ...]:
    """Hours of the crew for each kind of work, what is done included; ends are added up, which is wider than chance."""
    rates = job.rates
    found = {
        "set-up": (_hours(rates.set_up), "once"),
        **_on_the_tree(job, cut, len(going.pieces)),
        "move": _moving(rates, route, going, boards),
        "load": (_hours(rates.load, loads), f"{loads} loads"),
        "clean": (_hours(rates.clean), "once"),
    }
    before = done_steps(job)
    return tuple(_step(job, name, hours, why, before) for name, (hours, why) in found.items())


def _step(job: Job, name: str, hours: Range, why: str, before: Sequence[DoneStep]) -> StepHours:
    """One kind of work: what is to come by the company's record, and what is done."""
    factor = learnt(job.rates.actual, name)
    done = [one.hours for one in before if one.kind == name]
    words = f"{why}, {len(done)} done" if done else why
    return StepHours(name, _plus(hours.scaled(factor), *done), words, factor)


def _on_the_tree(job: Job, cut: CutsResult | None, pieces: int) -> dict[str, tuple[Range, str]]:
    """What is still to be secured, cut and let down; by the plan's own minutes where there is one."""
    rates = job.rates
    planned = cut.chosen if cut is not None and cut.status == "plan" else None
    steps = [s for s in planned.steps if s.action == "cut"] if planned else []
    minutes = [s.minutes for s in steps if s.method not in LOWERED]
    lowered = sum(s.method in LOWERED for s in steps)
    places = len(planned.places) if planned else len(job.line)
    places = max(places, 0 if any(row.what == "prop" for row in job.done) else 1)
    from_plan = Range(0.6, 1.0, 1.8).scaled(sum(minutes) / 60.0)
    counted = max(pieces - sum(row.what == "cut" for row in job.done), 0) if planned is None else 0
    return {
        "secure": (_hours(rates.secure, places), f"places to secure: {places}"),
        "cut": (_plus(from_plan, _hours(rates.cut, counted)), f"{pieces} pieces"),
        "lower": (_hours(rates.lower, lowered), f"{lowered} pieces let down or lifted"),
    }


def _moving(rates: Rates, route: RouteOut, going: Journey, boards: BoardsOut | None) -> tuple[Range, str]:
    """Cutting shorter and splitting on the ground, trips and carries there and back, boards laid, moved and taken up.

    People carry side by side: two carries go at once.
    """
    cuts = sum(len(one.at_m) for one in going.said)
    splits = sum(max(one.parts - one.rounds, 0) for one in going.outs)
    trips, carries = going.on_wheels, going.carries
    sheets, moves = (boards.needed, boards.moves) if boards else (0, 0)
    way = 2.0 * route.length_m
    walk = Range(way / WALK.high, way / WALK.likely, way / WALK.low).scaled(1.0 / HOUR)
    two = carries / 2.0
    hours = _plus(
        _hours(rates.cut, cuts + splits),
        walk.scaled(trips),
        _hours(rates.trip, trips),
        walk.scaled(two),
        _hours(rates.carry, two),
        _hours(rates.board, 2 * sheets + moves),
    )
    split = f" and {splits} splits along the grain" if splits else ""
    words = f"{cuts} cuts on the ground{split}, {trips} trips, {carries} carries by hand, "
    words += f"{sheets} sheets laid and taken up"
    return hours, words + (f", {moves} moved ahead" if moves else "")
