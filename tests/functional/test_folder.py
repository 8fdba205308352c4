"""Drawings and papers are written whole or not at all."""

from __future__ import annotations

from pathlib import Path
from typing import BinaryIO

import pytest

from bolewright.cli.folder import is_of_the_way_out, write_whole
from bolewright.core.base.errors import BadInput


def names(folder: Path) -> list[str]:
    """What a folder holds."""
    return sorted(path.name for path in folder.iterdir())


def test_writes_all(tmp_path: Path) -> None:
    """All files, nothing beside them."""
    written = write_whole(tmp_path / "out", {"plan.svg": b"<svg/>", "briefing.pdf": b"%PDF"})
    assert written == ("plan.svg", "briefing.pdf")
    assert names(tmp_path / "out") == ["briefing.pdf", "plan.svg"]
    assert names(tmp_path) == ["out"]


def test_old_step_sheets_go_and_foreign_files_stay(tmp_path: Path) -> None:
    """A sheet of a longer, older plan could be taken for the new plan; the user's own files are not touched."""
    out = tmp_path / "out"
    write_whole(out, {"step-01.svg": b"1", "step-02.svg": b"2"})
    (out / "photo.jpg").write_bytes(b"x")
    write_whole(out, {"step-01.svg": b"new"})
    assert names(out) == ["photo.jpg", "step-01.svg"]
    assert (out / "step-01.svg").read_bytes() == b"new"


def test_another_answer_in_the_same_folder_is_left_alone(tmp_path: Path) -> None:
    """The way out does not take away the plan's sheets, nor the plan the way out."""
    out = tmp_path / "out"
    write_whole(out, {"step-01.svg": b"1", "results.json": b"{}"})
    write_whole(out, {"way-out.svg": b"1", "day.svg": b"1", "out.json": b"{}"}, is_of_the_way_out)
    write_whole(out, {"way-out.svg": b"2", "out.json": b"{}"}, is_of_the_way_out)
    write_whole(out, {"step-01.svg": b"2", "results.json": b"{}"})
    assert names(out) == ["out.json", "results.json", "step-01.svg", "way-out.svg"]


def test_a_failed_write_leaves_the_old_set(tmp_path: Path) -> None:
    """When the disk fills in the second file, the first run's files are all still there, and nothing new."""

    class FullDisk:
        """Takes some of the file, then has no room."""

        def write(self, out: BinaryIO) -> None:
            out.write(b"ne")
            raise OSError(28, "No space left on device")

    out = tmp_path / "out"
    write_whole(out, {"plan.svg": b"old", "elevation.svg": b"old"})
    with pytest.raises(BadInput, match="No space left"):
        write_whole(out, {"plan.svg": b"new", "elevation.svg": FullDisk()})
    assert {(out / name).read_bytes() for name in names(out)} == {b"old"}
    assert names(tmp_path) == ["out"]


def test_a_file_in_the_way(tmp_path: Path) -> None:
    """A plain sentence, and the file is kept."""
    (tmp_path / "out").write_text("mine")
    with pytest.raises(BadInput, match="is a file, not a folder"):
        write_whole(tmp_path / "out", {"plan.svg": b""})
    assert (tmp_path / "out").read_text() == "mine"


def test_a_folder_that_cannot_be_made(tmp_path: Path) -> None:
    """A plain sentence, with the system's reason."""
    (tmp_path / "file").write_text("mine")
    with pytest.raises(BadInput, match="cannot be written"):
        write_whole(tmp_path / "file" / "out", {"plan.svg": b""})
