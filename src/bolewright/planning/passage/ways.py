"""What takes wood out the whole way, and the limit on what may come off at once where nothing can be cut again."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bolewright.job.model import Job
from bolewright.job.out import Machine
from bolewright.planning.both import both_lengths, both_masses
from bolewright.planning.passage.results import RouteOut
from bolewright.planning.passage.route import route_of, why_machine_cannot
from bolewright.planning.passage.wheels import lawn_of, most_on_machine

BY_HAND = "by hand"
QUARTERS = 4  # parts a round is split into along the grain at most (common practice)
BESIDE = 0.05  # m of room a round needs at a gate on top of its own thickness (common practice)
LEAST_ROUND = 5.0  # kg: a machine that takes less is no help


@dataclass(frozen=True)
class Way:
    """Something that takes wood out: a machine or hands, and the heaviest part it may carry [kg]."""

    name: str
    most: float
    longest: float
    machine: Machine | None


@dataclass(frozen=True)
class Passing:
    """Most that may come off at once: mass [kg], length [m] of a log, and what sets it in words."""

    heaviest: float
    longest: float
    chipped: float  # m, wood up to this thick goes through the chipper and does not count
    words: str
    split: float = 0.0  # m, rounds up to this long are split along the grain where they land
    in_split: float = 0.0  # kg, most such a round may weigh


def passing(job: Job) -> Passing | None:
    """The limit that the way out sets the cut order; None where wood may be cut again where it lands.

    What takes most decides, hands among it. Splitting along the grain is no cut across: where the job says that rounds
    up to a length are split, one that long may be as heavy as four of its quarters. A gate narrower than the log is no
    matter of where to cut either; the way out says so. Raises BadInput for a way out that cannot be.
    """
    if job.access is None or job.access.cut_again or not job.access.leg:
        return None
    ways, _ = ways_of(job, route_of(job))
    best = max(ways, key=lambda way: way.most)
    length = f" and {both_lengths(best.longest)}" if math.isfinite(best.longest) else ""
    words = f"{both_masses(best.most)}{length}, what gets out {'' if best.name == BY_HAND else 'with '}{best.name}"
    split = min(job.access.splits.likely, best.longest) if job.access.splits is not None else 0.0
    if split > 0.0:
        in_rounds = both_masses(QUARTERS * best.most)
        words += f", or {in_rounds} in rounds up to {both_lengths(split)} long, split along the grain in four"
    return Passing(best.most, best.longest, job.haul.chipper.likely, words, split, QUARTERS * best.most)


def ways_of(job: Job, route: RouteOut) -> tuple[list[Way], list[str]]:
    """Machines that go the whole way, then hands; and why each other machine cannot."""
    ways, refused = [], []
    bed = _longest_log(job)
    for machine in job.machine:
        why = why_machine_cannot(machine, route)
        most = machine.payload.likely
        if not why and job.boards is not None and route.soft_m > 0.0:
            most = most_on_machine(job, machine, lawn_of(job)).likely
            why = f"on these boards {machine.name} can carry next to nothing" if most < LEAST_ROUND else ""
        if why:
            refused.append(f"Not by {machine.name}: {why}.")
        else:
            longest = min(machine.longest.likely if machine.longest else math.inf, bed)
            ways.append(Way(machine.name, most, longest, machine))
    ways.append(Way(BY_HAND, job.handling.hand.likely, bed, None))
    return ways, refused


def _longest_log(job: Job) -> float:
    """The longest log that a truck for logs takes [m]; no limit where logs stay or no truck says one."""
    beds = [load for load in job.load if not load.takes or "logs" in load.takes]
    if "logs" in job.haul.stays or not beds:
        return math.inf
    return max(load.length.likely if load.length else math.inf for load in beds)
