"""REGRESSION, not validation: the headline numbers of the examples as they came out once, so that a change shows.

Nothing here says that the numbers are right; that is for tests/handbook, tests/references and the worked page. When a
change in the program moves one of them for a good reason, say why in the commit and write the new number here.
"""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from bolewright import planning
from bolewright.job.read import load
from bolewright.planning.results import CutsResult, HoldResult, WeighResult
from bolewright.reference.examples import examples

MASSES, FORCES, LENGTHS = 0.03, 0.08, 0.25  # relative; wide enough for other chance numbers and other machines


@dataclass(frozen=True)
class Headline:
    """What is frozen of one example. Masses [kg], forces [N], margins [m]."""

    mass: float
    pieces: int
    forces: dict[str, float]
    building: float
    tipping: float
    rolling: float
    roles: dict[str, str]
    way: str
    cuts: int
    props: int


HEADLINES = {
    "garage-oak": Headline(
        mass=4010.0,
        pieces=14,
        forces={"front wall": 23509.0, "L1 in lawn": 4454.0, "L2 in lawn": 5375.0, "root plate": 43305.0},
        building=24017.0,
        tipping=2.35,
        rolling=1.26,
        roles={"S1": "counterweight", "S4": "prop", "S7": "ballast", "L1": "prop", "L2": "prop", "L6": "ballast"},
        way="by hand",
        cuts=10,
        props=0,
    ),
    "ridge-pine": Headline(
        mass=1213.0,
        pieces=14,
        forces={"ridge": 8297.0, "L3 on back slope": 1035.0, "hinge": 2367.0},
        building=9406.0,
        tipping=6.65,
        rolling=0.35,
        roles={"S1": "counterweight", "S4": "prop", "L3": "prop", "L1": "ballast"},
        way="with props",
        cuts=6,
        props=1,
    ),
    "seesaw-maple": Headline(
        mass=2064.0,
        pieces=11,
        forces={"post": 13334.0, "porch wall": 6618.0},
        building=6618.0,
        tipping=0.85,
        rolling=0.09,
        roles={"S1": "counterweight", "S3": "prop", "S4": "prop", "S6": "ballast"},
        way="by hand",
        cuts=0,
        props=0,
    ),
}


@dataclass(frozen=True)
class Run:
    """One example, worked."""

    frozen: Headline
    weighed: WeighResult
    held: HoldResult
    cut: CutsResult


@pytest.fixture(scope="module", params=list(HEADLINES))
def run(request: pytest.FixtureRequest) -> Run:
    """Each example once."""
    job = load(examples()[request.param])
    return Run(HEADLINES[request.param], planning.weigh(job), planning.hold(job), planning.cuts(job))


def test_weight(run: Run) -> None:
    """Mass and number of pieces."""
    assert run.weighed.total_kg.likely == pytest.approx(run.frozen.mass, rel=MASSES)
    assert len(run.weighed.pieces) == run.frozen.pieces


def test_forces(run: Run) -> None:
    """What the supports and the building carry as found."""
    found = {support.id: support.force_N.likely for support in run.held.supports}
    assert {name: found[name] for name in run.frozen.forces} == pytest.approx(run.frozen.forces, rel=FORCES)
    assert run.held.building_N.likely == pytest.approx(run.frozen.building, rel=FORCES)


def test_margins_and_roles(run: Run) -> None:
    """How far from tipping and rolling, and what the telling pieces do."""
    assert run.held.margins is not None
    assert run.held.margins.tipping_m == pytest.approx(run.frozen.tipping, rel=LENGTHS)
    assert run.held.margins.rolling_m == pytest.approx(run.frozen.rolling, rel=LENGTHS)
    roles = {piece.id: piece.role for piece in run.held.pieces}
    assert {name: roles[name] for name in run.frozen.roles} == run.frozen.roles


def test_plan(run: Run) -> None:
    """Which way was chosen, with about as many cuts and the same props, and no more on the building than as found."""
    plan = run.cut.chosen
    assert plan.title == run.frozen.way
    assert abs(sum(step.action == "cut" for step in plan.steps) - run.frozen.cuts) <= 1
    assert len(plan.places) == run.frozen.props
    assert plan.peak_building_N.likely == pytest.approx(run.frozen.building, rel=FORCES)
