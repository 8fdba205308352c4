"""Several processes save the same job at the same moment, on a database of its own: every change arrives, once."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

WRITERS, CHANGES = 2, 12
SETUP = """
import os, sys
os.environ["DJANGO_SETTINGS_MODULE"] = "bolewright.web.settings"
import django
django.setup()
from bolewright.store.models import KeptJob
from bolewright.store.revisions import new_job, save, tables
from bolewright.store.edits import Edit
"""
FIRST = f"""{SETUP}
from django.core.management import call_command
from bolewright.store.folder import data_folder, ready
ready(data_folder())
call_command("migrate", verbosity=0)
document = {{"schema": 1, "job": {{"title": "t"}}, "tree": {{"species": "oak"}}}}
print(new_job(document, "", "opened").key)
"""
WRITER = f"""{SETUP}
key, me, count = sys.argv[1], sys.argv[2], int(sys.argv[3])
job = KeptJob.objects.get(key=key)
for n in range(count):
    row = ("tree", "limb", 0)
    save(job, 1, [Edit((*row, "id"), f"W{{me}}-{{n}}"), Edit((*row, "at"), "1 ft")], me, "row")
"""
LAST = f"""{SETUP}
import json
job = KeptJob.objects.get(key=sys.argv[1])
numbers = [r.number for r in job.revisions.filter(aside=False)]
asides = job.revisions.filter(aside=True).count()
print(json.dumps([sorted(row["id"] for row in tables(job.latest)["tree"]["limb"]), numbers, asides]))
"""


def run(code: str, *words: str, folder: Path) -> subprocess.Popen[str]:
    """A process with its data in a folder of its own; with DATABASE_URL set, on that database."""
    environment = {**os.environ, "BOLEWRIGHT_DATA": str(folder)}
    return subprocess.Popen(
        [sys.executable, "-c", code, *words], env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )


def done(process: subprocess.Popen[str]) -> str:
    """What it printed; its own words when it failed."""
    out, err = process.communicate(timeout=60)
    assert process.returncode == 0, err[-2000:]
    return out.strip()


def test_every_change_of_every_writer_arrives_once(tmp_path: Path) -> None:
    """Each writer adds rows on the same old revision; in the end all rows are there and the numbers have no gap."""
    key = done(run(FIRST, folder=tmp_path))
    writers = [run(WRITER, key, str(me), str(CHANGES), folder=tmp_path) for me in range(WRITERS)]
    for writer in writers:
        done(writer)
    ids, numbers, asides = json.loads(done(run(LAST, key, folder=tmp_path)))
    assert ids == sorted(f"W{me}-{n}" for me in range(WRITERS) for n in range(CHANGES))
    assert numbers == list(range(1, WRITERS * CHANGES + 2))
    assert asides == 0
