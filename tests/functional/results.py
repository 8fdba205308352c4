"""Made-up results, in the shapes the use cases answer, for tests of what is printed and written.

The numbers are invented: these tests look at words, keys and files, never at mechanics.
"""

from __future__ import annotations

import math

from bolewright.core.base.range import Range
from bolewright.planning.haul.record import Compared, Earlier, Learnt, Record
from bolewright.planning.haul.results import (
    INSIDE,
    Amounts,
    LoadOut,
    OutResult,
    PieceOut,
    RouteOut,
    Shorter,
    StepHours,
)
from bolewright.planning.results import (
    Bind,
    CutsResult,
    CutStep,
    FilledIn,
    HoldResult,
    Margins,
    Motion,
    NextCut,
    PieceRole,
    PieceWeight,
    Place,
    Plan,
    SupportForce,
    WeighResult,
)

HELD = Motion("held", "held", (0.0, 0.0, 0.0), (0.0, 0.0, 0.0), 0.0, "")
DROPS = Motion("drops at the butt", "drops", (0.0, 0.0, -0.4), (0.0, 0.0, 0.0), 0.4, "the ground")
FORCE = Range(10_000.0, 13_000.0, 16_500.0)
MASS = Range(60.0, 80.0, 110.0)


def weighed() -> WeighResult:
    """A small tree of one piece."""
    piece = PieceWeight("S1", "stem", 0.0, 2.0, 0.5, 0.45, MASS, MASS, Range.exact(0.0), MASS, (1.0, 0.0, 0.5))
    density = FilledIn("tree.density", "900 kg/m3", "not measured", "species table", "confirmed")
    return WeighResult(
        MASS, (piece,), None, Range(850.0, 900.0, 950.0), "red oak", "species table", "confirmed", (density,)
    )


def held(status: str = "held") -> HoldResult:
    """A tree on one support without a bound."""
    support = SupportForce(
        "eave", "roof", "stem", 5.0, (5.0, 0.0, 3.0), (0.0, 0.0, 1.0), FORCE, math.inf, 13_100.0, True, None, "carries"
    )
    margins = Margins(0.3, "forward", 0.2, "to the right", 0.21, 0.3, 1.4)
    role = PieceRole("L1", "prop", Range(-900.0, -700.0, -500.0), "it stands on the ground")
    motion = None if status == "held" else DROPS
    return HoldResult(status, (support,), (role,), FORCE, FORCE, margins, motion, (), 1e-12, 64, (), ())


def bind() -> Bind:
    """Top bind with a closing kerf."""
    none = Range.exact(0.0)
    share = Range(0.1, 0.2, 0.3)
    return Bind(
        "top bind", 12.0, FORCE, none, none, none, share, 12.0, 0.1, 6.0, Range(-4.0, -3.0, -2.0), MASS, True,
        "top squeezed: a shallow cut on top first, then from below",
    )  # fmt: skip


def step(n: int = 1) -> CutStep:
    """One cut of one limb."""
    forces = {"eave": FORCE}
    return CutStep(
        n, "cut", "carry", "L1", ("L1", "L1a"), "L1", 0.5, (4.0, 1.0, 3.0), 0.22, MASS, (4.5, 1.5, 2.0), bind(), forces,
        forces, FORCE, FORCE, FORCE, HELD, DROPS, ((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (1.0, 1.0, 0.0)), "uphill side",
        "it carries nothing", ("the kerf",), ("the prop loosens",), 20.0, "agrees",
    )  # fmt: skip


def cut(status: str = "plan", steps: int = 1) -> CutsResult:
    """A plan by hand with one prop, or a dead end."""
    prop = Place(
        "P1", "prop", "stem", 4.0, (4.0, 0.0, 2.0), (4.0, 0.0, 0.0), "4x4, 6 ft, from the truck", FORCE, 20_000.0,
        (("column", 13_000.0, 20_000.0, "column rule"),), "snug", "it takes what L1 carried",
    )  # fmt: skip
    found = status == "plan"
    plan = Plan(
        "by hand", status, (prop,) if found else (), tuple(step(n + 1) for n in range(steps)) if found else (), FORCE,
        FORCE, 95.0, 0.0, ("saw", "prop"), "Prop the stem, then take the limb.",
        "" if found else "with S1 still on, every cut loads the eave", () if found else ("a second prop under S2",),
    )  # fmt: skip
    first = NextCut("L1", ("L1",), MASS, Range(100.0, 400.0, 900.0), False, "loads the eave")
    return CutsResult(status, plan, (), (first,), 64, 12, "every state re-checked")


def got_out() -> OutResult:
    """One piece cut in two for a dolly, one load."""
    route = RouteOut(30.0, 20.0, 0.0, None, 0, (), ())
    piece = PieceOut("S1", "stem", MASS, Range.exact(0.0), 2.0, 0.5, "dolly", 2, False, "too heavy")
    back = Shorter("S1", "stem", (1.0,), 90.0, "S1 does not get out whole.")
    hours = Range(0.5, 1.0, 2.0)
    return OutResult(
        INSIDE, (), "dolly", 5, 2, 0, MASS, Range(20.0, 30.0, 40.0), hours, route, (piece,), (back,), None, None, None,
        None, (), (), (), (LoadOut("trailer", "logs", ("S1/1", "S1/2"), 110.0, 0.4),), Range.exact(1.0),
        (StepHours("move", hours, "2 trips"),), Amounts(1, 1, 0.0, 1, 0, 1, 0, 2, 0, 60.0, 5, 0, 1),
    )  # fmt: skip


def recorded() -> Record:
    """One earlier job that took twice as long to set up."""
    hours = Range(0.5, 1.0, 2.0)
    one = Earlier("Elm", "", None, "elm.toml", "", (Compared("set-up", hours, 2.0, 2.0),))
    learnt = Learnt("set-up", 1, 2.0, 2.0, 2.0, 0.2, 1.15, 1.0, hours, hours.scaled(1.15))
    row = {"step": "set-up", "planned": "1 h", "took": "2 h", "job": "Elm"}
    return Record("Log", (one,), 1, (), (learnt,), (row,), False)
