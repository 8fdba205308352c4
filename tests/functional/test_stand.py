"""`bolewright stand` on the standing example and on files that cannot be."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from PIL import Image
from typer.testing import CliRunner

from bolewright.cli.main import app
from bolewright.job.read import load

RANGE_KEYS = {"low", "likely", "high"}


@pytest.fixture(scope="module")
def example(root: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The standing example, worked with few samples."""
    text = (root / "examples" / "standing" / "lane-beech.toml").read_text(encoding="utf-8")
    file = tmp_path_factory.mktemp("standing") / "lane-beech.toml"
    file.write_text(text + "\n[limits]\nsamples = 32\n", encoding="utf-8")
    return file


def test_json_keys(example: Path) -> None:
    """The promised keys, with ranges where ranges are promised."""
    done = CliRunner().invoke(app, ["stand", str(example), "--json"])
    answer = json.loads(done.stdout)
    assert done.exit_code == (0 if answer["status"] == "inside" else 1)
    assert set(answer["gust_m_s"]) == RANGE_KEYS
    assert isinstance(answer["breaks_first"], str)
    section = answer["sections"][0]
    assert {"height_m", "loss_of_strength", "margin"} <= set(section)
    assert set(section["margin"]) == RANGE_KEYS
    assert answer["rating"]["rated"] == "moderate"
    assert answer["rating"]["combined"] == "somewhat likely"
    assert answer["options"][0]["id"] == "cut the top back by a fifth"


def test_words(example: Path) -> None:
    """The answer first, what fails first, what could not be seen, the rating, the caution; no word it may not say."""
    done = CliRunner().invoke(app, ["stand", str(example)], env={"COLUMNS": "78"})
    for words in ("limits you set", "Fails first", "Could not be seen", "risk rated moderate", "qualified person"):
        assert words in done.stdout
    lowered = done.stdout.lower()
    assert "approved" not in lowered
    assert " safe" not in lowered


def test_metric(example: Path) -> None:
    """The same in metres per second."""
    done = CliRunner().invoke(app, ["stand", str(example), "--units", "metric"], env={"COLUMNS": "78"})
    assert "34 m/s" in done.stdout


def test_from_the_pipe(example: Path) -> None:
    """`-` reads standard input."""
    done = CliRunner().invoke(app, ["stand", "-", "--json"], input=example.read_text(encoding="utf-8"))
    assert "sections" in json.loads(done.stdout)


def test_a_job_that_is_no_standing_tree(root: Path) -> None:
    """Exit status 2 with where to write what."""
    done = CliRunner().invoke(app, ["stand", str(root / "examples" / "garage-oak.toml")])
    assert done.exit_code == 2
    assert done.stderr.startswith("standing: ")


def test_a_lean_of_90(example: Path, tmp_path: Path) -> None:
    """One sentence, exit status 2."""
    file = tmp_path / "job.toml"
    file.write_text(example.read_text(encoding="utf-8").replace('"4 deg"', '"90 deg"'), encoding="utf-8")
    done = CliRunner().invoke(app, ["stand", str(file)])
    assert done.exit_code == 2
    assert done.stderr.startswith("standing.lean: ")
    assert len(done.stderr.splitlines()) == 1


def test_check_asks_how_it_stands(example: Path) -> None:
    """A standing tree is checked for the question it can answer."""
    done = CliRunner().invoke(app, ["check", str(example), "--json"])
    assert done.exit_code == 0
    assert json.loads(done.stdout)["questions"]["stand"]["can_answer"] is True


@pytest.mark.parametrize("name", ["lane-beech", "weir-poplar"])
def test_the_examples_are_right(name: str, root: Path) -> None:
    """They can be read and worked, and say that they are invented."""
    example = root / "examples" / "standing" / f"{name}.toml"
    assert "Invented" in example.read_text(encoding="utf-8")
    assert load(example).tree.attached == "standing"


def test_promised_keys_are_in_the_answer(example: Path, broken: dict[str, Any], root: Path) -> None:
    """Every key of the rows in docs/commands.md is found in the answer; for what only a failure has, in one's."""
    page = (root / "docs" / "commands.md").read_text(encoding="utf-8")
    answer = json.loads(CliRunner().invoke(app, ["stand", str(example), "--json"]).stdout)
    rows = dict(re.findall(r"^\| stand(, [\w ]+)? \| (.*) \|$", page, re.MULTILINE))
    assert set(rows) == {"", ", roots and limbs", ", seen and tested", ", rated", ", look back"}
    for name, row in rows.items():
        promised = {part.strip("[]") for key in re.findall(r"`([\w.\[\]]+)`", row) for part in key.split(".") if part}
        assert promised
        assert promised <= keys_of(broken["look_back"] if name == ", look back" else answer), name


def keys_of(value: Any) -> set[str]:
    """All keys in an answer, at any depth."""
    if isinstance(value, dict):
        return set(value) | {key for inner in value.values() for key in keys_of(inner)}
    if isinstance(value, list):
        return {key for inner in value for key in keys_of(inner)}
    return set()


@pytest.fixture(scope="module")
def broken(root: Path, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """The poplar at the weir, which failed, held against a breeze it stood: the answer, and the exit status in it."""
    text = (root / "examples" / "standing" / "weir-poplar.toml").read_text(encoding="utf-8")
    file = tmp_path_factory.mktemp("broken") / "poplar.toml"
    assert 'design_gust = "28 m/s"' in text
    text = text.replace('design_gust = "28 m/s"', 'design_gust = "9 m/s"')
    file.write_text(text + "\n[limits]\nsamples = 32\n", encoding="utf-8")
    done = CliRunner().invoke(app, ["stand", str(file), "--json"])
    answer: dict[str, Any] = {**json.loads(done.stdout), "exit": done.exit_code}
    return answer


def test_a_tree_that_failed_does_not_stand(broken: dict[str, Any]) -> None:
    """Exit status 1, though the gust it is held against was one it stood."""
    assert (broken["failed"], broken["status"], broken["exit"]) == (True, "inside", 1)


def test_look_back_in_words(root: Path) -> None:
    """What was needed, what was recorded, what holes would have met, the opinion last."""
    file = root / "examples" / "standing" / "weir-poplar.toml"
    done = CliRunner().invoke(app, ["stand", str(file)], env={"COLUMNS": "78"})
    for words in ("Looking back", "Needed, as measured", "Recorded: 29 m/s", "Drilled at N", "Opinion: Broke"):
        assert words in done.stdout
    assert done.exit_code == 1


def test_drawings_are_written(example: Path, tmp_path: Path) -> None:
    """A sheet for each tested place, chart, circle, papers, results; the same bytes twice; names in the answer."""
    first, second = tmp_path / "a", tmp_path / "b"
    for folder in (first, second):
        done = CliRunner().invoke(app, ["stand", str(example), "--json", "--out", str(folder)])
        assert set(json.loads(done.stdout)["files"]) == {path.name for path in folder.iterdir()}
    names = {path.name for path in first.iterdir()}
    drawings = {"section-01.svg", "section-02.svg", "trace-01.svg", "fragility.svg", "fall-circle.svg"}
    assert names == {*drawings, "inspection.pdf", "notice.pdf", "delivery-log.pdf", "results.json"}
    for name in names:
        assert (first / name).read_bytes() == (second / name).read_bytes()
        if name.endswith(".svg"):
            assert ElementTree.parse(first / name).getroot().tag.endswith("svg")


def test_photographs_of_a_folder_are_printed(example: Path, tmp_path: Path) -> None:
    """Files called by numbers have those; the papers carry their pictures; without --out one sentence."""
    folder, out = tmp_path / "pictures", tmp_path / "out"
    folder.mkdir()
    for name in ("4.jpg", "photo-12.png", "30.jpg"):
        Image.new("RGB", (900, 600), (90, 140, 60)).save(folder / name)
    few = tmp_path / "few.toml"
    few.write_text(example.read_text(encoding="utf-8"), encoding="utf-8")
    done = CliRunner().invoke(app, ["stand", str(few), "--json", "--out", str(out), "--photos", str(folder)])
    assert done.exit_code in (0, 1), done.stderr
    pdf = (out / "inspection.pdf").read_bytes()
    assert pdf.count(b"/Subtype/Image") + pdf.count(b"/Subtype /Image") == 2  # 4 and 12 are named, 30 is not
    assert len(pdf) < 500_000
    lost = CliRunner().invoke(app, ["stand", str(few), "--photos", str(folder)])
    assert lost.exit_code == 2
    assert "--out" in lost.stderr


def test_a_file_in_place_of_the_folder(example: Path, tmp_path: Path) -> None:
    """One sentence, exit status 2."""
    taken = tmp_path / "taken"
    taken.write_text("x", encoding="utf-8")
    done = CliRunner().invoke(app, ["stand", str(example), "--out", str(taken)])
    assert done.exit_code == 2
    assert "is a file" in done.stderr


def test_against_an_earlier_inspection(example: Path, tmp_path: Path) -> None:
    """What changed beyond the measurement, as text and in the answer; the exit status stays that of the later one."""
    later = tmp_path / "later.toml"
    text = example.read_text(encoding="utf-8").replace('date = "2026-05-20"', 'date = "2027-06-02"')
    text = text.replace('reinspect = "2027-05-20"', 'reinspect = "2028-05-20"')
    later.write_text(text.replace('W = "3.5 in"', 'W = "1 in"'), encoding="utf-8")
    asked = ["stand", str(later), "--against", str(example), "--out", str(tmp_path / "papers")]
    done = CliRunner().invoke(app, asked, env={"COLUMNS": "100"})
    for words in ("Against the inspection of 2026-05-20", "Changed beyond the measurement", "CHANGED", "13 days after"):
        assert words in done.stdout
    answer = json.loads(CliRunner().invoke(app, [*asked, "--json"]).stdout)["comparison"]
    west = next(row for row in answer["measured"] if row["what"].endswith(", W") and row["verdict"] == "changed")
    assert west["change"] == pytest.approx(-0.0635)
    assert set(answer["gust_ratio"]) == RANGE_KEYS
    assert (tmp_path / "papers" / "comparison.pdf").read_bytes().startswith(b"%PDF-")
    missing = CliRunner().invoke(app, ["stand", str(later), "--against", str(tmp_path / "none.toml")])
    assert missing.exit_code == 2


def test_a_day_that_is_none(example: Path, tmp_path: Path) -> None:
    """One sentence, exit status 2, before anything is worked out."""
    done = CliRunner().invoke(app, ["stand", str(example), "--out", str(tmp_path / "c"), "--date", "tomorrow"])
    assert done.exit_code == 2
    assert "is not a date" in done.stderr
    assert not (tmp_path / "c").exists()


def test_a_failed_tree_as_a_lying_one(root: Path, tmp_path: Path) -> None:
    """The poplar at the weir: a file that `check` can read on with, the asks told; never written over; not without a
    failure."""
    file = tmp_path / "down.toml"
    poplar, beech = (str(root / "examples" / "standing" / f"{name}.toml") for name in ("weir-poplar", "lane-beech"))
    done = CliRunner().invoke(app, ["stand", poplar, "--fallen", str(file)])
    assert done.exit_code == 0
    assert "measured or found out" in done.stdout
    read = load(file)
    assert read.tree.attached == "hinge"
    assert read.tree.bearing is not None
    needed = json.loads(CliRunner().invoke(app, ["check", str(file), "--json"]).stdout)["questions"]["hold"]["missing"]
    assert "support" in {gap["path"] for gap in needed if gap["needed"]}
    again = CliRunner().invoke(app, ["stand", poplar, "--fallen", str(file), "--json"])
    assert (again.exit_code, "there already" in again.stdout) == (2, True)
    other = CliRunner().invoke(app, ["stand", beech, "--fallen", str(tmp_path / "x.toml")])
    assert (other.exit_code, other.stderr.startswith("failure: ")) == (2, True)
    assert not (tmp_path / "x.toml").exists()
