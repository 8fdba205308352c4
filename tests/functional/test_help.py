"""The command starts quickly and explains itself; misuse is exit status 2."""

from __future__ import annotations

import subprocess
import sys

import pytest
from typer.testing import CliRunner

from bolewright.cli.main import app

HEAVY = ("numpy", "scipy", "pydantic", "pint", "daqp", "typst", "rich", "django", "waitress", "PIL")


def test_help_opens_no_heavy_room() -> None:
    """`bolewright --help` loads none of the packages that take time (the time itself is measured in benchmarks)."""
    code = (
        "import sys\nfrom bolewright.cli.main import app\n"
        "try:\n    app(['--help'])\nexcept SystemExit:\n    pass\n"
        f"print([name for name in {HEAVY!r} if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"


@pytest.mark.parametrize("command", ["demo", "check", "weigh", "hold", "cuts", "out", "stand"])
def test_every_command_explains_itself(command: str) -> None:
    """Each has its help, and is listed."""
    assert command in CliRunner().invoke(app, ["--help"]).stdout
    done = CliRunner().invoke(app, [command, "--help"])
    assert done.exit_code == 0
    assert "--json" in done.stdout


@pytest.mark.parametrize("words", [["weigh"], ["chop", "x.toml"], ["hold", "x.toml", "--units", "stones"]])
def test_misuse_is_2(words: list[str]) -> None:
    """Wrong words on the command line."""
    assert CliRunner().invoke(app, words).exit_code == 2


def test_version() -> None:
    """The version by itself."""
    assert CliRunner().invoke(app, ["--version"]).stdout.startswith("bolewright ")
