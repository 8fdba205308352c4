"""The papers page: what is ready and what is missing, making as a run, signing, and what a changed job does to it."""

from __future__ import annotations

import hashlib
import re
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from django.test import Client

from bolewright.job.syntax import tables_of
from bolewright.store.edits import Edit
from bolewright.store.models import KeptJob, SignedPaper
from bolewright.store.models.kept import WrittenOnce
from bolewright.store.revisions import new_job, save
from bolewright.web import printer
from bolewright.web.pages.signing import given_now

pytestmark = pytest.mark.django_db
TEXT = """
schema = 1
[job]
title = "Oak on the shed"
site = "14 Tanager Lane"
[tree]
species = "red oak"
attached = "free"
[company]
name = "Kestrel Tree Care"
[rates]
crew_hour = "185.00"
ceiling = "5200.00"
[terms]
authorised_by = "D. Okafor"
scope = ["take it off"]
[[change]]
id = "1"
what = "eye bolt"
photo = "1"
price = "200.00"
"""
STROKES = "M10 20 L300 150 L590 40 M100 100 L120 130"


@pytest.fixture
def job(data: Path) -> KeptJob:
    """A job with enough for an authorisation and a change order."""
    return new_job(tables_of(TEXT), "tester", "put in")


def read_now(client: Client, job: KeptJob, name: str = "work-authorisation") -> tuple[str, str]:
    """The page to sign, and the fingerprint it carries."""
    answer = client.get(f"/job/{job.key}/papers/sign/{name}")
    assert answer.status_code == 200
    text = answer.content.decode()
    found = re.search(r'name="shown" value="([0-9a-f]{64})"', text)
    assert found
    return text, found[1]


def sign(client: Client, job: KeptJob, name: str = "work-authorisation", **more: str) -> Any:
    """Sign what is shown now."""
    _, shown = read_now(client, job, name)
    posted = {"shown": shown, "by": "D. Okafor", "role": "Customer", "where": "at the gate", "strokes": STROKES,
              "read": "yes", **more}  # fmt: skip
    return client.post(f"/job/{job.key}/papers/sign/{name}", posted, HTTP_USER_AGENT="tablet of the test")


def test_says_what_is_ready_and_what_is_missing(client: Client, job: KeptJob) -> None:
    """A sentence for everything a paper lacks; what can be made can be read and signed."""
    text = client.get(f"/job/{job.key}/papers").content.decode()
    assert "Enter what was done: “Done” in “Hand-over” on the page Papers." in text
    assert "There is no order of cuts for the job as it is saved now" in text
    assert f"/job/{job.key}/papers/sign/work-authorisation" in text
    assert "papers/sign/completion" not in text


def test_the_whole_is_shown_before_signing(client: Client, job: KeptJob) -> None:
    """Every page of the PDF as a picture, its words beside them, the statement and the place to sign last."""
    text, shown = read_now(client, job)
    pictures = re.findall(r'<img src="([^"]+)"', text)
    pdf = client.get(f"/job/{job.key}/papers/now/work-authorisation.pdf").content
    assert len(pictures) == int(re.findall(rb"/Type/Pages/Count (\d+)", pdf)[0])
    assert client.get(pictures[0]).content.startswith(b"\x89PNG")
    assert client.get(pictures[0].replace(shown, "0" * 64)).status_code == 404
    assert text.index(pictures[-1]) < text.index("take it off") < text.index("I have read this paper whole")
    assert "5,200.00" in text


def test_signed_is_kept_with_who_when_where_and_on_what(client: Client, job: KeptJob) -> None:
    """The file by hashlib; the row cannot be written again nor taken away."""
    answer = sign(client, job)
    assert answer.status_code == 302
    row = SignedPaper.objects.get()
    assert (row.version, row.by, row.role, row.where, row.device) == (1, "D. Okafor", "Customer", "at the gate",
                                                                     "tablet of the test")  # fmt: skip
    assert row.pdf_sha256 == hashlib.sha256(bytes(row.pdf)).hexdigest()
    page = client.get(answer["Location"]).content.decode()
    assert "still as it was signed" in page
    assert row.shown in page
    assert client.get(f"/job/{job.key}/papers/signed/work-authorisation/1.pdf").content == bytes(row.pdf)
    row.by = "somebody else"
    with pytest.raises(WrittenOnce):
        row.save()
    with pytest.raises(WrittenOnce):
        row.delete()


def test_a_file_altered_in_the_store_is_not_given_out(client: Client, job: KeptJob) -> None:
    """Behind the models' back: the hash tells."""
    sign(client, job)
    SignedPaper.objects.update(pdf=b"%PDF something else")
    assert client.get(f"/job/{job.key}/papers/signed/work-authorisation/1.pdf").status_code == 409
    assert "no longer has the hash" in client.get(f"/job/{job.key}/papers/signed/work-authorisation/1").content.decode()


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"strokes": ""}, "Sign with a finger in the box"),
        ({"strokes": "M1 1 L2 2<script>"}, "did not come whole"),
        ({"by": " "}, "Write the name of the person who signs"),
        ({"read": ""}, "read the whole paper"),
        ({"shown": "0" * 64}, "another than the one you were shown"),
    ],
)
def test_not_signed_says_why_and_keeps_what_was_typed(
    client: Client, job: KeptJob, more: dict[str, str], words: str
) -> None:
    """One sentence, nothing kept, the page again."""
    answer = sign(client, job, **more)
    assert answer.status_code == 422
    text = answer.content.decode()
    assert words in text
    assert "at the gate" in text
    assert not SignedPaper.objects.exists()


def test_a_typed_name_is_said_to_be_the_signature(client: Client, job: KeptJob) -> None:
    """Without a finger: the tick is part of what is declared."""
    assert sign(client, job, strokes="", typed="yes").status_code == 302
    assert SignedPaper.objects.get().statement.endswith("My typed name is my signature.")


def test_a_changed_job_asks_anew_and_shows_what_differs(client: Client, job: KeptJob) -> None:
    """The rate goes up: what was signed stays, the paper asks anew. A note elsewhere does not touch it."""
    sign(client, job)
    first = bytes(SignedPaper.objects.get().pdf)
    save(job, job.latest.number, [Edit(("job", "notes"), "gate code 4711")], "", "note")
    assert "changed since signed" not in client.get(f"/job/{job.key}/papers").content.decode()
    save(job, job.latest.number, [Edit(("rates", "crew_hour"), "190.00")], "", "rate")
    assert "changed since signed" in client.get(f"/job/{job.key}/papers").content.decode()
    text, _ = read_now(client, job)
    differs = text[text.index("What differs from version 1") : text.index("The paper, page by page")]
    assert "<strong>was</strong> Crew, an hour · $185.00" in differs
    assert "<strong>now</strong> Crew, an hour · $190.00" in differs
    sign(client, job)
    assert [row.version for row in SignedPaper.objects.all()] == [1, 2]
    assert bytes(SignedPaper.objects.get(version=1).pdf) == first


def test_changed_work_waits_for_photograph_and_signature(client: Client, job: KeptJob) -> None:
    """Said on the work page; stopping is never in the way; going on unsigned takes a reason and a name."""
    text = client.get(f"/job/{job.key}/work").content.decode()
    assert "Change 1 has no photograph" in text
    assert "The change order is not signed." in text
    assert client.post(f"/job/{job.key}/stop").status_code == 302
    assert sign(client, job, "change-order").status_code == 302
    assert "is not signed" not in client.get(f"/job/{job.key}/work").content.decode()
    save(job, job.latest.number, [Edit(("change", 0, "price"), "300.00")], "", "price")
    assert "signed anew" in client.get(f"/job/{job.key}/work").content.decode()
    refused = client.post(f"/job/{job.key}/go-on-unsigned", {"why": "", "by": "Ann"})
    assert refused.status_code == 422
    client.post(f"/job/{job.key}/go-on-unsigned", {"why": "roof is giving way", "by": "Ann"})
    text = client.get(f"/job/{job.key}/work").content.decode()
    assert "Changed work waits" not in text
    assert "roof is giving way" in text
    assert "WORK IS STOPPED" in text  # it is no leave to go on after a stop
    save(job, job.latest.number, [Edit(("change", 0, "price"), "400.00")], "", "price")
    assert "Changed work waits" in client.get(f"/job/{job.key}/work").content.decode()


def not_started(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """The folders of printers that were asked for, without one being started."""
    begun: list[Path] = []
    place = "bolewright.web.printing.subprocess.Popen"
    monkeypatch.setattr(place, lambda command, **_: begun.append(Path(command[-1])))
    return begun


def test_papers_are_made_as_a_run(client: Client, job: KeptJob, monkeypatch: pytest.MonkeyPatch) -> None:
    """Begun, told of, finished by the printer's own function, opened; a changed job has no papers until made anew."""
    begun = not_started(monkeypatch)
    client.post(f"/job/{job.key}/papers/make")
    assert "Making the papers: starting" in client.get(f"/job/{job.key}/papers").content.decode()
    assert printer.main(begun[0]) == 0
    text = client.get(f"/job/{job.key}/papers").content.decode()
    assert f"/job/{job.key}/papers/made/call-sheet.pdf" in text
    answer = client.get(f"/job/{job.key}/papers/made/call-sheet.pdf")
    assert b"".join(answer.streaming_content).startswith(b"%PDF")  # type: ignore[attr-defined]
    assert client.get(f"/job/{job.key}/papers/made/../job.toml").status_code == 404
    save(job, job.latest.number, [Edit(("job", "notes"), "changed")], "", "note")
    assert client.get(f"/job/{job.key}/papers/made/call-sheet.pdf").status_code == 404


def test_making_can_be_stopped(client: Client, job: KeptJob, monkeypatch: pytest.MonkeyPatch) -> None:
    """The printer asks before each paper; nothing half-made is left."""
    begun = not_started(monkeypatch)
    client.post(f"/job/{job.key}/papers/make")
    client.post(f"/job/{job.key}/papers/make", {"cancel": "1"})
    printer.main(begun[0])
    assert not (begun[0] / "made").exists()
    assert "stopped before it was done" in client.get(f"/job/{job.key}/papers").content.decode()


def test_the_printer_runs_in_a_process_of_its_own(client: Client, job: KeptJob) -> None:
    """As on a real machine."""
    client.post(f"/job/{job.key}/papers/make")
    for _ in range(300):
        if "papers/made/call-sheet.pdf" in client.get(f"/job/{job.key}/papers").content.decode():
            return
        time.sleep(0.2)
    pytest.fail("no papers came")


def test_photographs_and_log_of_the_sheet_come_into_the_papers(client: Client, kept: Callable[..., Any]) -> None:
    """What the sheet keeps stands in what papers are made from."""
    job = kept()
    client.post(f"/job/{job.key}/work/observe", {"kind": "other", "said": "the ridge creaks"})
    found = given_now(job)
    assert found is not None
    assert found.photos == ()
    assert [row.said for row in found.log] == ["Anything else: the ridge creaks"]
    assert {view.state for view in found.views} == {"missing"}
    assert found.price is not None
