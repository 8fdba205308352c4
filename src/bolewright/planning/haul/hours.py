"""Hours by step from the company's own times, with what its record has taught."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bolewright.core.base.range import Range
from bolewright.job.model import Job
from bolewright.job.quantity import Quantity
from bolewright.job.rates import Rates
from bolewright.planning.haul.learning import learnt
from bolewright.planning.haul.results import Amounts, BoardsOut, RouteOut, StepHours
from bolewright.planning.haul.trips import Journey
from bolewright.planning.results import CutsResult

HOUR = 3600.0
WALK = Range(0.6, 0.9, 1.2)  # m/s with a load, there and back (common practice)
CRANE = "crane"
LOWERED = ("lower on a line", "crane pick")


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


def amounts_of(
    job: Job, route: RouteOut, cut: CutsResult | None, going: Journey, boards: BoardsOut | None, loads: int
) -> Amounts:
    """What is still to be done of each kind, by the plan's own minutes where there is one."""
    planned = cut.chosen if cut is not None and cut.status == "plan" else None
    steps = [s for s in planned.steps if s.action == "cut"] if planned else []
    places = len(planned.places) if planned else len(job.line)
    counted = max(len(going.pieces) - sum(row.what == "cut" for row in job.done), 0) if planned is None else 0
    return Amounts(
        places=max(places, 0 if any(row.what == "prop" for row in job.done) else 1),
        pieces=len(going.pieces),
        cut_min=sum(s.minutes for s in steps if s.method not in LOWERED),
        cuts=counted,
        lowered=sum(s.method in LOWERED for s in steps),
        ground_cuts=sum(len(one.at_m) for one in going.said),
        splits=sum(max(one.parts - one.rounds, 0) for one in going.outs),
        trips=going.on_wheels,
        carries=going.carries,
        way_m=2.0 * route.length_m,
        sheets=boards.needed if boards else 0,
        sheets_moved=boards.moves if boards else 0,
        loads=loads,
    )


def hours_by(rates: Rates, todo: Amounts) -> dict[str, Range]:
    """Hours of the crew for each kind of work by these times, without what a record has taught; ends are added up."""
    from_plan = Range(0.6, 1.0, 1.8).scaled(todo.cut_min / 60.0)
    return {
        "set-up": _hours(rates.set_up),
        "secure": _hours(rates.secure, todo.places),
        "cut": _plus(from_plan, _hours(rates.cut, todo.cuts)),
        "lower": _hours(rates.lower, todo.lowered),
        "move": _moving(rates, todo),
        "load": _hours(rates.load, todo.loads),
        "clean": _hours(rates.clean),
    }


def _moving(rates: Rates, todo: Amounts) -> Range:
    """Cutting shorter and splitting on the ground, trips and carries there and back, boards laid, moved and taken up.

    People carry side by side: two carries go at once.
    """
    way = todo.way_m
    walk = Range(way / WALK.high, way / WALK.likely, way / WALK.low).scaled(1.0 / HOUR)
    two = todo.carries / 2.0
    return _plus(
        _hours(rates.cut, todo.ground_cuts + todo.splits),
        walk.scaled(todo.trips),
        _hours(rates.trip, todo.trips),
        walk.scaled(two),
        _hours(rates.carry, two),
        _hours(rates.board, 2 * todo.sheets + todo.sheets_moved),
    )


def step_hours(job: Job, todo: Amounts) -> tuple[StepHours, ...]:
    """Hours of the crew for each kind of work, what is done included; ends are added up, which is wider than chance."""
    before, words = done_steps(job), _words(todo)
    return tuple(_step(job, name, hours, words[name], before) for name, hours in hours_by(job.rates, todo).items())


def _step(job: Job, name: str, hours: Range, why: str, before: Sequence[DoneStep]) -> StepHours:
    """One kind of work: what is to come by the company's record, and what is done."""
    factor = learnt(job.rates.actual, name)
    done = [one.hours for one in before if one.kind == name]
    words = f"{why}, {len(done)} done" if done else why
    return StepHours(name, _plus(hours.scaled(factor), *done), words, factor)


def _words(todo: Amounts) -> dict[str, str]:
    """What is in the hours of each kind."""
    split = f" and {todo.splits} splits along the grain" if todo.splits else ""
    moving = f"{todo.ground_cuts} cuts on the ground{split}, {todo.trips} trips, {todo.carries} carries by hand, "
    moving += f"{todo.sheets} sheets laid and taken up"
    return {
        "set-up": "once",
        "secure": f"places to secure: {todo.places}",
        "cut": f"{todo.pieces} pieces",
        "lower": f"{todo.lowered} pieces let down or lifted",
        "move": moving + (f", {todo.sheets_moved} moved ahead" if todo.sheets_moved else ""),
        "load": f"{todo.loads} loads",
        "clean": "once",
    }
