"""What holds the butt: hinge fibre at a break, roots and plate where it lies uprooted, and a hold against rolling."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from bolewright.core.base.sourced import Status
from bolewright.core.base.vectors import GRAVITY, UP, Vector, unit
from bolewright.core.contact.supports import Contact
from bolewright.core.tree.assembly import Assembly
from bolewright.core.tree.spec import STEM
from bolewright.job.model import Job
from bolewright.planning import defaults
from bolewright.planning.holding.contacts import NONE
from bolewright.planning.results import FilledIn
from bolewright.planning.site import Site
from bolewright.planning.trees import Grown


def butt_holds(job: Job, grown: Grown, assembly: Assembly, site: Site, filled: list[FilledIn]) -> list[Contact]:
    """What still holds the butt: hinge fibre at a break, or the root plate on its edge with roots in the ground."""
    if job.tree.attached == "hinge":
        return _hinge(job, grown, assembly, filled)
    if job.tree.attached == "root plate" and grown.spec.plate is not None:
        return _plate(grown, assembly, site, filled)
    return []


def _hinge(job: Job, grown: Grown, assembly: Assembly, filled: list[FilledIn]) -> list[Contact]:
    given = job.tree.hinge.share if job.tree.hinge is not None else None
    share = given.low if given is not None else defaults.HINGE_SHARE
    if given is None:
        filled.append(
            FilledIn(
                "tree.hinge.share",
                f"{100 * share:.0f} %",
                "part of the section still joined at the break",
                "judgement; look at the break and enter what you see",
                Status.COMMON_PRACTICE,
            )
        )
    diameter = float(assembly.diameter_start[0])
    shear = grown.species.shear_parallel.value
    hold = share * np.pi * diameter**2 / 4.0 * shear * defaults.TORN_FIBRE
    return _two_way("hinge", assembly.start[0], hold, hold * diameter / 4.0, assembly, hold, 1e-6, 0.004)


def _plate(grown: Grown, assembly: Assembly, site: Site, filled: list[FilledIn]) -> list[Contact]:
    plate = grown.spec.plate
    assert plate is not None
    axis = unit(assembly.end[0] - assembly.start[0])
    down = unit(-(UP - axis * float(axis @ UP)))
    edge = assembly.start[0] + down * plate.diameter / 2.0
    weight = plate.density * np.pi * plate.diameter**2 / 4.0 * plate.thickness * GRAVITY
    hold = defaults.ROOT_HOLD * weight
    filled.append(
        FilledIn(
            "root hold",
            f"{100 * defaults.ROOT_HOLD:.0f} % of the plate's weight",
            "what roots still in the ground hold down at the butt",
            "judgement; no published value for a tipped plate",
            Status.COMMON_PRACTICE,
        )
    )
    return _two_way("root plate", edge, hold, weight * plate.diameter / 4.0, assembly, 0.6 * weight, 2e-6, 0.01)


def _two_way(
    kind: str, point: Vector, hold: float, roll: float, assembly: Assembly, sideways: float, give: float, misfit: float
) -> list[Contact]:
    """A vertical hold that pushes up freely and holds down to its capacity, and a couple against rolling."""
    axis = assembly.end[0] - assembly.start[0]
    along = unit([axis[0], axis[1], 0.0]) if abs(axis[0]) + abs(axis[1]) > 1e-9 else np.array([1.0, 0.0, 0.0])
    push = Contact(
        id=kind,
        kind=kind,
        member=STEM,
        at=0.0,
        segment=-1,
        fraction=1.0,
        point=point,
        force=UP,
        couple=NONE,
        normal=UP,
        low=-hold,
        give=give,
        give_spread=0.6,
        misfit=misfit,
        mu_low=0.0,
        mu_high=0.0,
        sideways=sideways,
    )
    turn = replace(
        push,
        id=f"{kind} roll",
        force=NONE,
        couple=along,
        normal=NONE,
        low=-roll,
        high=roll,
        give=defaults.ROLL_GIVE,
        misfit=0.0,
        sideways=0.0,
    )
    return [push, turn]


def roll_holder(assembly: Assembly) -> Contact:
    """A couple that stands in for whatever keeps a round stem from rolling, when nothing declared does.

    It is there to let the rest be computed; the answer then says "can roll".
    """
    base = _two_way("roll holder", assembly.start[0], 1.0, np.inf, assembly, 0.0, 1e-6, 0.0)[1]
    return replace(base, id="roll holder", kind="roll holder")
