"""Entries that carry a key: taken in once, answered the same each time, in the order they were made."""

from __future__ import annotations

import io
import json
import os
import re
import subprocess
import sys
import uuid
from pathlib import Path
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from PIL import Image

from bolewright.store import day
from bolewright.store.edits import Edit
from bolewright.store.models import KeptJob, Mark, PhotoNote, Shown, TakenEntry
from bolewright.store.revisions import save, tables
from bolewright.web.carried import SECRET

pytestmark = pytest.mark.django_db
MADE = "2026-04-11T10:05:00+00:00"


def entry(client: Client, place: str, fields: dict[str, Any], key: str = "", late: bool = True, sheet: str = "") -> Any:
    """Send an entry as a tablet does; the answer read as JSON."""
    headers = {"Entry-Key": key or str(uuid.uuid4()), "Entry-Sheet": sheet or str(uuid.uuid4())}
    if late:
        headers["Entry-Made"] = MADE
    answer = client.post(place, fields, headers=headers)
    assert answer.status_code == 200, answer.content
    return json.loads(answer.content)


def photograph(colour: str = "brown") -> SimpleUploadedFile:
    """A picture."""
    out = io.BytesIO()
    Image.new("RGB", (400, 300), colour).save(out, "JPEG")
    return SimpleUploadedFile("a.jpg", out.getvalue())


def test_the_same_key_is_taken_once_and_answered_the_same(client: Client, kept: Any) -> None:
    """An observation, a cell of a new row, a photograph: twice each, as after a lost answer."""
    job = kept()
    count = len(tables(job.latest)["tree"]["limb"])
    sent = (
        ("work/observe", lambda: {"kind": "other", "said": "creaks"}),
        ("save/measure", lambda: {"base": "1", f"tree/limb/{count}/id": "L9"}),
        ("photos/add", lambda: {"view": "butt", "file": photograph()}),
        ("photos/waive", lambda: {"view": "lines", "reason": "none here", "by": "Ann"}),
    )
    for place, fields in sent:
        key = str(uuid.uuid4())
        first, second = (entry(client, f"/job/{job.key}/{place}", fields(), key) for _ in range(2))
        assert first == second
        assert first["taken"], first
    assert job.log.filter(kind="observed").count() == 1
    assert len(tables(job.latest)["tree"]["limb"]) == count + 1
    assert job.photos.count() == job.waivers.count() == 1
    assert TakenEntry.objects.count() == len(sent)


def test_a_refusal_is_an_answer_too(client: Client, kept: Any) -> None:
    """In words, and the same the second time."""
    job, key = kept(), str(uuid.uuid4())
    bad = {"view": "butt", "file": SimpleUploadedFile("a.jpg", b"%PDF")}
    first = entry(client, f"/job/{job.key}/photos/add", bad, key)
    assert not first["taken"]
    assert "not a photograph" in first["said"][0]
    assert entry(client, f"/job/{job.key}/photos/add", {}, key) == first


def test_a_key_belongs_to_one_place(client: Client, kept: Any) -> None:
    """Used elsewhere it is refused, and nothing is done."""
    job, key = kept(), str(uuid.uuid4())
    entry(client, f"/job/{job.key}/stop", {}, key)
    answer = client.post(f"/job/{job.key}/go-on", {}, headers={"Entry-Key": key})
    assert not answer.json()["taken"]
    assert job.log.filter(kind="went on").count() == 0


def test_cells_typed_without_hearing_back_make_one_row(client: Client, kept: Any) -> None:
    """A new limb cell by cell on the same base, one twice, while somebody else adds a limb: no conflict, no loss."""
    job = kept()
    before = tables(job.latest)["tree"]["limb"]
    n, sheet = len(before), str(uuid.uuid4())
    save(job, 1, [Edit(("tree", "limb", n, "id"), "Bob's"), Edit(("tree", "limb", n, "at"), "3 ft")], "Bob", "limb")
    cells = (("id", "L9"), ("at", "40"), ("length", "8"), ("length", "9"), ("clock", "3"))
    for name, value in cells:
        told = entry(client, f"/job/{job.key}/save/measure", {"base": "1", f"tree/limb/{n}/{name}": value}, sheet=sheet)
        assert told["taken"]
        assert "/both/" not in told["place"]
    limbs = tables(job.latest)["tree"]["limb"]
    assert limbs == [*before, {"id": "Bob's", "at": "3 ft"}, {"id": "L9", "at": "40 ft", "length": "9 ft", "clock": 3}]


def test_a_cell_somebody_else_changed_is_kept_twice_and_shown(client: Client, kept: Any) -> None:
    """Also when this page has typed over it before: another's value is never replaced in silence."""
    job, sheet = kept(), str(uuid.uuid4())
    place, name = f"/job/{job.key}/save/measure", "tree/limb/0/length"
    entry(client, place, {"base": "1", name: "10"}, sheet=sheet)
    save(job, 2, [Edit(("tree", "limb", 0, "length"), "14 ft")], "Bob", "limb")
    told = entry(client, place, {"base": "1", name: "11"}, sheet=sheet)
    assert "/both/" in told["place"]
    assert tables(job.latest)["tree"]["limb"][0]["length"] == "14 ft"
    page = client.get(told["place"]).content.decode()
    assert "14 ft" in page
    assert "11 ft" in page


@pytest.mark.parametrize("others_stop", [False, True])
def test_stops_made_without_signal(client: Client, kept: Any, others_stop: bool) -> None:
    """Stop and go-on of one tablet cancel out; somebody else's stop, which it did not know of, stands."""
    job = kept()
    if others_stop:
        client.post(f"/job/{job.key}/stop")
    entry(client, f"/job/{job.key}/stop", {})
    told = entry(client, f"/job/{job.key}/go-on", {"said": "prop reset", "stop": "0"})
    assert (len(day.standing_stops(job)) > 0) is others_stop
    assert ("the stop stands" in " ".join(told["said"])) is others_stop
    assert all(line.made_at is not None for line in job.log.all() if line.kind == "went on")


def test_who_may_not_is_told_and_the_key_stays_free(client: Client, kept: Any, settings: Any) -> None:
    """Signed out: 401 in words, nothing kept under the key; afterwards the same entry is taken."""
    job, key = kept(), str(uuid.uuid4())
    place, fields, headers = f"/job/{job.key}/work/observe", {"said": "creaks"}, {"Entry-Key": key}
    settings.BOLEWRIGHT_ALONE = False
    assert client.post(place, fields, headers=headers).status_code == 401
    assert job.log.count() == TakenEntry.objects.count() == 0
    settings.BOLEWRIGHT_ALONE = True
    assert entry(client, place, fields, key)["taken"]
    settings.BOLEWRIGHT_ALONE = False
    assert client.post(place, fields, headers=headers).status_code == 401  # a known key says nothing to strangers


def test_nothing_is_half_taken(client: Client, kept: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """A fault of ours after the change: neither change nor key stand, and the next try is taken."""
    from bolewright.web.pages import work

    job, key = kept(), str(uuid.uuid4())
    write = day.write

    def broken(*args: Any, **more: Any) -> Any:
        write(*args, **more)
        raise RuntimeError("power cut")

    monkeypatch.setattr(work.day, "write", broken)
    answer = client.post(f"/job/{job.key}/work/observe", {"said": "creaks"}, headers={"Entry-Key": key})
    assert answer.status_code == 500
    assert job.log.count() == TakenEntry.objects.count() == 0
    monkeypatch.undo()
    assert entry(client, f"/job/{job.key}/work/observe", {"said": "creaks"}, key)["taken"]
    assert job.log.count() == 1


AT_ONCE = """
import threading
import django
django.setup()
from django.conf import settings
settings.BOLEWRIGHT_ALONE = True
from django.core.management import call_command
from bolewright.store.folder import data_folder, ready
ready(data_folder())
call_command("migrate", verbosity=0)
from django.db import connection
from django.test import Client
from bolewright.store.revisions import new_job
settings.ALLOWED_HOSTS = ["testserver"]
job, told = new_job({"schema": 1, "job": {"title": "t"}, "tree": {"species": "oak"}}, "", "opened"), []
def send():
    answer = Client().post(f"/job/{job.key}/work/observe", {"said": "creaks"}, headers={"Entry-Key": "k" * 30})
    told.append((answer.status_code, answer.content))
    connection.close()
threads = [threading.Thread(target=send) for _ in range(8)]
for thread in threads: thread.start()
for thread in threads: thread.join()
print(len(told), len(set(told)), told[0][0], job.log.count())
"""


def test_the_same_key_at_once(tmp_path: Path) -> None:
    """Eight at the same moment, on a database of its own: one line in the log, eight times the same answer."""
    environment = {
        **os.environ,
        "BOLEWRIGHT_DATA": str(tmp_path),
        "DJANGO_SETTINGS_MODULE": "bolewright.web.settings",
    }
    command = [sys.executable, "-c", AT_ONCE]
    done = subprocess.run(command, env=environment, capture_output=True, text=True, check=False, timeout=60)
    assert done.stdout.split() == ["8", "1", "200", "1"], done.stderr[-2000:]


def test_manifest_worker_and_what_to_keep(client: Client, kept: Any) -> None:
    """Installable from the root; the list names every page of the day and every photograph."""
    job: KeptJob = kept()
    manifest = client.get("/manifest.webmanifest")
    assert manifest.headers["Content-Type"] == "application/manifest+json"
    assert {"name", "start_url", "icons", "display", "scope"} <= set(manifest.json())
    worker = client.get("/worker.js")
    assert worker.headers["Content-Type"].startswith("text/javascript")
    assert "const SHELL = ['/static/" in worker.content.decode()
    secret = re.search(r"const SECRET = (\[.*?\])", worker.content.decode())
    assert secret is not None
    assert set(json.loads(secret[1])) == SECRET  # what a page carries without signal is what the server would carry
    first = client.get(f"/job/{job.key}/to-keep").json()
    client.post(f"/job/{job.key}/photos/add", {"view": "butt", "file": photograph()})
    second = client.get(f"/job/{job.key}/to-keep").json()
    assert first["mark"] != second["mark"]
    assert f"/job/{job.key}/photos/1/copy" in second["pages"]
    assert {f"/job/{job.key}/what-if", f"/job/{job.key}/solid"} <= set(second["pages"])
    for place in second["pages"]:
        assert client.get(place).status_code == 200, place
    assert client.get(f"/job/{job.key}/to-keep?mark={second['mark']}").json() == {"mark": second["mark"], "pages": []}
    marks = {second["mark"]}
    for about in (PhotoNote(shows="the butt"), Shown(view="butt", shows=False), Mark(kind="text", x1=0.5, y1=0.5)):
        about.photo = job.photos.get()
        about.save()
        marks.add(client.get(f"/job/{job.key}/to-keep").json()["mark"])
    assert len(marks) == 4


def test_every_file_of_the_shell_is_there(client: Client) -> None:
    """Every script a page loads, and every script these load, is kept with the shell."""
    from bolewright.web.pages import offline

    folder = Path(offline.__file__).parents[1] / "static" / "bolewright" / "offline"
    assert {f"bolewright/offline/{place.name}" for place in folder.glob("*.js")} <= set(offline.SHELL)
