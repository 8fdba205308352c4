"""Whatever goes wrong leaves a command as plain sentences and an exit status, never as a traceback."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from bolewright.cli.door import door, say
from bolewright.core.base.errors import BadInput
from bolewright.job.faults import Fault, JobFaults

FAULTS = JobFaults([Fault("tree.stem[1].at", "The stations run backwards."), Fault("support", "Nothing carries it.")])


def leave(error: BaseException, as_json: bool = False, folder: Path | None = None) -> int:
    """Exit status when the error is raised behind the door."""
    with pytest.raises(SystemExit) as left, door(as_json, folder):
        raise error
    assert isinstance(left.value.code, int)
    return left.value.code


def test_every_fault_is_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    """Path, colon, sentence, on the error stream; nothing on the other."""
    assert leave(FAULTS) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.splitlines() == ["tree.stem[1].at: The stations run backwards.", "support: Nothing carries it."]


def test_faults_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    """The same faults as one object on the output."""
    assert leave(FAULTS, as_json=True) == 2
    out, _ = capsys.readouterr()
    assert json.loads(out)["faults"][1] == {"path": "support", "sentence": "Nothing carries it."}


def test_core_errors_are_faults(capsys: pytest.CaptureFixture[str]) -> None:
    """A refusal from the mathematics reads the same way."""
    assert leave(BadInput("The density is absurd.", "tree.density")) == 2
    assert capsys.readouterr().err == "tree.density: The density is absurd.\n"


def test_cancel_is_one_sentence(capsys: pytest.CaptureFixture[str]) -> None:
    """Ctrl-C: 130."""
    assert leave(KeyboardInterrupt()) == 130
    assert capsys.readouterr().err.count("\n") == 1


@pytest.mark.parametrize("inside", [True, False])
def test_a_crash_is_one_sentence_and_a_file(inside: bool, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """No traceback on the screen; the file holds it, in the output folder if there is one."""
    assert leave(ZeroDivisionError("boom"), folder=tmp_path if inside else None) == 70
    err = capsys.readouterr().err
    assert "Traceback" not in err
    found = re.search(r"are in (.*?): send", err)
    assert found is not None
    file = Path(found.group(1))
    assert "ZeroDivisionError: boom" in file.read_text()
    assert (file.parent == tmp_path) is inside
    file.unlink()


def test_nothing_wrong_passes() -> None:
    """The door lets a good answer through."""
    with door(False):
        say("well")
