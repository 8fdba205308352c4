"""The tree as it stands after the steps that are done."""

from __future__ import annotations

import copy

import pytest
from tests.unit.planning.invented import PER_METRE, Tables, job, log, post, saddle

from bolewright import planning
from bolewright.core.base.errors import BadInput
from bolewright.job.faults import JobFaults


def long_log() -> Tables:
    """A log on three supports with three cuts beyond the last."""
    return log(
        [saddle("near", 1.0, "ground"), saddle("middle", 4.0, "wall"), post("far", 8.0, "ground")],
        cuts=[2.5, 6.0, 9.0],
        handling={"drop": "500 kg", "roll": "500 kg", "drop_height": "3 m"},
    )


def forces(tables: Tables) -> dict[str, float]:
    return {s.id: s.force_N.likely for s in planning.hold(job(tables)).supports}


def test_what_is_left_is_a_shorter_log() -> None:
    """Two supports left, the last piece and the far support off: the lever on what is left, 6 m of log."""
    found = planning.hold(job({**long_log(), "done": [{"at": "9 m"}, {"at": "6 m"}]}))
    left = {s.id: s.force_N.likely for s in found.supports if s.state == "carries"}
    far = PER_METRE * 6.0 * (3.0 - 1.0) / 3.0
    assert found.gone == ("S3", "S4")
    assert left["middle"] == pytest.approx(far, rel=0.03)
    assert left["near"] == pytest.approx(PER_METRE * 6.0 - far, rel=0.03)
    assert found.total_N.likely == pytest.approx(6.0 * PER_METRE, rel=0.02)
    assert {p.id for p in found.pieces} == {"S1", "S2"}


def test_butt_side_off() -> None:
    """The other side of the cut can be the one that came off."""
    found = planning.hold(job({**long_log(), "done": [{"at": "2.5 m", "off": "butt side"}]}))
    assert found.gone == ("S1",)
    assert found.total_N.likely == pytest.approx(7.5 * PER_METRE, rel=0.02)


def test_the_plan_from_here_is_the_rest_of_the_plan() -> None:
    """With the first steps of the plan done, the rest comes out the same, with the same forces to the sample."""
    whole = planning.cuts(job(long_log()))
    first = whole.chosen.steps[0]
    side = "tip side" if first.takes[0] != "S1" else "butt side"
    rest = planning.cuts(job({**long_log(), "done": [{"at": f"{first.at_m:.4f} m", "off": side}]}))
    assert [s.takes for s in rest.chosen.steps] == [s.takes for s in whole.chosen.steps[1:]]
    for here, there in zip(rest.chosen.steps, whole.chosen.steps[1:], strict=True):
        for name, band in here.forces_after.items():
            assert band.likely == pytest.approx(there.forces_after[name].likely, rel=1e-6, abs=1e-3)
    assert rest.chosen.start_building_N.likely == pytest.approx(first.building_after_N.likely, rel=1e-6, abs=1e-3)


def test_a_prop_set_on_the_way_takes_nothing_until_more_comes() -> None:
    """Snug where the wood lies then: it carries nothing at first; jacked, it carries what it was brought to."""
    tables = {**long_log(), "done": [{"at": "9 m"}, {"what": "prop", "at": "6.5 m", "id": "P"}]}
    assert forces(tables)["P"] == pytest.approx(0.0, abs=1.0)
    jacked = copy.deepcopy(tables)
    jacked["done"][1]["jacked"] = "800 N"
    assert forces(jacked)["P"] == pytest.approx(800.0, rel=0.01)
    before, after = forces({**long_log(), "done": [{"at": "9 m"}]}), forces(jacked)
    assert sum(after.values()) == pytest.approx(sum(before.values()), rel=0.01)  # middles do not add up to the grain


def test_when_all_is_done_nothing_is_left() -> None:
    """No step, no force, and no complaint."""
    tables = {**long_log(), "done": [{"at": "2.5 m"}, {"at": "2.5 m", "off": "butt side"}]}
    assert planning.hold(job(tables)).supports == ()
    answer = planning.cuts(job(tables))
    assert answer.status == "plan"
    assert answer.chosen.steps == ()


@pytest.mark.parametrize(
    ("done", "said"),
    [
        ([{"at": "7 m"}], "no cut of the tree there"),
        ([{"at": "6 m"}, {"at": "9 m"}], "Nothing is left on that side"),
        ([{"what": "prop", "at": "6 m"}, {"what": "prop", "at": "5 m", "member": "stem"}, {"at": "5 m"}], "no cut of"),
    ],
)
def test_steps_that_cannot_have_been(done: list[Tables], said: str) -> None:
    """One sentence with its path."""
    with pytest.raises(BadInput, match=said) as told:
        planning.hold(job({**long_log(), "done": done}))
    assert told.value.path.startswith("done[")


@pytest.mark.parametrize(
    ("more", "path"),
    [
        ({"done": [{"member": "L9", "at": "1 m"}]}, "done[0].member"),
        ({"done": [{"at": "40 m"}]}, "done[0].at"),
        ({"reading": [{"on": "nowhere", "force": "1 kN"}]}, "reading[0].on"),
        ({"reading": [{"on": "near", "force": "1 kN", "feel": "snug"}]}, "reading[0].on"),
        ({"reading": [{"on": "near", "force": "1 kN", "after": 3}]}, "reading[0].after"),
        ({"reading": [{"on": "near", "force": "1 kN", "rose": True}]}, "reading[0].rose"),
    ],
)
def test_faults_of_the_document(more: Tables, path: str) -> None:
    """Told with the path, before anything is worked out."""
    with pytest.raises(JobFaults) as told:
        job({**long_log(), **more})
    assert path in [f.path for f in told.value.faults]
