"""What is looked at before a job is read at all: the file, its size, its encoding, and how many things it lists."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from bolewright.job.faults import Fault, JobFaults

LARGEST_FILE = 5_000_000  # bytes

MOST: dict[tuple[str, ...], tuple[int, str]] = {
    ("tree", "limb"): (500, "limbs"),
    ("tree", "stem"): (400, "stations"),
    ("tree", "decay"): (200, "stretches of decay"),
    ("support",): (200, "supports"),
    ("line",): (100, "lines"),
    ("building",): (50, "buildings"),
    ("protect",): (200, "things to protect"),
    ("cut",): (1000, "cuts"),
    ("prop",): (20, "props"),
    ("leave",): (100, "marks"),
    ("done",): (500, "steps done"),
    ("reading",): (500, "readings"),
    ("truck",): (100, "kinds of timber"),
    ("target",): (100, "targets"),
    ("notice", "ask"): (50, "requests"),
    ("notice", "delivery"): (200, "deliveries"),
    ("notice", "reply"): (500, "replies"),
    ("inspection", "observation"): (500, "observations"),
    ("inspection", "union"): (100, "unions"),
    ("inspection", "test"): (200, "tests"),
    ("rating", "option"): (50, "options"),
    ("failure", "root"): (200, "roots"),
    ("access", "leg"): (100, "stretches of the way out"),
    ("access", "gate"): (50, "gates"),
    ("access", "no_go"): (200, "places to keep off"),
    ("machine",): (50, "machines"),
    ("load",): (50, "trucks and trailers"),
    ("rates", "actual"): (500, "earlier jobs"),
    ("rates", "extra"): (200, "lines of the price"),
    ("day", "forecast"): (50, "forecasts"),
    ("change",): (100, "changes"),
    ("log",): (1000, "lines of the log"),
    ("worked",): (500, "rows of hours"),
    ("billed",): (500, "lines of the bill"),
    ("terms", "scope"): (100, "lines"),
    ("terms", "excluded"): (100, "lines"),
    ("hand_over", "done"): (100, "lines"),
    ("hand_over", "not_done"): (100, "lines"),
    ("hand_over", "left"): (100, "lines"),
    ("hand_over", "danger"): (100, "lines"),
    ("job", "crew"): (100, "people in the crew"),
    ("job", "utilities"): (100, "utilities"),
}


def refused(sentence: str) -> JobFaults:
    """A fault of the file as a whole."""
    return JobFaults([Fault("", sentence)])


def bytes_of(path: str | Path) -> bytes:
    """The bytes of a job file, or of standard input for "-". Raises JobFaults with the reason in words."""
    if str(path) == "-":
        return _within_limit(sys.stdin.buffer.read(LARGEST_FILE + 1), "What came in on standard input")
    file, name = Path(path), f'"{str(path)[-200:]}"'
    try:
        if file.is_dir():
            raise refused(f"{name} is a folder: give the job file in it.")
        size = file.stat().st_size
        if size > LARGEST_FILE:
            raise _too_large(name, f"{size / 1e6:.1f} MB")
        with file.open("rb") as opened:
            return _within_limit(opened.read(LARGEST_FILE + 1), name)
    except FileNotFoundError:
        raise refused(f"There is no file {name}: check the name and the folder.") from None
    except PermissionError:
        raise refused(f"{name} may not be read by you: ask for the right to read it.") from None
    except (OSError, ValueError):
        raise refused(f"{name} cannot be opened: check the name and the folder.") from None


def _within_limit(content: bytes, name: str) -> bytes:
    if len(content) > LARGEST_FILE:
        raise _too_large(name, "more than that")
    return content


def _too_large(name: str, size: str) -> JobFaults:
    return refused(f"{name} is too large for a job: it has {size}, the limit is {LARGEST_FILE / 1e6:.0f} MB.")


def text_of(content: bytes) -> str:
    """The bytes as text. Raises JobFaults when they are not."""
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise refused("This file is saved as UTF-16: save it again as UTF-8 text.")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content[: error.start].count(b"\n") + 1
        if b"\x00" in content[:4096] or line == 1:
            raise refused("This is not a text file: give a job written as TOML or JSON.") from None
        raise refused(f"Line {line} has a character that is not UTF-8: save the file again as UTF-8 text.") from None
    if "\x00" in text:
        raise refused("This is not a text file: give a job written as TOML or JSON.")
    return text


def too_many(raw: dict[str, Any]) -> list[Fault]:
    """A fault for every list that is longer than any real job needs."""
    found = []
    for keys, (most, what) in MOST.items():
        here: Any = raw
        for key in keys:
            here = here.get(key) if isinstance(here, dict) else None
        if isinstance(here, list) and len(here) > most:
            found.append(
                Fault(".".join(keys), f"There are {len(here)} {what} here: at most {most} can be worked with.")
            )
    return found
