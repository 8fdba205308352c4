"""Wheels of a machine and the most it may carry over boards on this lawn."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, get_args

from bolewright.core.base.range import Range
from bolewright.core.base.sourced import Sourced
from bolewright.core.base.vectors import GRAVITY
from bolewright.core.ground.contact import contact_radius, nominal_pressure
from bolewright.core.ground.panels import Panel
from bolewright.core.ground.ruts import Tyre
from bolewright.core.ground.workable import Workable, boards_under_wheel
from bolewright.job.model import Job
from bolewright.job.out import Boards, Machine
from bolewright.planning.passage.words import at_path
from bolewright.reference.ground import LawnState, lawn_state, panel_of

State = Literal["firm", "damp", "wet"]
STATES: tuple[State, ...] = get_args(State)
UNEVEN = 1.2  # heaviest wheel over the mean (common practice)
TRACK_WIDTH, TRACK_LENGTH = 0.20, 4.0  # m, and length over width, of a small machine's track (common practice)
SMALL_TYRE = (0.10, 0.40, 200e3)  # width, diameter [m], pressure [N/m2] of a hand truck (from memory)
TRACK_PEAK = 1.5  # under the rollers over the mean (common practice)
SECTION = 0.8  # of a small tyre: height over width
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
