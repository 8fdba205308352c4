"""Jobs with invented results for the tests of papers."""

from __future__ import annotations

import dataclasses
import datetime
import math
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent / "unit" / "drawings" / "fixtures"))

from invented_jobs import JOBS, spread

from bolewright.documents.briefing import printed_briefing
from bolewright.documents.press import Printed
from bolewright.drawings.units import Units
from bolewright.job.model import Job
from bolewright.job.read import loads
from bolewright.planning.results import (
    CutsResult,
    FilledIn,
    HoldResult,
    NextCut,
    PieceWeight,
    Plan,
    PlateOutcome,
    WeighResult,
)
from bolewright.planning.shapes import Scene

DAY = datetime.date(2026, 3, 28)
FACTS = """
schema = 1
[job]
title = "Oak across the Hendersons' garage"
site = "14 Mill Lane"
owner = "R. Henderson"
lead = "Dana Ruiz"
crew = ["Sam Ito", "Lee Brandt"]
people_out = true
hospital = "County General"
utilities = [{kind = "power", state = "live", distance = "35 ft"}, {kind = "gas"}]
"""
TREE = """
[tree]
species = "northern red oak"
attached = "root plate"
[tree.root_plate]
diameter = "9 ft"
thickness = "20 in"
[[tree.stem]]
at = "0 ft"
diameter = "37 in"
[[tree.stem]]
at = "57 ft"
diameter = "10 in"
[[support]]
id = "eave"
member = "stem"
at = "24 ft"
on = "roof"
"""
BARE = 'schema = 1\n[job]\ntitle = "Oak"\n[tree]\nspecies = "oak"\nattached = "free"\n'


@dataclasses.dataclass(frozen=True)
class Case:
    """One job with all its results."""

    job: Job
    weigh: WeighResult
    hold: HoldResult
    cuts: CutsResult
    scene: Scene

    def printed(self, units: Units = "us", date: datetime.date | None = DAY) -> Printed:
        """The briefing of it."""
        return printed_briefing(self.job, self.weigh, self.hold, self.cuts, self.scene, units, date)


def case(name: str) -> Case:
    """An invented job with invented words and weights around it."""
    made = JOBS[name]()
    steps = tuple(
        dataclasses.replace(
            step,
            stop=(f"the butt lifts in step {step.n}", f"the roof cracks in step {step.n}"),
            watch=(f"the eave at step {step.n}",),
        )
        for step in made.plan.steps
    )
    plan = dataclasses.replace(made.plan, steps=steps, gear=("chain saw", "two wedges"))
    other = Plan(
        "by crane",
        "no plan",
        (),
        (),
        plan.start_building_N,
        plan.peak_building_N,
        0.0,
        0.0,
        (),
        "",
        "no crane was entered",
        ("a crane that takes 900 lb",),
    )
    firsts = tuple(
        NextCut(s.piece, s.takes, s.mass_kg, spread(300.0), s.n % 2 == 0, "loads the eave")
        for s in steps
        if s.action == "cut"
    )
    plate = (PlateOutcome(0.5, "stands up", spread(3000.0), {"stands up": 0.9, "stays": 0.1}),)
    hold = dataclasses.replace(made.hold, plate=plate if name == "garage" else ())
    cuts = CutsResult("plan", plan, (other,), firsts, 512, 1432, "Every state was worked out a second way.")
    return Case(loads(FACTS + TREE), weighed(made.scene), hold, cuts, made.scene)


def weighed(scene: Scene) -> WeighResult:
    """Weights of every run of wood, at 900 kg/m3."""
    pieces = []
    for run in scene.wood:
        long = math.dist(run.points[0], run.points[-1])
        mass = spread(900 * math.pi / 4 * run.diameters[0] * run.diameters[-1] * long)
        pieces.append(
            PieceWeight(
                run.piece,
                run.member,
                0.0,
                long,
                run.diameters[0],
                run.diameters[-1],
                mass,
                mass,
                mass,
                mass,
                run.points[1],
            )
        )
    filled = (
        FilledIn("support[ridge].stiffness", "300 N/mm", "not entered", "judgement", "common practice"),
        FilledIn("tree.limb[L2].twigs", "85 lb", "not measured", "an invented table", "from memory"),
        FilledIn("tree.limb[L3].tip_diameter", "2 in", "not measured", "a quarter of the base", "estimate"),
    )
    return WeighResult(
        spread(3100.0),
        tuple(pieces),
        None,
        spread(1010.0),
        "northern red oak (Quercus rubra)",
        "Wood Handbook",
        "confirmed",
        filled,
    )


def dead_end(found: Case) -> Case:
    """The same job with no order."""
    load = found.cuts.chosen.start_building_N
    plan = Plan(
        "by hand",
        "no plan",
        (),
        (),
        load,
        load,
        0.0,
        0.0,
        (),
        "",
        "with L3 off, every next cut loads the near eave",
        ("a second prop under stem 2", "a pick of stem 3"),
    )
    cuts = dataclasses.replace(found.cuts, status="no plan", chosen=plan, alternatives=())
    return dataclasses.replace(found, cuts=cuts)


def bare(found: Case) -> Case:
    """The same results with nothing optional given."""
    weigh = dataclasses.replace(found.weigh, filled_in=(), pieces=())
    hold = dataclasses.replace(found.hold, margins=None, pieces=(), notes=(), plate=())
    steps = tuple(
        dataclasses.replace(s, bind=None, stand="", why="", watch=(), stop=(), drop_zone=())
        for s in found.cuts.chosen.steps
    )
    plan = dataclasses.replace(found.cuts.chosen, steps=steps, places=(), gear=(), summary="")
    cuts = CutsResult("plan", plan, (), (), 0, 0, "")
    return Case(loads(BARE), weigh, hold, cuts, found.scene)


def with_steps(found: Case, count: int) -> Case:
    """The same plan cut short or run through again to have so many steps."""
    steps = found.cuts.chosen.steps
    renamed = tuple(
        dataclasses.replace(steps[k % len(steps)], n=k + 1, stop=(f"the butt lifts in step {k + 1}",))
        for k in range(count)
    )
    plan = dataclasses.replace(found.cuts.chosen, steps=renamed)
    return dataclasses.replace(found, cuts=dataclasses.replace(found.cuts, chosen=plan))
