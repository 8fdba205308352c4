"""What a user waits for: `bolewright --help`, and the demo from the installed state to its printed briefing.

python -m benchmarks.commands
"""

from __future__ import annotations

import subprocess
import sys
import sysconfig
import tempfile
from pathlib import Path

from benchmarks.rig import Row, best_of, seconds, show

PROGRAM = Path(sysconfig.get_path("scripts")) / ("bolewright.exe" if sys.platform == "win32" else "bolewright")


def run(*arguments: str, folder: str | None = None) -> None:
    """The program with these arguments, its words thrown away; a traceback would be exit status 1 without an answer."""
    done = subprocess.run([str(PROGRAM), *arguments], capture_output=True, cwd=folder, check=False)
    assert done.returncode == 0, done.stderr.decode()[-500:]


def demo() -> None:
    """The demo into an empty folder; the briefing must be there afterwards."""
    with tempfile.TemporaryDirectory() as folder:
        run("demo", "--out", "papers", folder=folder)
        assert list(Path(folder).rglob("*.pdf")), "the demo printed no briefing"


def rows() -> list[Row]:
    """The measured table. The first run of each fills the machine's file cache and does not count."""
    return [
        Row("bolewright --help", 0.4, best_of(5, lambda: run("--help")), "s", "less"),
        Row(
            "bare start of Python",
            None,
            best_of(5, lambda: subprocess.run([sys.executable, "-c", ""], check=True)),
            "s",
            "less",
        ),
        Row("demo to PDF", 15.0, min(seconds(demo) for _ in range(2)), "s", "less"),
    ]


if __name__ == "__main__":
    show("Commands", rows())
