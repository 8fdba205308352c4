"""What the lawn gets from the machine at its heaviest, with boards and without."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal, get_args

from bolewright.core.base.range import Range
from bolewright.core.base.sourced import Sourced, Status
from bolewright.core.base.vectors import GRAVITY
from bolewright.core.ground.boards import leap_frog
from bolewright.core.ground.contact import contact_radius, nominal_pressure
from bolewright.core.ground.panels import INCH, Panel
from bolewright.core.ground.ruts import Tyre, rut
from bolewright.core.ground.workable import CRACKS, MARK, PRACTICE, Workable, boards_under_wheel
from bolewright.job.model import Job
from bolewright.job.out import Boards, Machine
from bolewright.planning.haul.results import BoardsOut, GroundOut, RouteOut
from bolewright.planning.haul.sheets import laid_out, numbered
from bolewright.planning.haul.words import at_path, mass_words
from bolewright.reference.ground import LawnState, lawn_state, panel_of, pressure_mark

State = Literal["firm", "damp", "wet"]
STATES: tuple[State, ...] = get_args(State)
WALKED = 0.5  # m of sheet that people carrying take up (common practice)
UNEVEN = 1.2  # heaviest wheel over the mean (common practice)
TRACK_WIDTH, TRACK_LENGTH = 0.20, 4.0  # m, and length over width, of a small machine's track (common practice)
SMALL_TYRE = (0.10, 0.40, 200e3)  # width, diameter [m], pressure [N/m2] of a hand truck (from memory)
TRACK_PEAK = 1.5  # under the rollers over the mean (common practice)
SECTION = 0.8  # of a small tyre: height over width
HALF_INCH = 0.53 * INCH
HALVINGS = 12  # of the payload: to a fortieth of a per cent


@dataclass(frozen=True)
class Wheel:
    """The heaviest wheel or track: load [N], the circle it presses on [m], its tyre, and pressure by itself [N/m2]."""

    load: float
    radius: float
    tyre: Tyre
    bare: Range


def lawn_of(job: Job, state: State | None = None) -> LawnState:
    """The lawn today, as the job says, or as it would be in another state."""
    assert job.access is not None
    limit = job.access.pressure.likely if job.access.pressure is not None else None
    return lawn_state(state or job.access.state, job.access.soil, limit)


def wheel_of(machine: Machine, carried: float) -> Wheel:
    """The heaviest wheel of a machine that carries a mass [kg]."""
    usual = TRACK_WIDTH if machine.runs_on == "tracks" else SMALL_TYRE[0]
    width = machine.tyre_width.likely if machine.tyre_width else usual
    diameter = machine.tyre_diameter.likely if machine.tyre_diameter else SMALL_TYRE[1]
    blown = machine.tyre_pressure.likely if machine.tyre_pressure else SMALL_TYRE[2]
    tyre = Tyre(width, diameter, SECTION * width, blown)
    gross = (machine.mass.likely + carried) * GRAVITY
    if machine.runs_on == "tracks":
        long = machine.contact.likely if machine.contact else TRACK_LENGTH * width
        side = gross / 2.0
        mean = side / (width * long)
        return Wheel(side, math.sqrt(width * long / math.pi), tyre, Range(mean, mean * TRACK_PEAK, mean * 2.0))
    load = machine.wheel_load.likely * GRAVITY if machine.wheel_load else gross / machine.wheels * UNEVEN
    radius = contact_radius(load, blown)
    nominal = nominal_pressure(load, diameter / 2.0, width)
    return Wheel(load, radius, tyre, Range(min(nominal, blown), blown, max(blown, nominal) * 1.25))


def board_panel(boards: Boards) -> Sourced[Panel]:
    """The sheet the job brings."""
    with at_path("boards.thickness"):
        return panel_of(boards.thickness.likely)


def under_boards(job: Job, machine: Machine, carried: float, lawn: LawnState) -> Workable:
    """The job's boards under that machine carrying a mass [kg]."""
    assert job.boards is not None
    wheel = wheel_of(machine, carried)
    panel = board_panel(job.boards).value
    return boards_under_wheel(wheel.load, wheel.radius, panel, lawn.lawn, job.boards.laid, job.boards.layers)


def most_on_machine(job: Job, machine: Machine, lawn: LawnState) -> Range:
    """The most a machine may carry [kg] before boards crack or the lawn is pressed too hard; its payload caps it.

    Found by halving, since a heavier load also flattens the tyre and presses on a wider circle.
    """
    payload = machine.payload.likely
    low, high = 0.0, payload
    if under_boards(job, machine, payload, lawn).workable:
        low = payload
    for _ in range(HALVINGS if low < payload else 0):
        middle = (low + high) / 2.0
        if under_boards(job, machine, middle, lawn).workable:
            low = middle
        else:
            high = middle
    most = under_boards(job, machine, low, lawn).most_wheel
    own = machine.mass.likely

    def carried(wheel: float) -> float:
        return min(max((own + low) * wheel / most.likely - own, 0.0), payload) if low < payload else payload

    return Range(min(carried(most.low), low), low, max(carried(most.high), low))


def boards_out(job: Job, route: RouteOut, machine: Machine | None, carried: float, trips: int) -> BoardsOut | None:
    """Boards for this route and machine, None without any. Raises BadInput when there are too few to leap-frog."""
    boards = job.boards
    if boards is None or route.soft_m <= 0.0:
        return None
    lawn = lawn_of(job)
    laid = laid_out(boards, route, machine.width.likely if machine is not None else WALKED)
    with at_path("boards.count"):
        moved = leap_frog(laid.sheets, boards.count, 2 * max(trips, 1), laid.lanes * boards.layers)
    places = numbered(laid.places, moved.down // boards.layers, route)
    words = f"{laid.words}; {moved.words}"
    free = Range.exact(math.inf)
    on_foot = BoardsOut(
        laid.sheets, boards.count, laid.lanes, laid.crosswise, moved.moves, True, "", free, Range.exact(0.0), words,
        "", MARK, places, boards.layers, moved.down, boards.length.likely, boards.width.likely,
    )  # fmt: skip
    if machine is None:
        return on_foot
    found = under_boards(job, machine, carried, lawn)
    most = most_on_machine(job, machine, lawn)
    practice = ""
    if boards.thickness.likely <= HALF_INCH and boards.laid == "lapped" and machine.runs_on == "wheels":
        practice = (
            f"{PRACTICE}: workable on {lawn.lawn.state} lawn up to about {mass_words(most.likely)} on {machine.name} "
            f"({mass_words(most.low)} on the softest soil of the range), then {found.stops}"
        )
    return replace(
        on_foot,
        workable=found.workable,
        stops=found.stops,
        most_load_kg=most,
        bending=_over(found.bending),
        words=f"{found.words}; {words}",
        practice=practice,
        by_state=tuple((state, most_on_machine(job, machine, lawn_of(job, state))) for state in STATES),
    )


def _over(bending: Range) -> Range:
    """Bending over what cracks the weakest sheet in twenty."""
    return bending.scaled(1.0 / CRACKS)


def ground_out(job: Job, route: RouteOut, machine: Machine | None, carried: Range, trips: int) -> GroundOut | None:
    """Pressure and ruts on the soft part of the way; None where all of it is hard."""
    if route.soft_m <= 0.0 or job.access is None:
        return None
    lawn = lawn_of(job)
    surface = next(leg.surface for leg in job.access.leg if leg.surface in ("lawn", "soil"))
    given = job.access.pressure is not None
    limit = lawn.lawn.pressure_limit / 1000.0
    source = "set in the job" if given else lawn.pressure_source
    status = Status.MEASURED if given else Status.MEMORY
    if machine is None:
        foot = pressure_mark("person walking, one foot").value / 1000.0
        walked = Range(0.8 * foot, foot, 1.4 * foot)
        boards = walked.scaled(0.3) if job.boards is not None else None
        return GroundOut(surface, lawn.lawn.state, walked, boards, limit, source, status, Range.exact(0.0), None)
    ends = [wheel_of(machine, mass) for mass in (carried.low, carried.likely, carried.high)]
    bare = Range(ends[0].bare.low, ends[1].bare.likely, ends[2].bare.high)
    axles = max(machine.wheels // 2, 1) if machine.runs_on == "wheels" else 2
    ruts = rut(lawn.cone, ends[1].load, ends[1].tyre, max(trips, 1) * axles, lawn.exponents)
    boards, dent = None, None
    if job.boards is not None:
        low, likely, high = (under_boards(job, machine, m, lawn) for m in (carried.low, carried.likely, carried.high))
        boards = Range(low.pressure.low, likely.pressure.likely, high.pressure.high).scaled(1e-3)
        dent = Range(low.sag.low, likely.sag.likely, high.sag.high)
    wheel = Range(*(end.load for end in ends))
    passes = 2 * max(trips, 1)
    return GroundOut(
        surface, lawn.lawn.state, bare.scaled(1e-3), boards, limit, source, status, ruts, dent, wheel, passes
    )
