"""Hours by step from the company's own times, with what its record has taught."""

from __future__ import annotations

import math

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


def step_hours(
    job: Job, route: RouteOut, cut: CutsResult | None, going: Journey, boards: BoardsOut | None, loads: int
) -> tuple[StepHours, ...]:
    """Hours of the crew for each kind of work; ends are added up, which is wider than chance would make it."""
    rates = job.rates
    planned = cut.chosen if cut is not None and cut.status == "plan" else None
    steps = [s for s in planned.steps if s.action == "cut"] if planned else []
    minutes = [s.minutes for s in steps if s.method not in LOWERED]
    lowered = [s for s in steps if s.method in LOWERED]
    places = len(planned.places) if planned else len(job.line)
    from_plan = Range(0.6, 1.0, 1.8).scaled(sum(minutes) / 60.0)
    pieces = len(going.pieces)
    by_count = _hours(rates.cut, pieces if planned is None else 0)
    found = {
        "set-up": (_hours(rates.set_up), "once"),
        "secure": (_hours(rates.secure, max(places, 1)), f"places to secure: {max(places, 1)}"),
        "cut": (_plus(from_plan, by_count), f"{pieces} pieces"),
        "lower": (_hours(rates.lower, len(lowered)), f"{len(lowered)} pieces let down or lifted"),
        "move": _moving(rates, route, going, boards),
        "load": (_hours(rates.load, loads), f"{loads} loads"),
        "clean": (_hours(rates.clean), "once"),
    }
    return tuple(
        StepHours(name, hours.scaled(learnt(rates.actual, name)), why, learnt(rates.actual, name))
        for name, (hours, why) in found.items()
    )


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
