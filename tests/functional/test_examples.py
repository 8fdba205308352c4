"""Every shipped example is worked from job file to papers by the command a newcomer runs."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from typer.testing import CliRunner

from bolewright.cli.main import app
from bolewright.reference.examples import examples


@dataclass(frozen=True)
class Worked:
    """One example after `bolewright demo NAME --json`."""

    status: int
    answer: dict[str, Any]
    folder: Path


@pytest.fixture(scope="module", params=list(examples()))
def worked(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Worked:
    """Each example, worked once for all tests here."""
    folder = tmp_path_factory.mktemp("demo") / "out"
    words = ["demo", request.param, "--json", "--out", str(folder), "--date", "2026-03-28"]
    done = CliRunner().invoke(app, words)
    assert done.exit_code in (0, 1), done.stderr
    return Worked(done.exit_code, json.loads(done.stdout), folder)


def test_three_examples_are_shipped() -> None:
    """One with a root plate, one on a hinge, one that needs an addition."""
    assert len(examples()) >= 3


def test_status_says_whether_there_is_a_plan(worked: Worked) -> None:
    """0 with a plan that has steps; 1 without, and then with what would open one."""
    cuts = worked.answer["cuts"]
    assert (worked.status == 0) is (cuts["status"] == "plan")
    assert cuts["steps"] if worked.status == 0 else cuts["dead_end"] and cuts["opens"]


def test_all_papers_are_there(worked: Worked) -> None:
    """What is told is what is in the folder; one sheet per step; SVG is XML and the briefing a whole PDF."""
    assert {path.name for path in worked.folder.iterdir()} == set(worked.answer["files"])
    steps = [name for name in worked.answer["files"] if name.startswith("step-")]
    assert len(steps) == len(worked.answer["cuts"]["steps"])
    for path in worked.folder.glob("*.svg"):
        assert ElementTree.parse(path).getroot().tag.endswith("svg")
    pdf = (worked.folder / "briefing.pdf").read_bytes()
    assert pdf.startswith(b"%PDF-")
    assert pdf.rstrip().endswith(b"%%EOF")


def test_what_comes_off_is_what_was_weighed(worked: Worked) -> None:
    """No piece is cut twice and none that was not weighed."""
    taken = [piece for step in worked.answer["cuts"]["steps"] if step["action"] == "cut" for piece in step["takes"]]
    assert len(taken) == len(set(taken))
    assert set(taken) <= {piece["id"] for piece in worked.answer["weigh"]["pieces"]}
