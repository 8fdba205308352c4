"""Held, not held, can roll, can slide: each on a log where anyone can see which; and what lines do to forces."""

from __future__ import annotations

import numpy as np
import pytest
from tests.unit.planning.invented import LENGTH, PER_METRE, Tables, job, log, post, saddle

from bolewright.planning import hold
from bolewright.planning.results import HoldResult

WEIGHT = PER_METRE * LENGTH


def forces(result: HoldResult) -> dict[str, float]:
    return {s.id: s.force_N.likely for s in result.supports}


def test_two_saddles_hold_by_the_lever() -> None:
    """W (8 - 5) / 7 and W (5 - 1) / 7, and no support exceeds what statics fixes, whatever the stiffness."""
    result = hold(job(log([saddle("near", 1.0, "ground"), saddle("far", 8.0, "wall")])))
    assert result.status == "held"
    assert forces(result)["near"] == pytest.approx(WEIGHT * 3 / 7, rel=0.01)
    assert forces(result)["far"] == pytest.approx(WEIGHT * 4 / 7, rel=0.01)
    assert result.residual < 1e-9
    assert result.margins is not None
    assert result.margins.tipping_m == pytest.approx(3.0, rel=0.02)  # lengthways, from the middle to the far saddle
    assert result.margins.rolling_m == pytest.approx(0.1, rel=0.02)  # sideways, over the edge of the 0.2 m saddles


def test_weight_beyond_the_supports_is_not_held() -> None:
    """Posts at 1 and 3 m under a log whose middle is at 5 m: the tip goes down, turning about the far post, until the
    tip is on the ground, 1 m below, 7 m beyond that post."""
    result = hold(job(log([saddle("near", 1.0, "ground"), saddle("far", 3.0, "ground")])))
    assert result.status == "not held"
    assert result.supports == ()
    assert result.motion is not None
    assert "tip" in result.motion.words.lower()
    assert result.motion.kind in ("tips", "drops")
    assert result.motion.rests_on.endswith("over the ground")
    assert result.motion.distance_m == pytest.approx(1.0, abs=0.05)


def test_a_round_stem_on_points_under_its_middle_can_roll() -> None:
    result = hold(job(log([post("near", 1.0, "ground"), post("far", 8.0, "wall")])))
    assert result.status == "can roll"
    assert forces(result)["far"] == pytest.approx(WEIGHT * 4 / 7, rel=0.01)
    assert any("roll" in note for note in result.notes)


def roof_log(friction: str) -> Tables:
    """A log along the slope of a steep roof, tip up, on two saddles square to it; 40 degrees."""
    rise = float(np.tan(np.radians(40.0)))
    tables = log([saddle(n, x, "roof", normal="square to roof", friction=friction) for n, x in (("low", 2), ("up", 7))])
    run = LENGTH * float(np.cos(np.radians(40.0)))
    stem = [(0.0, 1.0), (LENGTH, 1.0 + run * rise)]
    tables["tree"]["stem"] = [{"at": f"{s} m", "diameter": "0.3 m", "height": f"{z:.4f} m"} for s, z in stem]
    eave, half = 1.0 - 2.0 * rise, run + 4.0
    tables["building"] = [
        {
            "id": "house",
            "near": "-2 m",
            "far": f"{2 * half - 2.0:.4f} m",
            "left": "5 m",
            "right": "5 m",
            "eave": "0.2 m",
            "ridge": f"{0.2 + half * rise:.4f} m",
        }
    ]
    assert eave < 0.2
    return tables


@pytest.mark.parametrize(("friction", "status"), [("0.5 ± 0.05", "can slide"), ("1.3 ± 0.05", "held")])
def test_low_friction_on_a_steep_roof(friction: str, status: str) -> None:
    """A block on a slope of 40 degrees needs tan 40 = 0.84 (Coulomb). The pyramid inside the cone asks a little more
    at worst, by 1/cos 45."""
    result = hold(job(roof_log(friction)))
    assert result.status == status
    assert result.margins is not None
    needed = result.margins.friction_needed
    assert needed is not None
    assert 0.84 - 1e-3 <= needed <= 0.84 * 2**0.5
    ratio = result.margins.sliding_ratio
    assert ratio is not None
    assert (ratio < 1.0) == (status == "can slide")


def with_line(kind: str, at: float, anchor: tuple[float, float, float], pull: str | None) -> HoldResult:
    """The log on saddles at 1 and 9 m with a line."""
    forward, right, height = anchor
    line = {
        "id": "line",
        "at": f"{at} m",
        "kind": kind,
        "anchor": {"forward": f"{forward} m", "right": f"{right} m", "height": f"{height} m"},
    }
    if pull:
        line["pull"] = pull
    return hold(job(log([saddle("near", 1.0, "ground"), saddle("far", 9.0, "wall")], line=[line])))


def test_a_crane_takes_what_it_reads() -> None:
    """2 kN straight up in the middle: each support has 1 kN less. At 7 m: 0.5 and 1.5 kN less, by the lever."""
    for at, near, far in ((5.0, 1000.0, 1000.0), (7.0, 500.0, 1500.0)):
        result = with_line("crane", at, (at, 0.0, 30.0), "2 kN")
        assert forces(result)["near"] == pytest.approx(WEIGHT / 2 - near, abs=0.01 * WEIGHT)
        assert forces(result)["far"] == pytest.approx(WEIGHT / 2 - far, abs=0.01 * WEIGHT)


def test_a_tie_back_at_a_slant_pulls_down_by_its_vertical_part() -> None:
    """3 kN at 45 degrees down and back in the middle adds 3 sin 45 / 2 kN to each support (resolution of forces)."""
    axis = 1.0 + 0.15
    result = with_line("tie-back", 5.0, (5.0 - axis, 0.0, 0.0), "3 kN")
    extra = 3000.0 * np.sin(np.radians(45.0)) / 2.0
    for name in ("near", "far"):
        assert forces(result)[name] == pytest.approx(WEIGHT / 2 + extra, abs=0.01 * WEIGHT)


def test_a_line_made_fast_without_a_pull_carries_nothing_yet() -> None:
    result = with_line("tie-back", 5.0, (2.0, 3.0, 0.0), None)
    assert forces(result)["near"] == pytest.approx(WEIGHT / 2, rel=0.01)
    assert {s.id: s.state for s in result.supports}["line"] != "carries"


def test_a_support_clear_of_the_wood_carries_nothing() -> None:
    """A fence 2 cm under the log: not touching, idle, with its distance."""
    fence = {"id": "fence", "at": "5 m", "on": "fence", "gap": "2 cm"}
    result = hold(job(log([saddle("near", 1.0, "ground"), saddle("far", 9.0, "wall"), fence])))
    told = {s.id: s for s in result.supports}["fence"]
    assert told.state == "not touching"
    assert told.force_N.high == 0.0
    assert told.gap_m is not None
    assert told.gap_m.likely == pytest.approx(0.02)


def test_a_hinge_holds_down_what_the_lever_asks() -> None:
    """Fibre at the butt and one wall at 3 m: the butt is held down by W (5 - 3) / 3, the wall carries W 5 / 3."""
    tables = log([saddle("wall", 3.0, "wall")])
    tables["tree"] |= {"attached": "hinge", "hinge": {"share": "80 %"}}
    result = hold(job(tables))
    assert result.status == "held"
    assert forces(result)["hinge"] == pytest.approx(-WEIGHT * 2 / 3, rel=0.01)
    assert forces(result)["wall"] == pytest.approx(WEIGHT * 5 / 3, rel=0.01)
