"""A stem with its butt on the ground and its top on a building: once the building is clear, a log is left on two
supports, and neither end of it can be taken without the other coming down. That is where the order ends."""

from __future__ import annotations

import pytest

from bolewright import planning
from bolewright.job.model import Job
from bolewright.job.read import loads
from bolewright.planning.results import CutsResult

GRAVITY = 9.80665  # m/s2, ISO 80000-3

JOB = """
schema = 1
[job]
title = "Butt on the lawn, top over the shed"
[tree]
species = "white ash"
attached = "free"
[[tree.stem]]
at = "0 m"
diameter = "40 cm"
height = "0.2 m"
[[tree.stem]]
at = "11 m"
diameter = "18 cm"
height = "3.2 m"
[[building]]
id = "shed"
near = "6.5 m"
far = "9.5 m"
left = "2 m"
right = "2 m"
eave = "2 m"
[[support]]
id = "butt"
at = "0.3 m"
on = "ground"
width = "20 cm"
[[support]]
id = "shed wall"
at = "6.9 m"
on = "wall"
width = "15 cm"
[[cut]]
at = "2.2 m"
[[cut]]
at = "4.4 m"
[[cut]]
at = "6 m"
[[cut]]
at = "8 m"
[[truck]]
section = "4x4"
length = "8 ft"
count = 4
[limits]
samples = 64
"""


def job(until: str = "") -> Job:
    """The job, with how far the order is to go."""
    return loads(JOB + (f'until = "{until}"\n' if until else ""))


@pytest.fixture(scope="module")
def cut() -> CutsResult:
    """Its order of cuts."""
    return planning.cuts(job())


def test_it_ends_with_the_building_clear(cut: CutsResult) -> None:
    """The building carries nothing in the end, and what lay on it and over it is off."""
    assert cut.status == "plan"
    assert cut.chosen.title == "with props"
    gone = {piece for step in cut.chosen.steps for piece in step.takes}
    assert gone == {"S4", "S5"}
    assert cut.chosen.steps[-1].building_after_N.high == pytest.approx(0.0, abs=1e-6)
    assert "S1, S2, S3 are left" in cut.chosen.summary
    assert "not planned here" in cut.chosen.summary
    assert any("leave every prop in" in words for words in cut.chosen.steps[-1].watch)
    assert not any("last piece" in step.why for step in cut.chosen.steps)


def test_what_is_left_bears_on_butt_and_prop(cut: CutsResult) -> None:
    """Statics: butt and prop carry the weight of the log between them, moments about the butt give the prop.

    The tolerance is that of medians over samples against statics of median pieces.
    """
    pieces = [piece for piece in planning.weigh(job()).pieces if piece.id in ("S1", "S2", "S3")]
    weights = [(piece.mass_kg.likely * GRAVITY, piece.centre_m[0]) for piece in pieces]
    prop = cut.chosen.places[0]
    held = planning.hold(job())
    butt = next(support.point[0] for support in held.supports if support.id == "butt")
    after = cut.chosen.steps[-1].forces_after
    by_lever = sum(newtons * (x - butt) for newtons, x in weights) / (prop.point[0] - butt)
    assert after[prop.id].likely == pytest.approx(by_lever, rel=0.03)
    assert sum(force.likely for force in after.values()) == pytest.approx(sum(w for w, _ in weights), rel=0.03)


def test_all_off_is_another_question() -> None:
    """Asked for all of it, there is none, and the dead end says what is in the way."""
    found = planning.cuts(job("all is off"))
    assert found.status == "no plan"
    assert "would not be held" in found.chosen.dead_end


def test_without_timber_it_says_which_prop() -> None:
    """With nothing on the truck there is none by hand, and a prop is what opens one that far."""
    found = planning.cuts(loads(JOB[: JOB.index("[[truck]]")] + JOB[JOB.index("[limits]") :]))
    assert found.status == "no plan"
    assert any("a prop under the stem" in addition and "clear building" in addition for addition in found.chosen.opens)


def test_asked_for_it_it_stops_there(cut: CutsResult) -> None:
    """Said in the job, the same order comes out."""
    asked = planning.cuts(job("the building is clear"))
    assert [step.takes for step in asked.chosen.steps] == [step.takes for step in cut.chosen.steps]


def test_nothing_on_the_building() -> None:
    """Nothing to cut until it is clear."""
    far = JOB.replace('near = "6.5 m"', 'near = "16.5 m"').replace('far = "9.5 m"', 'far = "19.5 m"')
    found = planning.cuts(loads(far.replace('on = "wall"', 'on = "crib"') + 'until = "the building is clear"\n'))
    assert found.status == "plan"
    assert not found.chosen.steps
    assert "No wood is on the building" in found.chosen.summary
