"""What the lawn gets from the machine at its heaviest, with boards and without."""

from __future__ import annotations

import math
from dataclasses import replace

from bolewright.core.base.range import Range
from bolewright.core.base.sourced import Status
from bolewright.core.ground.boards import leap_frog
from bolewright.core.ground.panels import INCH
from bolewright.core.ground.ruts import rut
from bolewright.core.ground.workable import CRACKS, MARK, PRACTICE
from bolewright.job.model import Job
from bolewright.job.out import Machine
from bolewright.planning.both import both_masses
from bolewright.planning.haul.results import BoardsOut, GroundOut, RouteOut
from bolewright.planning.haul.sheets import laid_out, numbered
from bolewright.planning.passage.wheels import STATES, lawn_of, most_on_machine, under_boards, wheel_of
from bolewright.planning.passage.words import at_path
from bolewright.reference.ground import pressure_mark

WALKED = 0.5  # m of sheet that people carrying take up (common practice)
HALF_INCH = 0.53 * INCH


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
            f"{PRACTICE}: workable on {lawn.lawn.state} lawn up to about {both_masses(most.likely)} on {machine.name} "
            f"({both_masses(most.low)} on the softest soil of the range), then {found.stops}"
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
