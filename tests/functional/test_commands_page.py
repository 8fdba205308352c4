"""docs/commands.md names every command, promised key and file; nothing it names is missing from the answers."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from typer.main import get_command

from bolewright.cli.folder import OURS, WAY_OUT
from bolewright.cli.main import app
from bolewright.planning import machine

from .results import cut, got_out, held, recorded, weighed

ANSWERS = {
    "weigh": machine.weigh_answer(weighed()),
    "hold": machine.hold_answer(held()),
    "cuts": {**machine.cuts_answer(cut("no plan")), "files": ()},
    "cuts, a step": machine.cuts_answer(cut())["steps"][0],
    "record": {**machine.record_answer(recorded()), "files": ()},
    "out": {**machine.out_answer(got_out(), None, (), None), "change": None, "files": ()},
}


@pytest.fixture
def page(root: Path) -> str:
    """The page."""
    return (root / "docs" / "commands.md").read_text(encoding="utf-8")


def test_every_command_is_named(page: str) -> None:
    """One usage line per command, none for a command that is not there."""
    there = {command.callback.__name__ for command in app.registered_commands if command.callback}
    assert set(re.findall(r"^    bolewright (\w+)", page, re.MULTILINE)) == there


def test_every_option_is_named_with_its_command(page: str) -> None:
    """In the command's own lines; those that every command has in the words below them."""
    everywhere = {"--json", "--units", "--help"}
    assert everywhere - {"--help"} <= set(re.findall(r"`(--\w+)", page))
    for name, command in get_command(app).commands.items():  # type: ignore[attr-defined]
        options = {name for given in command.params for name in given.opts if name.startswith("--")}
        lines = " ".join(re.findall(rf"^    bolewright {name} .*$", page, re.MULTILINE))
        assert options - everywhere <= set(re.findall(r"--[\w-]+", lines)), name


@pytest.mark.parametrize("command", ANSWERS)
def test_promised_keys_are_in_the_answer(command: str, page: str) -> None:
    """Every key of the table is found in the answer of that command."""
    (row,) = re.findall(rf"^\| {command} \| (.*) \|$", page, re.MULTILINE)
    promised = {part.strip("[]") for key in re.findall(r"`([\w.\[\]]+)`", row) for part in key.split(".") if part}
    assert promised
    assert promised <= keys_of(json.loads(machine.dumps(ANSWERS[command])))


def keys_of(value: Any) -> set[str]:
    """All keys in an answer, at any depth."""
    if isinstance(value, dict):
        return set(value) | {key for inner in value.values() for key in keys_of(inner)}
    if isinstance(value, list):
        return {key for inner in value for key in keys_of(inner)}
    return set()


def test_every_file_is_known_as_ours(page: str) -> None:
    """The names told are those taken away when a new set is written."""
    files = set(re.findall(r"`([\w-]+\.(?:svg|pdf|json))`", page))
    assert len(files) >= 6
    assert all(OURS.fullmatch(name) or WAY_OUT.fullmatch(name) for name in files)
