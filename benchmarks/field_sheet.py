"""What the server spends on one entry of the field sheet: saved, then elevation, plan and forces drawn again.

Each run changes one number of the example job and sends it as the page does, so nothing is known from before. The
time is that of the whole request inside this process, without the network.

    python -m benchmarks.field_sheet
"""

from __future__ import annotations

import os
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from benchmarks.rig import Row, best_of, seconds, show

TARGET, RUNS, EXAMPLE = 150.0, 15, "garage-oak"
CELL = "tree/limb/2/length"


def started(folder: str) -> Any:
    """The field sheet on an empty store, with the example as its job; gives back the test client and the job."""
    os.environ.update(BOLEWRIGHT_DATA=folder, DJANGO_SETTINGS_MODULE="bolewright.web.settings", BOLEWRIGHT_ALONE="1")
    os.environ.pop("DATABASE_URL", None)
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as `bolewright serve` sets it
    import django

    from bolewright.store.folder import ready

    ready(Path(folder))
    django.setup()
    from django.core.management import call_command
    from django.test import Client

    from bolewright.job.syntax import tables_of
    from bolewright.reference.examples import examples
    from bolewright.store.revisions import new_job

    call_command("migrate", verbosity=0)
    job = new_job(tables_of(examples()[EXAMPLE].read_text(encoding="utf-8")), "", "put in", example=EXAMPLE)
    return Client(HTTP_HOST="localhost"), job


class Entry:
    """One number typed into the page again and again, another one each time."""

    def __init__(self, client: Any, job: Any) -> None:
        self.client, self.job, self.count = client, job, 0

    def save(self) -> None:
        """As the page sends it: one cell, on the newest revision; the answer holds the drawing."""
        self.count += 1
        posted = {"base": str(self.job.latest.number), CELL: f"{16 + self.count / 100:.2f}"}
        answer = self.client.post(f"/job/{self.job.key}/save/measure", posted, HTTP_HX_REQUEST="true")
        assert answer.status_code == 200, answer.status_code
        assert b"<svg" in answer.content

    def page(self) -> None:
        """The whole page after the same edit, as without scripting."""
        answer = self.client.get(f"/job/{self.job.key}/measure")
        assert b"<svg" in answer.content

    def sheets(self) -> None:
        """Elevation and plan of the page Holding with all samples, after another edit."""
        self.save()
        answer = self.client.get(f"/job/{self.job.key}/holding")
        assert answer.content.count(b"<svg") >= 2


def processor_seconds(work: Callable[[], object]) -> float:
    """Processor time of one run [s], all threads: what is left of it when other work shares the machine."""
    start = time.process_time()
    work()
    return time.process_time() - start


def rows() -> list[Row]:
    """The measured table."""
    with tempfile.TemporaryDirectory() as folder:
        entry = Entry(*started(folder))
        saved = best_of(RUNS, entry.save) * 1000.0
        every = sorted(seconds(entry.save) for _ in range(RUNS))
        busy = min(processor_seconds(entry.save) for _ in range(RUNS)) * 1000.0
        return [
            Row("one entry saved and drawn again (48 samples)", TARGET, saved, "ms", "less"),
            Row("the same, middle of the runs", TARGET, every[RUNS // 2] * 1000.0, "ms", "less"),
            Row("processor time of it, least of the runs", TARGET, busy, "ms", "less"),
            Row("the whole page anew, nothing changed", None, best_of(5, entry.page) * 1000.0, "ms", "less"),
            Row("an entry, then elevation and plan with all samples", None, best_of(3, entry.sheets) * 1000.0, "ms",
                "less"),
        ]  # fmt: skip


if __name__ == "__main__":
    show("Field sheet", rows())
