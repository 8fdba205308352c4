"""A job shown to somebody outside: only what was chosen, only by a link that stands, nothing else reachable."""

from __future__ import annotations

import io
import re
from collections.abc import Sequence
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.db.migrations.executor import MigrationExecutor
from django.test import Client
from django.utils import timezone
from PIL import Image
from tests.functional.accounts import signed_in
from tests.functional.test_web_papers import TEXT, sign

from bolewright.job.syntax import tables_of
from bolewright.store.edits import Edit
from bolewright.store.models import KeptJob, Share, ShareOpening
from bolewright.store.revisions import new_job, save
from bolewright.store.tokens import token_hash
from bolewright.web.pages.common import data_folder

PAPERS_BEFORE = ["briefing", "elevation", "plan", "load"]  # what a link with papers showed before they were chosen
pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _accounts(settings: Any) -> None:
    settings.BOLEWRIGHT_ALONE = False


@pytest.fixture
def job(kept: Any) -> KeptJob:
    """The example, with a photograph that carries its place."""
    found: KeptJob = kept()
    picture, out = Image.new("RGB", (900, 700), "peru"), io.BytesIO()
    exif = picture.getexif()
    exif[0x8825] = {1: "N", 2: (41.0, 30.0, 0.0), 3: "W", 4: (81.0, 42.0, 0.0)}
    picture.save(out, "JPEG", exif=exif)
    sent = {"view": "butt", "file": SimpleUploadedFile("butt.jpg", out.getvalue())}
    assert signed_in("crew").post(f"/job/{found.key}/photos/add", sent).status_code == 302
    assert found.photos.get().place
    return found


def link(job: KeptJob, *parts: str, office: Client | None = None, label: str = "Harbor adjuster",
         papers: Sequence[str] = ()) -> str:  # fmt: skip
    """The path of a fresh link."""
    sent = {"label": label, "days": "7", **dict.fromkeys(parts, "1"), "paper": papers}
    answer = (office or signed_in("office")).post(f"/job/{job.key}/shares/make", sent)
    found = re.search(r'id="link">http://testserver(/shared/[\w-]{43})<', answer.content.decode())
    assert found is not None, answer.content
    return found[1]


def test_what_is_chosen_is_seen_and_nothing_else(job: KeptJob, client: Client) -> None:
    """Numbers, photographs and papers each by itself; the rest is refused like a link that never was."""
    office = signed_in("office")
    seen = {"numbers": "What was found", "photos": "<h2>Photographs", "papers": "<h2>Papers"}
    for part in seen:
        path = link(job, part, office=office, papers=["briefing"] if part == "papers" else [])
        page = client.get(path)
        assert page.status_code == 200
        text = page.content.decode()
        assert [name for name, words in seen.items() if words in text] == [part]
        assert ("On the building" in text) == (part == "numbers")
        assert client.get(f"{path}/photo/1").status_code == (200 if part == "photos" else 404)
        assert client.get(f"{path}/paper/briefing").status_code == 404  # no order of cuts yet
        for inside in (job.key, "/job/", "/people", "/sign-in", "csrf", "<form", "<script"):
            assert inside not in text, inside


def test_headers_keep_it_quiet(job: KeptJob, client: Client) -> None:
    """No search engine, no referrer, nothing kept, no cookie; on pages, pictures and refusals alike."""
    path = link(job, "numbers", "photos")
    for place in (path, f"{path}/photo/1", "/shared/made-up", f"{path}/photo/2"):
        answer = client.get(place)
        assert answer.headers["Referrer-Policy"] == "no-referrer"
        assert answer.headers["X-Robots-Tag"] == "noindex, nofollow"
        assert "no-store" in answer.headers["Cache-Control"]
        assert not answer.cookies
    assert b"noindex" in client.get(path).content
    assert b"Disallow: /\n" in client.get("/robots.txt").content


def test_the_copy_says_no_place(job: KeptJob, client: Client) -> None:
    """What the camera wrote stays inside."""
    path = link(job, "photos")
    sent = b"".join(client.get(f"{path}/photo/1").streaming_content)  # type: ignore[arg-type]
    with Image.open(io.BytesIO(sent)) as picture:
        assert not dict(picture.getexif())
    place = job.photos.get().place
    assert place not in client.get(path).content.decode()


def test_nothing_else_opens_to_somebody_with_a_link(job: KeptJob, kept: Any, client: Client) -> None:
    """The link is no session: the job's pages, other jobs, originals and everything that changes are shut."""
    other = kept()
    client.get(link(job, "numbers", "photos", papers=PAPERS_BEFORE))
    for place in (
        "/",
        f"/job/{job.key}/call",
        f"/job/{other.key}/call",
        f"/job/{job.key}/photos/1/original",
        "/people",
    ):
        assert client.get(place).status_code == 401
    assert client.post(f"/job/{job.key}/stop").status_code == 401


def test_a_link_ends(job: KeptJob, client: Client) -> None:
    """Revoked by hand or expired: page, picture and paper are gone at once; others stand."""
    office = signed_in("office")
    one, two, three = (link(job, "numbers", "photos", office=office, label=f"number {n}") for n in range(3))
    share = Share.objects.get(label="number 0")
    office.post(f"/job/{job.key}/shares/{share.pk}/revoke")
    Share.objects.filter(label="number 1").update(expires_at=timezone.now() - timedelta(seconds=1))
    for gone in (one, two):
        assert client.get(gone).status_code == client.get(f"{gone}/photo/1").status_code == 404
    assert client.get(three).status_code == 200
    text = office.get(f"/job/{job.key}/shares").content.decode()
    assert [text.count(f">{state}<") for state in ("open", "revoked", "expired")] == [1, 1, 1]
    assert "by Office Field" in text


def test_openings_are_written_down(job: KeptJob, client: Client) -> None:
    """With time, place and program, and shown to the office; the secret itself is nowhere in the database."""
    office = signed_in("office")
    path = link(job, "numbers", office=office)
    assert "Never opened" in office.get(f"/job/{job.key}/shares").content.decode()
    for _ in range(3):
        client.get(path, headers={"User-Agent": "reading lamp"})
    assert [(o.what, o.program, o.address) for o in ShareOpening.objects.all()] == [
        ("the page", "reading lamp", "127.0.0.1")
    ]
    ShareOpening.objects.update(at=timezone.now() - timedelta(minutes=2))
    client.get(path, headers={"User-Agent": "reading lamp"})
    text = office.get(f"/job/{job.key}/shares").content.decode()
    assert "Opened 2 times" in text
    assert "reading lamp" in text
    token = path.rsplit("/", 1)[1]
    assert token not in text
    assert Share.objects.get().digest == token_hash(token)


@pytest.mark.parametrize(
    "sent",
    [{"label": "", "photos": "1", "paper": "invoice"}, {"label": "adjuster"}, {"label": "x", "paper": "made-up"}],
)
def test_a_link_for_nobody_or_nothing_is_refused(job: KeptJob, sent: dict[str, str]) -> None:
    """In words, no link is made, and the form stands as it was sent."""
    answer = signed_in("office").post(f"/job/{job.key}/shares/make", {**sent, "days": "30"})
    assert answer.status_code == 422
    assert not Share.objects.exists()
    text = answer.content.decode()
    ticked = re.findall(r'type="checkbox" name="(\w+)" value="([\w-]+)" checked', text)
    assert ticked == ([("photos", "1"), ("paper", "invoice")] if "photos" in sent else [])
    assert f'name="label" value="{sent["label"]}"' in text
    assert '<option value="30" selected>' in text


def test_only_the_jobs_own_links_are_revoked_there(job: KeptJob, kept: Any) -> None:
    """A number of another job's link is not there."""
    office = signed_in("office")
    path = link(job, "numbers", office=office)
    assert office.post(f"/job/{kept().key}/shares/{Share.objects.get().pk}/revoke").status_code == 404
    assert Client().get(path).status_code == 200


def test_papers_by_link(kept: Any, client: Client, root: Path) -> None:
    """Once there is an order, the briefing and drawings come out, the very ones of the job's own page."""
    import json

    from bolewright.store.answers import keep_answer
    from bolewright.web import worker

    small = (root / "tests" / "functional" / "data" / "small-stem.toml").read_text(encoding="utf-8")
    job = kept(tables_of(small))
    folder = data_folder() / "run"
    folder.mkdir()
    (folder / "job.toml").write_text(job.latest.text, encoding="utf-8")
    assert worker.main(folder) == 0
    answer = json.loads((folder / "answer.json").read_text(encoding="utf-8"))["text"]
    keep_answer(job, 1, job.latest.text, answer, 1.0)
    office = signed_in("office")
    path = link(job, office=office, papers=PAPERS_BEFORE)
    text = client.get(path).content.decode()
    places = re.findall(r'href="(/shared/[^"]+)"', text)
    assert [place.rsplit("/", 1)[1] for place in places] == PAPERS_BEFORE
    assert "as the job stands now, revision 1" in text
    for place in places:
        found = client.get(place)
        assert found.status_code == 200
        assert "no-store" in found.headers["Cache-Control"]
    own = office.get(f"/job/{job.key}/papers/elevation.svg").content
    assert client.get(f"{path}/paper/elevation").content == own
    for other in ("other", "holding", "call-sheet"):  # made up, and not chosen
        assert client.get(f"{path}/paper/{other}").status_code == 404
    everything = client.get(link(job, "numbers", office=office)).content.decode()
    assert "The order of work" in everything


def test_papers_are_chosen_one_by_one(job: KeptJob, client: Client) -> None:
    """None with prices, of the crew or with a camera's place is chosen unasked; a chosen one comes out once it can."""
    office = signed_in("office")
    text = office.get(f"/job/{job.key}/shares").content.decode()
    ticked = re.findall(r'name="paper" value="([\w-]+)" checked', text)
    assert ticked == ["completion", "holding", "elevation", "plan", "load"]
    offered = re.findall(r'name="paper" value="([\w-]+)"', text)
    left_out = set(offered) - set(ticked)
    assert {"call-sheet", "work-authorisation", "estimate", "insurer-pack", "daily-log", "photo-log"} <= left_out
    path = link(job, office=office, papers=["photo-log", "briefing", "daily-log"])
    text = client.get(path).content.decode()
    assert re.findall(r"/paper/([\w-]+)", text) == ["daily-log", "photo-log"]  # no order of cuts yet
    log = client.get(f"{path}/paper/photo-log")
    assert (log["Content-Type"], log.content[:5]) == ("application/pdf", b"%PDF-")
    assert b"/Subtype/Image" in log.content  # with its pictures, as the office prints it
    for place in (f"{path}/paper/briefing", f"{path}/paper/completion"):
        assert client.get(place).status_code == 404
    assert [o.what for o in ShareOpening.objects.all()] == ["paper: photo-log", "the page"]


def test_the_signed_copy_is_the_one_shown(data: Path, client: Client) -> None:
    """Byte for byte, with name and date, whatever the job says by now; held back once it is not what was signed."""
    office = signed_in("office")
    job = new_job(tables_of(TEXT), "tester", "put in")
    path = link(job, office=office, papers=["work-authorisation"])
    assert "Not signed: as the job stands now, revision 1" in client.get(path).content.decode()
    assert sign(office, job).status_code == 302
    row = job.signed.get()
    save(job, 1, [Edit(("rates", "crew_hour"), "190.00")], "tester", "changed")
    page = client.get(path).content.decode()
    assert f"As signed by D. Okafor on {row.signed_at:%Y-%m-%d %H:%M} UTC, version 1" in page
    assert client.get(f"{path}/paper/work-authorisation").content == bytes(row.pdf)
    assert "Shown as signed on" in office.get(f"/job/{job.key}/shares").content.decode()
    type(row).objects.filter(pk=row.pk).update(pdf=b"%PDF- another")
    assert "it is not given out" in client.get(path).content.decode()
    assert client.get(f"{path}/paper/work-authorisation").status_code == 404


def test_what_was_drawn_is_seen_with_its_words(job: KeptJob, client: Client) -> None:
    """The copy with its marks before the plain one, their words as text; only by a link that shows photographs."""
    office = signed_in("office")
    sent = {"kind": "arrow", "x1": "10", "y1": "10", "x2": "50", "y2": "50", "words": "gutter torn off", "draw": "1"}
    assert office.post(f"/job/{job.key}/photos/1/marks", sent).status_code == 302
    path = link(job, "photos", office=office)
    text = client.get(path).content.decode()
    assert re.findall(r'<img[^>]+src="([^"]+)"', text) == [f"{path}/photo/1/marked.svg", f"{path}/photo/1"]
    assert "<li>arrow: gutter torn off, Office Field, " in text
    drawn = client.get(f"{path}/photo/1/marked.svg")
    assert drawn["Content-Type"] == "image/svg+xml"
    assert "no-store" in drawn["Cache-Control"]
    assert "gutter torn off" in drawn.content.decode()
    assert client.get(f"{link(job, 'numbers', office=office)}/photo/1/marked.svg").status_code == 404
    for copy in (data_folder() / "photograph-copies").rglob("*.jpg"):
        copy.unlink()
    for gone in (f"{path}/photo/1/marked.svg", f"{path}/photo/1"):
        assert client.get(gone).status_code == 404


def test_a_standing_tree_by_link(kept: Any, client: Client, root: Path) -> None:
    """How it stands, and the papers of such a tree; the notice is for its owner, so it is not chosen unasked."""
    document = tables_of((root / "examples" / "standing" / "lane-beech.toml").read_text(encoding="utf-8"))
    job = kept({**document, "limits": {"samples": 32}})
    office = signed_in("office")
    form = office.get(f"/job/{job.key}/shares").content.decode()
    assert re.findall(r'name="paper" value="([\w-]+)" checked', form) == ["inspection", "cause"]
    path = link(job, "numbers", office=office, papers=["notice", "cause"])
    text = client.get(path).content.decode()
    assert "of the samples" in text
    assert re.findall(r"/paper/([\w-]+)", text) == ["notice"]  # it has not failed
    assert client.get(f"{path}/paper/notice").content.startswith(b"%PDF-")


@pytest.mark.django_db(transaction=True)
def test_links_made_before_go_on_showing_what_they_showed(kept: Any) -> None:
    """The store brought up to date: four papers where papers were shown, none where they were not."""
    job = kept()
    executor = MigrationExecutor(connection)
    executor.migrate([("store", "0006_mark_tap")])
    old = executor.loader.project_state([("store", "0006_mark_tap")]).apps.get_model("store", "Share")
    for n, papers in enumerate((True, False)):
        old.objects.create(job_id=job.pk, label=f"{n}", papers=papers, digest=f"{n}", expires_at=timezone.now())
    executor = MigrationExecutor(connection)
    executor.migrate(executor.loader.graph.leaf_nodes())
    assert [share.paper_names for share in Share.objects.order_by("label")] == [PAPERS_BEFORE, []]
