"""`bolewright papers`: what is made and what is not, in plain words; whole files or none; faults in one sentence."""

from __future__ import annotations

import hashlib
import json
import subprocess
from pathlib import Path

import pytest
from PIL import Image
from typer.testing import CliRunner

from bolewright.cli.main import app
from bolewright.documents import papers as room

JOB = """
schema = 1
[job]
title = "Oak on the shed"
date = "2026-04-11"
[tree]
species = "red oak"
attached = "free"
[company]
name = "Kestrel Tree Care"
[[log]]
at = "07:35"
what = "arrived"
"""


def run(tmp_path: Path, *options: str, text: str = JOB) -> tuple[int, str, str]:
    """Exit status, output and errors of the command on a job."""
    file = tmp_path / "job.toml"
    file.write_text(text, encoding="utf-8")
    done = CliRunner().invoke(app, ["papers", str(file), "--out", str(tmp_path / "out"), *options])
    return done.exit_code, done.stdout, done.stderr


def test_what_can_be_made_is_made_and_the_rest_is_told(tmp_path: Path) -> None:
    """A tree without diameters: the call sheet and the log; a sentence for each of the others."""
    status, printed, _ = run(tmp_path, "--json")
    answer = json.loads(printed)
    assert status == 0
    files = {row["file"]: row for row in answer["made"]}
    assert set(files) == {"call-sheet.pdf", "daily-log.pdf"} == {path.name for path in (tmp_path / "out").iterdir()}
    for name, row in files.items():
        content = (tmp_path / "out" / name).read_bytes()
        assert (row["bytes"], row["sha256"]) == (len(content), hashlib.sha256(content).hexdigest())
    assert all(row["reasons"] for row in answer["not_made"])
    assert len(answer["made"]) + len(answer["not_made"]) == len(room.PAPERS)


def test_text_for_people(tmp_path: Path) -> None:
    """The list made, the list not made, and no promise about a policy."""
    status, printed, _ = run(tmp_path, "--only", "call-sheet", "--only", "invoice")
    words = " ".join(printed.split())
    assert status == 1  # one that was asked for was not made
    assert "1 FILES WRITTEN" not in words
    for said in ("1 FILE WRITTEN", "call-sheet.pdf", "Not made, and what is missing", "Enter the hours worked"):
        assert said in words
    assert "Nothing here says what an insurance policy will pay" in words


def test_older_papers_that_cannot_be_made_now_go_and_foreign_files_stay(tmp_path: Path) -> None:
    """An invoice of an earlier run could be taken for this one's; with --only nothing else is touched."""
    out = tmp_path / "out"
    out.mkdir()
    for name in ("invoice.pdf", "plan.svg", "photo.jpg"):
        (out / name).write_bytes(b"old")
    run(tmp_path, "--only", "call-sheet")
    assert (out / "invoice.pdf").exists()
    run(tmp_path)
    assert sorted(path.name for path in out.iterdir()) == ["call-sheet.pdf", "daily-log.pdf", "photo.jpg", "plan.svg"]


def test_stopped_half_way_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C, or a fault, while the second paper is printed: no file of this run is there."""
    real, count = room.printed, iter(range(9))

    def breaks(*given: object) -> object:
        if next(count) == 1:
            raise KeyboardInterrupt
        return real(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(room, "printed", breaks)
    status, _, errors = run(tmp_path)
    assert status == 130
    assert "Nothing half-done was left behind" in errors
    assert not (tmp_path / "out").exists()


def test_photographs_in_a_folder_are_listed_with_their_hashes(tmp_path: Path) -> None:
    """By hashlib, with a small copy (told by poppler) of the one that is a picture; other files are left out."""
    photos = tmp_path / "pictures"
    photos.mkdir()
    Image.new("RGB", (640, 480), (120, 90, 40)).save(photos / "b.jpg")
    (photos / "a.JPG").write_bytes(b"one")
    (photos / "notes.txt").write_bytes(b"no picture")
    status, printed, _ = run(tmp_path, "--only", "photo-log", "--photos", str(photos), "--json")
    assert status == 0
    assert json.loads(printed)["made"][0]["file"] == "photo-log.pdf"
    log = str(tmp_path / "out" / "photo-log.pdf")
    text = subprocess.run(["pdftotext", log, "-"], capture_output=True, text=True, check=True).stdout
    for name in ("a.JPG", "b.jpg"):
        assert hashlib.sha256((photos / name).read_bytes()).hexdigest() in text.replace("\u200b", "")
    assert "notes.txt" not in text
    pictures = subprocess.run(["pdfimages", "-list", log], capture_output=True, text=True, check=True).stdout
    assert len(pictures.splitlines()) == 3  # two of heading


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--only", "receipt"), "There is no paper called 'receipt': choose of call-sheet"),
        (("--photos", "/nowhere/at/all"), "There is no folder"),
        (("--date", "11.4.2026"), "is not a date"),
    ],
)
def test_bad_options_are_one_sentence(tmp_path: Path, options: tuple[str, ...], words: str) -> None:
    """Status 2, nothing written."""
    status, _, errors = run(tmp_path, *options)
    assert status == 2
    assert words in errors
    assert not (tmp_path / "out").exists()


def test_negative_rates_and_empty_lines_are_refused(tmp_path: Path) -> None:
    """In the job's own words, all at once."""
    bad = JOB + '[[billed]]\ntag = "protection"\nwhat = "tarp"\nquantity = "0"\nunit = "each"\nrate = "-5.00"\n'
    status, _, errors = run(tmp_path, text=bad)
    assert status == 2
    assert "plain number over 0" in errors
    assert "cannot be negative" in errors
