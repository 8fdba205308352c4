"""`bolewright check`, on real job files and on the pipe."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from bolewright.cli.main import app

from .jobs import GOOD, TWO_FAULTS, WITHOUT_SUPPORTS


def check(text: str, tmp_path: Path, *words: str) -> tuple[int, str, str]:
    """Exit status, output and error text."""
    file = tmp_path / "job.toml"
    file.write_text(text, encoding="utf-8")
    done = CliRunner().invoke(app, ["check", str(file), *words], env={"COLUMNS": "60"})
    return done.exit_code, done.stdout, done.stderr


def test_a_good_file(tmp_path: Path) -> None:
    """Answers, and names what is filled in."""
    status, out, err = check(GOOD, tmp_path)
    assert status == 0
    assert "in what order to cut: can be answered" in out
    assert "tree.density" in out
    assert err == ""


def test_from_the_pipe(monkeypatch: pytest.MonkeyPatch) -> None:
    """`-` reads standard input."""
    assert CliRunner().invoke(app, ["check", "-"], input=GOOD).exit_code == 0


def test_what_is_missing(tmp_path: Path) -> None:
    """The weight can be told, the rest cannot: status 1 and where to write what."""
    status, out, _ = check(WITHOUT_SUPPORTS, tmp_path, "--json")
    answer = json.loads(out)["questions"]
    assert status == 1
    assert answer["weigh"]["can_answer"] is True
    assert answer["hold"]["can_answer"] is False
    assert answer["hold"]["missing"][0]["path"] == "support"


@pytest.mark.parametrize("command", ["hold", "cuts"])
def test_a_question_that_cannot_be_answered_is_refused(command: str, tmp_path: Path) -> None:
    """The same sentence as check gives, exit status 2, nothing on the output."""
    file = tmp_path / "job.toml"
    file.write_text(WITHOUT_SUPPORTS, encoding="utf-8")
    done = CliRunner().invoke(app, [command, str(file)])
    assert done.exit_code == 2
    assert done.stdout == ""
    assert done.stderr.startswith("support: ")


def test_every_fault_at_once(tmp_path: Path) -> None:
    """Two faults, two lines, each "path: sentence"; the same two in JSON."""
    status, out, err = check(TWO_FAULTS, tmp_path)
    assert (status, out) == (2, "")
    assert len(err.splitlines()) == 2
    assert all(": " in line for line in err.splitlines())
    status, out, _ = check(TWO_FAULTS, tmp_path, "--json")
    assert status == 2
    assert {fault["path"] for fault in json.loads(out)["faults"]} == {line.split(": ")[0] for line in err.splitlines()}


def test_no_such_file() -> None:
    """One sentence."""
    done = CliRunner().invoke(app, ["check", "no-such-job.toml"])
    assert done.exit_code == 2
    assert "no-such-job.toml" in done.stderr
