"""`bolewright record`: earlier jobs from files and folders, what is learnt, and a job that counts with it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.unit.planning.out_jobs import WHOLE
from typer.testing import CliRunner

from bolewright.cli.main import app

DONE = '\n[[worked]]\nstep = "set-up"\nhours = "2 h"\n\n[hand_over]\ndone = ["log away"]\n'


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The job to plan, and a folder with two jobs of which one is over, and a file that is none."""
    (tmp_path / "job.toml").write_text(WHOLE, encoding="utf-8")
    earlier = tmp_path / "earlier"
    earlier.mkdir()
    for name, text in (("elm", WHOLE + DONE), ("ash", WHOLE), ("bad", "schema = 1\n"), ("elm again", WHOLE + DONE)):
        (earlier / f"{name}.toml").write_text(text.replace("Log on the lawn", name.split()[0]), encoding="utf-8")
    return tmp_path


def run(*words: str) -> tuple[int, str, str]:
    """Exit status, output, errors."""
    done = CliRunner().invoke(app, ["record", *words])
    return done.exit_code, done.stdout, done.stderr


def test_json_from_a_folder(folder: Path) -> None:
    status, printed, _ = run(str(folder / "job.toml"), str(folder / "earlier"), "--without-plan", "--json")
    answer = json.loads(printed)
    assert status == 0
    assert answer["counted"] == 1
    (setting_up,) = (step for step in answer["steps"] if step["step"] == "set-up")
    assert setting_up["factor"] == pytest.approx(2.0**0.2)
    why = {Path(one["key"]).stem: one["why"] for one in answer["jobs"]}
    assert why["elm again"] == ""  # by name it comes first
    assert "No hours" in why["ash"]
    assert "cannot be read" in why["bad"]
    assert "counts once" in why["elm"]


def test_written_job_counts_with_it(folder: Path) -> None:
    """--write makes a job whose hours are those of the record; nothing is written over."""
    new = folder / "new.toml"
    words = (str(folder / "job.toml"), str(folder / "earlier" / "elm.toml"), "--without-plan", "--write", str(new))
    status, printed, _ = run(*words)
    assert status == 0
    assert "1 EARLIER JOB COUNTS" in printed
    assert "Took" in printed
    answers = [json.loads(CliRunner().invoke(app, ["out", str(file), "--json", "--without-plan"]).stdout)
               for file in (folder / "job.toml", new)]  # fmt: skip
    before, after = (next(s for s in one["steps"] if s["step"] == "set-up") for one in answers)
    assert after["hours"]["likely"] == pytest.approx(before["hours"]["likely"] * 2.0**0.2)
    again, _, said = run(*words)
    assert again == 2
    assert "nothing is written over" in said


@pytest.mark.parametrize(
    ("place", "words"), [("nowhere", "no file or folder called"), ("empty", "no job file (TOML or JSON)")]
)
def test_places_without_a_job(folder: Path, place: str, words: str) -> None:
    (folder / "empty").mkdir()
    status, printed, said = run(str(folder / "job.toml"), str(folder / place))
    assert status == 2
    assert words in said
    assert "Traceback" not in printed + said


def test_none_that_counts_is_status_1(folder: Path) -> None:
    status, printed, _ = run(str(folder / "job.toml"), str(folder / "earlier" / "ash.toml"))
    assert status == 1
    assert "NO EARLIER JOB COUNTS" in printed
