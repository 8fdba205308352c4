"""Exit status, JSON keys and words of each command, on made-up results (no mechanics here)."""

from __future__ import annotations

import json
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from typer.testing import CliRunner

from bolewright.cli import late
from bolewright.cli.main import app

from .results import cut, held, weighed

JOB = SimpleNamespace(
    job=SimpleNamespace(
        title="Oak on the shed", utilities=(SimpleNamespace(kind="power", state="live"),), people_out=None, date=None
    ),
    tree=SimpleNamespace(stem=(SimpleNamespace(diameter="20 in"),), attached="free"),
    support=(SimpleNamespace(on="roof"),),
    building=("shed",),
)
RANGE_KEYS = {"low", "likely", "high"}


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch) -> Any:
    """Runs a command on the given results."""

    def go(*words: str, hold_status: str = "held", cuts_status: str = "plan", steps: int = 1) -> Any:
        monkeypatch.setattr(late, "load_job", lambda _name, _question: JOB)
        monkeypatch.setattr(late, "weigh_job", lambda _job: weighed())
        monkeypatch.setattr(late, "hold_job", lambda _job: held(hold_status))
        monkeypatch.setattr(late, "cuts_job", lambda _job: cut(cuts_status, steps))
        return CliRunner().invoke(app, list(words), env={"COLUMNS": "60"})

    return go


def test_weigh_json_keys(run: Any) -> None:
    """`total.mass_kg` and `pieces[].id, .mass_kg, .centre_m`."""
    done = run("weigh", "x.toml", "--json")
    answer = json.loads(done.stdout)
    assert done.exit_code == 0
    assert set(answer["total"]["mass_kg"]) == RANGE_KEYS
    piece = answer["pieces"][0]
    assert piece["id"] == "S1"
    assert set(piece["mass_kg"]) == RANGE_KEYS
    assert piece["centre_m"] == [1.0, 0.0, 0.5]


def test_hold_json_keys(run: Any) -> None:
    """`status`, supports with `force_N` and `cannot_exceed_N`, pieces with `role`, `residual`; no bound is null."""
    done = run("hold", "x.toml", "--json")
    answer = json.loads(done.stdout)
    assert done.exit_code == 0
    assert answer["status"] == "held"
    support = answer["supports"][0]
    assert set(support["force_N"]) == RANGE_KEYS
    assert support["cannot_exceed_N"] is None
    assert answer["pieces"][0]["role"] == "prop"
    assert answer["residual"] == 1e-12


def test_cuts_json_keys(run: Any) -> None:
    """Every key of a step by its promised name."""
    done = run("cuts", "x.toml", "--json")
    answer = json.loads(done.stdout)
    assert done.exit_code == 0
    assert answer["status"] == "plan"
    assert "dead_end" not in answer
    assert set(answer["peak_building_N"]) == set(answer["start_building_N"]) == RANGE_KEYS
    step = answer["steps"][0]
    promised = {"n", "action", "piece", "member", "at_m", "bind", "kerf_mm", "release_J", "mass_kg", "supports"}
    assert promised <= set(step)
    assert step["bind"] == "top bind"
    assert step["supports"] == [{"id": "eave", "force_N": {"low": 10000.0, "likely": 13000.0, "high": 16500.0}}]


def test_no_plan_json(run: Any) -> None:
    """Status 1, and the dead end with what opens it."""
    done = run("cuts", "x.toml", "--json", cuts_status="no plan")
    answer = json.loads(done.stdout)
    assert done.exit_code == 1
    assert answer["status"] == "no plan"
    assert answer["dead_end"]
    assert answer["opens"] == ["a second prop under S2"]


@pytest.mark.parametrize("status", ["not held", "can roll", "can slide"])
def test_not_held_is_exit_status_1(run: Any, status: str) -> None:
    """An answer of "no" is 1, in text and in JSON, and says how it would move."""
    done = run("hold", "x.toml", hold_status=status)
    assert done.exit_code == 1
    assert status.upper() in done.stdout
    assert "Drops at the butt" in done.stdout
    assert run("hold", "x.toml", "--json", hold_status=status).exit_code == 1


@pytest.mark.parametrize("command", ["weigh", "hold", "cuts"])
def test_never_safe_never_approved(run: Any, command: str) -> None:
    """The forbidden words are not printed."""
    text = run(command, "x.toml").stdout.lower()
    assert "safe" not in text
    assert "approved" not in text


def test_text_gives_ranges_in_words(run: Any) -> None:
    """The likely value first, then low to high; pounds or kilograms by the switch, else as the stem was measured."""
    assert "likely 175 lb (130 to 245)" in run("weigh", "x.toml").stdout  # 176.4 (132.3 to 242.5) to the next 5
    assert "likely 80 kg (60 to 110)" in run("weigh", "x.toml", "--units", "metric").stdout
    assert "13.0 kN (10.0 to 16.5)" in run("hold", "x.toml", "--units", "metric").stdout


def test_cuts_text_leads_with_the_answer_and_the_hazards(run: Any) -> None:
    """Title, answer, site cautions (live wire) and one card per step with its stop trigger."""
    text = run("cuts", "x.toml", steps=2).stdout
    lines = [line for line in text.splitlines() if line.strip()]
    assert lines[0] == "Oak on the shed"
    assert lines[1].startswith("PLAN by hand: 2 steps")
    assert "Every wire is live" in text
    assert "STOP if the prop loosens" in text
    assert "springs when cut" in text


def test_no_plan_text_says_what_opens_it(run: Any) -> None:
    """Dead end and the addition."""
    text = run("cuts", "x.toml", cuts_status="no plan").stdout
    assert "NO ORDER found" in text
    assert "Would open it: a second prop under S2" in text


@pytest.mark.parametrize("command", ["weigh", "hold", "cuts"])
def test_fits_a_phone(run: Any, command: str) -> None:
    """No line is longer than the screen."""
    assert max(len(line) for line in run(command, "x.toml").stdout.splitlines()) <= 60


def test_a_wrong_date_or_folder_is_told_before_the_work(run: Any, tmp_path: Path) -> None:
    """Status 2 and where to write what."""
    done = run("cuts", "x.toml", "--out", str(tmp_path / "out"), "--date", "28 March")
    assert done.exit_code == 2
    assert done.stderr == "--date: '28 March' is not a date: write it as 2026-03-28.\n"
    (tmp_path / "file").write_text("mine")
    done = run("cuts", "x.toml", "--out", str(tmp_path / "file"))
    assert done.exit_code == 2
    assert done.stderr.startswith("--out: ")
