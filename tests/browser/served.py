"""A field sheet in a process of its own, that can be killed and started again at the same address; and its store."""

from __future__ import annotations

import os
import re
import signal
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

SERVE = [sys.executable, "-c", "from bolewright.cli.main import run; run()", "serve", "--alone", "--no-open", "--port"]
SMALL = Path(__file__).resolve().parents[1] / "functional" / "data" / "small-stem.toml"

# A job with an order of cuts in use, one photograph, and all other views of the first stage done without.
READY = """
import io, json, sys
from pathlib import Path
from PIL import Image
from bolewright.web.serve import prepared
folder = prepared()
from bolewright.job.syntax import tables_of
from bolewright.store import day
from bolewright.store.answers import keep_answer
from bolewright.store.views import missing_before_cutting, waive
from bolewright.store.photos import add_photo
from bolewright.store.pictures import looked_at
from bolewright.store.results import read
from bolewright.store.revisions import new_job
from bolewright.web import worker
job = new_job(tables_of(Path(sys.argv[1]).read_text(encoding="utf-8")), "", "put in")
run = folder / "one-run"
run.mkdir()
(run / "job.toml").write_text(job.latest.text, encoding="utf-8")
assert worker.main(run) == 0
answer = keep_answer(job, 1, job.latest.text, json.loads((run / "answer.json").read_text())["text"], 1.0)
file = io.BytesIO()
Image.new("RGB", (900, 700), "tan").save(file, "JPEG")
file.seek(0)
add_photo(job, folder, looked_at(file, len(file.getvalue())), "far.jpg", "", "Ann")
for view in missing_before_cutting(job):
    waive(job, view.id, "cannot be reached", "Ann")
plan = read(answer.text).cuts.chosen
day.write(job, "plan", "Ann", "took the plan", plan.title, answer)
print(job.key)
"""


@dataclass
class Served:
    """The running sheet. `kill` is what a dead battery or a lost line is to a tablet."""

    folder: Path
    port: int = 0
    process: Any = field(default=None, repr=False)

    @property
    def address(self) -> str:
        """Where it is."""
        return f"http://127.0.0.1:{self.port}"

    def environment(self) -> dict[str, str]:
        """Its own data folder and SQLite, whatever this test run uses."""
        left_out = ("DATABASE_URL", "DJANGO_SETTINGS_MODULE")
        kept = {key: value for key, value in os.environ.items() if key not in left_out}
        return {**kept, "BOLEWRIGHT_DATA": str(self.folder), "DJANGO_SETTINGS_MODULE": "bolewright.web.settings"}

    def start(self) -> None:
        """Start it, the second time at the same address."""
        self.process = subprocess.Popen(
            [*SERVE, str(self.port)],
            env=self.environment(),
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
        )
        line = self.process.stdout.readline()
        found = re.search(r"http://127\.0\.0\.1:(\d+)/", line)
        assert found is not None, line
        self.port = int(found[1])

    def kill(self) -> None:
        """End it in the middle of whatever it does."""
        if self.process is not None:
            self.process.send_signal(signal.SIGKILL)
            self.process.communicate()
            self.process = None

    def ready_job(self) -> str:
        """The key of a job whose work can begin."""
        done = subprocess.run(
            [sys.executable, "-c", READY, str(SMALL)],
            env=self.environment(),
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stderr[-2000:]
        return done.stdout.split()[-1]

    def rows(self, question: str) -> list[Any]:
        """What the store holds, read past the program."""
        with sqlite3.connect(f"file:{self.folder / 'bolewright.sqlite3'}?mode=ro", uri=True) as store:
            return store.execute(question).fetchall()


@contextmanager
def served(folder: Path) -> Iterator[Served]:
    """One that is ended with the test."""
    sheet = Served(folder)
    try:
        yield sheet
    finally:
        sheet.kill()
