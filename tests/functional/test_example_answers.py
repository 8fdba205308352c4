"""Every shipped example through `check`, `weigh`, `hold` and `cuts`, by command and from Python, against statics
done here: the weight that is left must be what the supports carry together, and its moment theirs."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from bolewright import planning
from bolewright.cli.main import app
from bolewright.job.model import Job
from bolewright.job.read import load
from bolewright.reference.examples import examples

GRAVITY = 9.80665  # m/s2, ISO 80000-3
EXIT = {"garage-oak": 0, "ridge-pine": 0, "seesaw-maple": 1}
MEDIANS = 0.03  # of the weight: medians of different quantities do not add up exactly
STEP_KEYS = {
    "n", "action", "piece", "member", "at_m", "bind", "kerf_mm", "release_J", "mass_kg", "supports", "method",
    "building_peak_N", "stays", "leaves", "drop_zone", "stand", "why", "watch", "stop", "minutes", "recheck",
}  # fmt: skip


@dataclass(frozen=True)
class Answers:
    """One example: its job, exit statuses and JSON answers by command."""

    name: str
    path: Path
    job: Job
    status: dict[str, int]
    json: dict[str, dict[str, Any]]


@pytest.fixture(scope="module", params=list(EXIT))
def answers(request: pytest.FixtureRequest) -> Answers:
    """All four commands on one example."""
    path = examples()[request.param]
    status, found = {}, {}
    for command in ("check", "weigh", "hold", "cuts"):
        done = CliRunner().invoke(app, [command, str(path), "--json"])
        assert done.exit_code in (0, 1), done.stderr
        status[command], found[command] = done.exit_code, json.loads(done.stdout)
    return Answers(request.param, path, load(path), status, found)


def likely(band: dict[str, float]) -> float:
    """The middle of a range."""
    return band["likely"]


def carried(supports: list[dict[str, Any]]) -> float:
    """What the supports carry together [N]."""
    return sum(likely(s["force_N"]) for s in supports)


def plate_weight(answers: Answers) -> float:
    """Weight of the root plate [N], 0 without one."""
    plate = answers.json["weigh"]["plate_kg"]
    return likely(plate) * GRAVITY if plate else 0.0


def tree_weight(answers: Answers) -> float:
    """Weight of the tree without its root plate [N]."""
    return likely(answers.json["weigh"]["total"]["mass_kg"]) * GRAVITY


def plate_arm(job: Job) -> float:
    """How far behind the butt the middle of the root plate lies [m], from the heights of the first stations alone."""
    plate = job.tree.root_plate
    if plate is None:
        return 0.0
    given = [s for s in job.tree.stem if s.height is not None]
    rise = given[1].height.likely - given[0].height.likely  # type: ignore[union-attr]
    run = given[1].at.likely - given[0].at.likely
    return -0.5 * plate.thickness.likely * (1.0 - (rise / run) ** 2) ** 0.5


def test_exit_status_and_words(answers: Answers) -> None:
    """0 where there is a plan, 1 where there is none; the jobs themselves are right and held."""
    assert answers.status == {"check": 0, "weigh": 0, "hold": 0, "cuts": EXIT[answers.name]}
    assert answers.json["hold"]["status"] == "held"
    assert answers.json["cuts"]["status"] == ("plan" if EXIT[answers.name] == 0 else "no plan")


def test_nothing_missing(answers: Answers) -> None:
    """`check` finds every question answerable."""
    assert all(question["can_answer"] for question in answers.json["check"]["questions"].values())


def test_promised_keys(answers: Answers) -> None:
    """The keys that other programs may rely on."""
    weigh, hold, cuts = (answers.json[c] for c in ("weigh", "hold", "cuts"))
    assert {"low", "likely", "high"} == set(weigh["total"]["mass_kg"])
    assert all({"id", "mass_kg", "centre_m"} <= set(piece) for piece in weigh["pieces"])
    assert all({"id", "force_N", "cannot_exceed_N"} <= set(support) for support in hold["supports"])
    assert all({"id", "role"} <= set(piece) for piece in hold["pieces"])
    assert "residual" in hold
    assert {"peak_building_N", "start_building_N", "steps", "status"} <= set(cuts)
    assert all(set(step) >= STEP_KEYS for step in cuts["steps"])


def test_ranges_are_ranges(answers: Answers) -> None:
    """Something is never known to the last newton: low, likely and high of every loaded support differ."""
    for support in answers.json["hold"]["supports"]:
        if support["state"] == "carries" and likely(support["force_N"]) > 0.0:
            assert support["force_N"]["low"] < likely(support["force_N"]) < support["force_N"]["high"]


def test_supports_carry_the_weight(answers: Answers) -> None:
    """The forces add up to the weight of the tree with its root plate."""
    total = tree_weight(answers) + plate_weight(answers)
    assert carried(answers.json["hold"]["supports"]) == pytest.approx(total, rel=MEDIANS)
    assert answers.json["hold"]["residual"] < 1e-9


def test_moments_balance(answers: Answers) -> None:
    """Moments about a line square to the tree, through the butt: weights times their arms are forces times theirs."""
    pieces, supports = answers.json["weigh"]["pieces"], answers.json["hold"]["supports"]
    weights = sum(likely(p["mass_kg"]) * GRAVITY * p["centre_m"][0] for p in pieces)
    weights += plate_weight(answers) * plate_arm(answers.job)
    forces = sum(likely(s["force_N"]) * s["point"][0] for s in supports)
    assert forces == pytest.approx(weights, rel=MEDIANS)


def test_no_support_above_its_bound(answers: Answers) -> None:
    """What cannot be exceeded is not: the high end of every support stays below its bound."""
    for support in answers.json["hold"]["supports"]:
        if support["cannot_exceed_N"] is not None:
            assert support["force_N"]["high"] <= support["cannot_exceed_N"] * 1.000001


def test_every_state_of_the_plan_balances(answers: Answers) -> None:
    """After each cut the supports carry what is left, no more and no less, until the last piece is gone."""
    left = tree_weight(answers) + plate_weight(answers)
    for step in answers.json["cuts"]["steps"]:
        if step["action"] != "place":
            left -= likely(step["mass_kg"]) * GRAVITY
        if step["supports"] and carried(step["supports"]) > 0.0:
            assert carried(step["supports"]) == pytest.approx(left, rel=2.0 * MEDIANS), step["n"]


def test_building_stays_inside_the_limits(answers: Answers) -> None:
    """At no step is the building asked for more than it carries as found and the floor set, sudden release counted."""
    cuts = answers.json["cuts"]
    floor = answers.job.limits.floor.likely * (tree_weight(answers) + plate_weight(answers))
    for step in cuts["steps"]:
        assert likely(step["building_peak_N"]) <= likely(cuts["start_building_N"]) + floor
    assert likely(cuts["peak_building_N"]) <= likely(cuts["start_building_N"]) + floor


def test_every_piece_leaves_once(answers: Answers) -> None:
    """A plan takes the whole tree off, but for a stub left on its root plate."""
    cuts = answers.json["cuts"]
    if cuts["status"] != "plan":
        return
    gone = [piece for step in cuts["steps"] for piece in step["takes"]]
    every = {piece["id"] for piece in answers.json["weigh"]["pieces"]}
    assert len(gone) == len(set(gone))
    assert set(gone) | {"S1"} == every if answers.job.tree.root_plate else set(gone) == every


def test_second_method_agrees(answers: Answers) -> None:
    """Every state of the plan that is worked out again by the other formulation comes out the same."""
    words = [step["recheck"] for step in answers.json["cuts"]["steps"] if step["recheck"]]
    assert all(word.startswith("agrees") for word in words)
    assert len(words) >= len(answers.json["cuts"]["steps"]) - 1


def test_python_gives_what_the_command_prints(answers: Answers) -> None:
    """`weigh` and `hold` called from Python: the same numbers to the last digit, so the chance numbers repeat."""
    weighed, held = planning.weigh(answers.job), planning.hold(answers.job)
    assert weighed.total_kg.likely == likely(answers.json["weigh"]["total"]["mass_kg"])
    assert [s.force_N.likely for s in held.supports] == [likely(s["force_N"]) for s in answers.json["hold"]["supports"]]


def test_limbs_that_rest_reach_what_they_rest_on(answers: Answers) -> None:
    """The measurements of the examples fit together: wood entered as touching is within a hand of the surface there."""
    held = planning.hold(answers.job)
    for support in answers.job.support:
        found = next(s for s in held.supports if s.id == support.id)
        if support.on == "ground":
            assert abs(found.point[2]) < 0.05


def test_balanced_maple_tells_the_seesaw() -> None:
    """Butt and top balance over one post: the dead end names the wall, and one more prop or a pick opens the work."""
    done = CliRunner().invoke(app, ["cuts", str(examples()["seesaw-maple"]), "--json"])
    answer = json.loads(done.stdout)
    assert done.exit_code == 1
    assert "butt drops" in answer["dead_end"]
    assert any(way.startswith("a prop") for way in answer["opens"])
    assert any(way.startswith("a crane pick") for way in answer["opens"])
    butt = next(row for row in answer["next_cuts"] if row["piece"] == "S1")
    assert not butt["allowed"]
    assert "porch wall would carry" in butt["why"]
    assert butt["building_change_N"]["low"] > 0.0
