"""Writing a set of files so that a folder never holds half of them."""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import tempfile
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import BinaryIO, Protocol

from bolewright.core.base.errors import BadInput

DRAWINGS = r"step-\d+|section-\d+|trace-\d+|fragility|fall-circle|look-back|elevation|plan|load-chart"
PAPERS = r"briefing|inspection|notice|delivery-log|cause|comparison"
OURS = re.compile(rf"({DRAWINGS})\.svg|({PAPERS})\.pdf|results\.json")
WAY_OUT = re.compile(r"(way-out|day)\.svg|out\.json")  # of another answer: neither takes the other's files away


def refuse_a_file(folder: Path) -> None:
    """Raise BadInput when a file stands where the folder is to be: told before the long work, not after."""
    if folder.exists() and not folder.is_dir():
        raise BadInput(f"{folder} is a file, not a folder: choose another name.", "--out")


def is_ours(name: str) -> bool:
    """Whether a file is a drawing or answer of an earlier run."""
    return OURS.fullmatch(name) is not None


def is_of_the_way_out(name: str) -> bool:
    """Whether a file is a drawing or answer of an earlier run about the way out."""
    return WAY_OUT.fullmatch(name) is not None


class Written(Protocol):
    """A file that is too large for memory and writes itself."""

    def write(self, out: BinaryIO) -> None:
        """Write it."""


def hashes(folder: Path, names: Sequence[str]) -> dict[str, tuple[int, str]]:
    """Size and SHA-256 of files that were written."""
    found = {}
    for name in names:
        with (folder / name).open("rb") as opened:
            found[name] = (os.fstat(opened.fileno()).st_size, hashlib.file_digest(opened, "sha256").hexdigest())
    return found


def write_whole(folder: Path, files: Mapping[str, bytes | Written],
                older: Callable[[str], bool] = is_ours) -> tuple[str, ...]:  # fmt: skip
    """Write the files beside the folder, move them in, drop those of an earlier run; the names written."""
    refuse_a_file(folder)
    beside: Path | None = None
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        beside = Path(tempfile.mkdtemp(prefix=f".{folder.name}-", dir=folder.parent))
        for name, content in files.items():
            with (beside / name).open("wb") as out:
                out.write(content) if isinstance(content, bytes) else content.write(out)
        _move_in(beside, folder, tuple(files), older)
    except OSError as fault:
        raise BadInput(f"{folder} cannot be written ({fault.strerror}): choose another folder.", "--out") from fault
    finally:
        if beside is not None:
            shutil.rmtree(beside, ignore_errors=True)
    return tuple(files)


def _move_in(beside: Path, folder: Path, names: tuple[str, ...], older: Callable[[str], bool]) -> None:
    """Move the finished files; an old step sheet left behind could be taken for the new plan, so it goes."""
    if not folder.exists():
        folder.mkdir()
    for name in names:
        os.replace(beside / name, folder / name)
    for old in folder.iterdir():
        if older(old.name) and old.name not in names:
            old.unlink()
