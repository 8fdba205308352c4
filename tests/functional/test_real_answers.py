"""`weigh` and `hold` on a real job file, checked against statics done here from the printed numbers alone."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from bolewright.cli.main import app

from .jobs import GOOD

GRAVITY = 9.80665  # m/s2, ISO 80000-3


@pytest.fixture(scope="module")
def answers(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """The JSON of both commands."""
    file = tmp_path_factory.mktemp("job") / "job.toml"
    file.write_text(GOOD, encoding="utf-8")
    found = {}
    for command in ("weigh", "hold"):
        done = CliRunner().invoke(app, [command, str(file), "--json"])
        assert done.exit_code in (0, 1), done.stderr
        found[command] = json.loads(done.stdout)
    return found


def test_pieces_add_up(answers: dict[str, Any]) -> None:
    """The likely masses of all pieces together are the likely mass of the tree (one wood: its spread is common)."""
    pieces = answers["weigh"]["pieces"]
    assert sum(piece["mass_kg"]["likely"] for piece in pieces) == pytest.approx(
        answers["weigh"]["total"]["mass_kg"]["likely"], rel=0.01
    )


def test_two_supports_carry_by_the_lever(answers: dict[str, Any]) -> None:
    """A stem on two supports: moments about the butt give the eave (law of the lever), the rest is at the butt.

    The tolerance is that of medians over samples against statics of median pieces.
    """
    pieces = answers["weigh"]["pieces"]
    touching = {support["id"]: support for support in answers["hold"]["supports"] if support["state"] == "carries"}
    assert set(touching) == {"butt", "eave"}
    butt, eave = (touching[name]["point"][0] for name in ("butt", "eave"))
    weights = [(piece["mass_kg"]["likely"] * GRAVITY, piece["centre_m"][0]) for piece in pieces]
    by_lever = sum(weight * (x - butt) for weight, x in weights) / (eave - butt)
    assert touching["eave"]["force_N"]["likely"] == pytest.approx(by_lever, rel=0.015)
    rest = sum(weight for weight, _ in weights) - by_lever
    assert touching["butt"]["force_N"]["likely"] == pytest.approx(rest, rel=0.03)


def test_bounds_hold_the_answer(answers: dict[str, Any]) -> None:
    """No likely force is above what cannot be exceeded, and the balance closes to 1e-9 of the weight."""
    for support in answers["hold"]["supports"]:
        bound = support["cannot_exceed_N"]
        assert bound is None or support["force_N"]["likely"] <= bound
    assert answers["hold"]["residual"] < 1e-9


def test_a_sample_run_repeats(tmp_path: Path) -> None:
    """Same file, same seed: the same text twice."""
    file = tmp_path / "job.toml"
    file.write_text(GOOD, encoding="utf-8")
    first, second = (CliRunner().invoke(app, ["hold", str(file), "--json"]).stdout for _ in range(2))
    assert first == second
