"""Getting the wood out: what fits, what must be cut shorter, boards, pressure, ruts, hours and loads."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bolewright.core.base.range import Range
from bolewright.job.model import Job
from bolewright.planning.haul.crane import crane_time
from bolewright.planning.haul.filled import filled_out
from bolewright.planning.haul.force import MOST_PUSHING, carry_note, drag_out, picks_out, push_out
from bolewright.planning.haul.ground import boards_out, ground_out
from bolewright.planning.haul.hours import amounts_of, step_hours
from bolewright.planning.haul.loads import Driven, driven_away, materials_of
from bolewright.planning.haul.results import (
    INSIDE,
    OUTSIDE,
    Amounts,
    BoardsOut,
    GroundOut,
    LiftOut,
    Material,
    OutResult,
    PickOut,
    PushOut,
    RouteOut,
    StepHours,
    Task,
)
from bolewright.planning.haul.rigging import lifts_out
from bolewright.planning.haul.tasks import tasks_of
from bolewright.planning.haul.trips import ENDS, Journey, journey_of, total
from bolewright.planning.passage.route import route_of, spot_of
from bolewright.planning.results import CutsResult, WeighResult
from bolewright.planning.weigh import weigh

CUT_AGAIN = "{} would have to be cut again where it lands, and the job says that cannot be done."
SPLIT_AGAIN = "{} would have to be split along the grain where it lands, and the job does not say that it can be."


@dataclass(frozen=True)
class _Going:
    """The wood on its way over the ground."""

    route: RouteOut
    journey: Journey
    boards: BoardsOut | None
    ground: GroundOut | None
    push: PushOut | None
    materials: tuple[Material, ...]
    driven: Driven


@dataclass(frozen=True)
class _Work:
    """What there is to do, and its hours."""

    todo: Amounts
    steps: tuple[StepHours, ...]
    tasks: tuple[Task, ...]


@dataclass(frozen=True)
class _Hung:
    """What hangs on hook and line; the crane's hours."""

    picks: tuple[PickOut, ...]
    lifts: tuple[LiftOut, ...]
    crane: Range


def out(job: Job, cut: CutsResult | None = None, weighed: WeighResult | None = None) -> OutResult:
    """How the wood gets out: pieces, ways, boards, pressure and ruts, trips, hours and loads, all as ranges.

    The pieces are those of the cut order; with a plan they come in its order and its own times are used. Raises
    BadInput for a way out that cannot be, a chart with holes or a machine that carries nothing; NotEnoughKnown with
    too few diameters.
    """
    going = _going(job, cut, weighed or weigh(job))
    work = _work(job, cut, going)
    hung = _hung(job, cut, going.journey, work.tasks)
    return _told(job, cut, going, work, hung)


def _going(job: Job, cut: CutsResult | None, weighed: WeighResult) -> _Going:
    route = route_of(job)
    journey = journey_of(job, route, weighed.pieces, cut)
    machine, carried, trips = journey.main.machine, journey.carried, journey.trips
    materials = materials_of(job, journey.logs, sum(item.room for item in journey.items), journey.brush)
    return _Going(
        route,
        journey,
        boards_out(job, route, machine, carried.high, trips),
        ground_out(job, route, machine, carried, trips),
        push_out(job, journey.main, carried),
        materials,
        driven_away(job, materials, {end: [item for _, item in journey.moved[end]] for end in ENDS}),
    )


def _work(job: Job, cut: CutsResult | None, going: _Going) -> _Work:
    loads = going.driven.loads
    todo = amounts_of(job, going.route, cut, going.journey, going.boards, len(loads))
    steps = step_hours(job, todo)
    return _Work(todo, steps, tasks_of(job, steps, going.journey, cut, loads, going.boards))


def _hung(job: Job, cut: CutsResult | None, journey: Journey, tasks: tuple[Task, ...]) -> _Hung:
    return _Hung(picks_out(job, journey.pieces, cut), lifts_out(job, cut), crane_time(job, tasks))


def _told(job: Job, cut: CutsResult | None, going: _Going, work: _Work, hung: _Hung) -> OutResult:
    """Everything in its place, with what of it is outside the limits set."""
    journey, driven = going.journey, going.driven
    outside = tuple(_outside(job, cut, going, hung))
    return OutResult(
        status=OUTSIDE if outside else INSIDE,
        outside=outside,
        machine=journey.main.name,
        sheets=going.boards.needed if going.boards else 0,
        trips=journey.trips,
        carries=journey.carries,
        heaviest_kg=journey.heaviest,
        pressure_kPa=_pressure(going.ground),
        hours=total([step.hours for step in work.steps]),
        route=going.route,
        pieces=journey.outs,
        shorter=journey.said,
        boards=going.boards,
        ground=going.ground,
        push=going.push,
        drag=drag_out(job, journey.pieces),
        picks=hung.picks,
        lifts=hung.lifts,
        materials=going.materials,
        loads=driven.loads,
        load_count=driven.count,
        steps=work.steps,
        to_do=work.todo,
        notes=(*journey.refused, *_notes(job, cut)),
        filled_in=filled_out(job, journey.main.machine),
        tipped=driven.tipped,
        crane_hours=hung.crane,
        cut_again=job.access is None or job.access.cut_again,
        crane_at=spot_of(job.crane.at) if job.crane is not None else None,
        crane_down=spot_of(job.crane.down) if job.crane is not None else None,
        tasks=work.tasks,
    )


def _outside(job: Job, cut: CutsResult | None, going: _Going, hung: _Hung) -> Iterator[str]:
    """What is outside the limits set, one sentence each."""
    yield from _ways_outside(job, going.route, going.boards, going.ground, going.push)
    # where a plan lifts nothing the chart is shown, and nothing hangs on it
    if cut is None or cut.status != "plan" or hung.crane.high > 0.0:
        yield from _picks_outside(hung.picks)
    yield from _gear_outside(hung.lifts)
    yield from _not_cut_again(job, going.journey)
    yield from going.driven.lacking


def _pressure(ground: GroundOut | None) -> Range:
    """Pressure on the lawn as planned: under boards where there are some."""
    if ground is None:
        return Range.exact(0.0)
    return ground.boards_kPa or ground.bare_kPa


def _ways_outside(
    job: Job, route: RouteOut, boards: BoardsOut | None, ground: GroundOut | None, push: PushOut | None
) -> list[str]:
    """What of the way out is outside the limits set, one sentence each."""
    people = min(job.day.people or MOST_PUSHING, MOST_PUSHING)
    found = [f'The way out runs over "{name}": lead it round.' for name in route.crosses]
    if boards is not None and not boards.workable:
        found.append(
            f"The boards do not do under the heaviest load: {boards.stops}. Take thicker or double ones, or less load."
        )
    if ground is not None and _pressure(ground).likely > ground.limit_kPa:
        lay = " Lay boards, or wait until it is firmer." if ground.boards_kPa is None else ""
        pressed = f"{_pressure(ground).likely:.0f} kPa and the limit is {ground.limit_kPa:.0f} kPa"
        found.append(f"The {ground.surface} gets {pressed}.{lay}")
    return [*found, *_pushed_outside(push, people)]


def _pushed_outside(push: PushOut | None, people: int) -> list[str]:
    """What is too much for the people there are to push, or to hold back downhill."""
    found = []
    if push is not None and push.people > people:
        found.append(
            f"Pushing the heaviest load takes {push.people} people by the published filter, and {people} can: cut it "
            "smaller or winch it."
        )
    if push is not None and push.holding_N.likely > people * push.limit_N:
        found.append(
            f"Downhill the heaviest load pulls with {push.holding_N.likely:.0f} N, more than {people} people hold "
            "by the published filter: brake it with a rope round a post, or cut it smaller."
        )
    return found


def _not_cut_again(job: Job, going: Journey) -> list[str]:
    """Pieces that would have to be cut or split again where they land, in a job that says this cannot be done.

    The stub on a root plate is cut where it stands.
    """
    assert job.access is not None
    if job.access.cut_again:
        return []
    stubs = {piece.id for piece in going.pieces if piece.start_m <= 0.0} if job.tree.attached == "root plate" else set()
    said = [one for one in going.said if one.piece not in stubs]
    split = [one.piece for one in said if not one.at_m and job.access.splits is None]
    return [
        *(CUT_AGAIN.format(one.piece) for one in said if one.at_m),
        *(SPLIT_AGAIN.format(name) for name in split),
    ]


def _picks_outside(picks: tuple[PickOut, ...]) -> list[str]:
    said: dict[str, list[str]] = {}
    for one in picks:
        if not one.inside:
            said.setdefault(one.words, []).append(one.piece)
    return [
        f"{', '.join(names)} on the hook {'is' if len(names) == 1 else 'are'} {words}." for words, names in said.items()
    ]


def _gear_outside(lifts: tuple[LiftOut, ...]) -> list[str]:
    return [
        f"{lift.piece}: the {held.part} is outside its limit."
        for lift in lifts
        for held in lift.held
        if held.words == "outside the limit"
    ]


def _notes(job: Job, cut: CutsResult | None) -> list[str]:
    assert job.access is not None
    notes = [carry_note(job)]
    if job.access.owner_told is not True:
        notes.append("The owner has not said what lies under the lawn: ask before a machine goes on it.")
    if cut is None or cut.status != "plan":
        notes.append("There is no cut order in this: times for cutting are counted by the piece.")
    if job.boards is None:
        notes.append("No boards are given: what is said of the lawn is without any.")
    if not job.load:
        notes.append("No truck is given: nothing is said about loads.")
    if job.tree.attached == "root plate":
        notes.append("The root plate and its stub's roots are not among the loads.")
    return notes
