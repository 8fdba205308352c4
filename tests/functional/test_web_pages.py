"""Every page of every stage answers, with a whole job, with gaps, and with nothing but a title."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from django.contrib.staticfiles import finders
from django.test import Client

from bolewright.job.syntax import tables_of
from bolewright.reference.examples import examples, standing_examples
from bolewright.store.models import KeptJob
from bolewright.store.revisions import new_job
from bolewright.web.first import load_examples
from bolewright.web.stages import STAGES

pytestmark = pytest.mark.django_db
PAGES = [s.name for s in STAGES] + ["history", "papers/sheet-blank", "papers/sheet-filled", "stopped", "drawing.svg"]
PAGES += ["solid"]


@pytest.fixture(autouse=True)
def _folder(settings: Any, tmp_path: Path) -> None:
    settings.BOLEWRIGHT_DATA = tmp_path


def example_job() -> KeptJob:
    """The first shipped example, kept as a job."""
    name, place = next(iter(examples().items()))
    return new_job(tables_of(place.read_text(encoding="utf-8")), "tester", "put in", example=name)


@pytest.mark.parametrize("page", PAGES)
def test_every_page_of_a_whole_job(client: Client, page: str) -> None:
    """All answer, none is kept by the browser."""
    job = example_job()
    answer = client.get(f"/job/{job.key}/{page}")
    assert answer.status_code == 200
    assert "default-src 'self'" in answer.headers["Content-Security-Policy"]
    assert "no-store" in answer.headers.get("Cache-Control", "") or page == "drawing.svg"


@pytest.mark.parametrize("page", PAGES)
@pytest.mark.parametrize(
    "tree", [{}, {"species": "red oak"}, {"species": "red oak", "attached": "free", "stem": [{"at": "0 ft"}]}]
)
def test_every_page_with_gaps(client: Client, page: str, tree: dict[str, Any]) -> None:
    """A job that has only just been opened shows every page; no page needs what is not there yet."""
    job = new_job({"schema": 1, "job": {"title": "Call from Elm Street"}, "tree": tree}, "", "opened")
    assert client.get(f"/job/{job.key}/{page}").status_code == 200


def test_first_run_has_the_examples_once(client: Client) -> None:
    """As many jobs as examples; a second start adds none; a store in use gets none."""
    count = len(examples()) + len(standing_examples())
    assert load_examples() == count == KeptJob.objects.count()
    assert load_examples() == 0
    assert client.get("/").content.count(b"example, invented data") == count


def test_holding_says_what_is_missing(client: Client) -> None:
    """Stations without heights and supports: the weight, and what is needed for the rest, in words."""
    stem = [{"at": "0 ft", "diameter": "20 in"}, {"at": "30 ft", "diameter": "10 in"}]
    tree = {"species": "northern red oak", "attached": "free", "stem": stem}
    job = new_job({"schema": 1, "job": {"title": "Gap"}, "tree": tree}, "", "opened")
    text = client.get(f"/job/{job.key}/holding").content.decode()
    assert "Needed to say what holds it" in text
    assert "rest on" in text
    assert "Weighed" in text


def test_without_its_bundle_the_3d_page_says_so(
    client: Client, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """No script is asked for; the flat drawing and the tables stand; the file can still be had."""
    monkeypatch.setattr("bolewright.web.pages.solid.BUNDLE", tmp_path / "none")
    job = example_job()
    text = client.get(f"/job/{job.key}/solid").content.decode()
    assert "The 3D view is not here" in text
    assert "solid.js" not in text
    assert "<svg" in text
    assert "Bottom bind" in text
    assert client.get(f"/job/{job.key}/solid.glb").content[:4] == b"glTF"


def test_first_page_is_small_and_knows_nothing_of_the_bundle(client: Client) -> None:
    """Page, style, scripts: under 300 kB together, before packing."""
    load_examples()
    page = client.get("/").content.decode()
    names = re.findall(r'(?:href|src)="/static/([^"]+)"', page)
    assert any("htmx" in name for name in names)
    assert not any("solid" in name for name in names)
    found = [finders.find(name) for name in names]
    assert all(found)
    assert len(page) + sum(Path(str(place)).stat().st_size for place in found) < 300_000


def test_unknown_places_are_told_plainly(client: Client) -> None:
    """A job or page that is not there: a page in words, status 404."""
    for place in ("/job/none/call", "/nowhere", f"/job/{example_job().key}/papers/briefing.pdf"):
        answer = client.get(place)
        assert answer.status_code == 404
        assert b"Traceback" not in answer.content


def test_the_stop_stands_where_something_of_a_job_is_refused(client: Client) -> None:
    """On what is not here within a job and on what it refuses; not where no work could be stopped."""
    job = example_job()
    stop = f'action="/job/{job.key}/stop"'
    for answer in (
        client.get(f"/job/{job.key}/photos/999"),
        client.post(f"/job/{job.key}/save/measure", {"tree/species": "oak"}),
    ):
        assert answer.status_code >= 400
        assert stop in answer.content.decode()
    assert "STOP WORK" not in client.get("/job/nobody/measure").content.decode()
    assert "STOP WORK" not in client.get("/nowhere").content.decode()
    place = next(iter(standing_examples().values()))
    standing = new_job(tables_of(place.read_text(encoding="utf-8")), "tester", "put in")
    assert "STOP WORK" not in client.get(f"/job/{standing.key}/photos/999").content.decode()


def test_out_needs_a_way_and_then_answers(client: Client) -> None:
    """Without a stretch it says what is needed; with the example's way there are trips and hours."""
    job = new_job({"schema": 1, "job": {"title": "Gap"}, "tree": {"species": "oak"}}, "", "opened")
    assert b"enter one stretch of the way" in client.get(f"/job/{job.key}/out").content
    page = client.get(f"/job/{example_job().key}/out").content.decode()
    assert "inside the limits set" in page.lower()
    assert "Hours of the crew" in page
    assert page.count('<figure class="drawing"') == 2
    assert "The way unrolled" in page
    assert "Who does what when" in page


def test_job_file_in_and_out(client: Client) -> None:
    """What goes out and comes in again is the same job."""
    job = example_job()
    given = client.get(f"/job/{job.key}/job.toml")
    from django.core.files.uploadedfile import SimpleUploadedFile

    client.post("/take-in", {"file": SimpleUploadedFile("job.toml", given.content)})
    newest = KeptJob.objects.first()
    assert newest is not None
    assert newest.pk != job.pk
    assert newest.latest.text == job.latest.text


@pytest.mark.parametrize("content", [b"", b"\x00\x01", b"title =", b"\xff\xfe\x00"])
def test_a_file_that_is_no_job_is_refused_in_words(client: Client, content: bytes) -> None:
    """No job is made of it."""
    from django.core.files.uploadedfile import SimpleUploadedFile

    answer = client.post("/take-in", {"file": SimpleUploadedFile("x.toml", content)})
    assert answer.status_code == 422
    assert not KeptJob.objects.exists()


def test_names_and_texts_are_never_markup(client: Client) -> None:
    """What is typed comes back escaped, in pages and in drawings."""
    nasty = "<script>alert(1)</script>"
    document = tables_of(next(iter(examples().values())).read_text(encoding="utf-8"))
    document["job"]["title"] = nasty
    job = new_job(document, nasty, "put in")
    for page in ("call", "measure", "holding", "cuts", "history", "papers/sheet-filled"):
        assert nasty.encode() not in client.get(f"/job/{job.key}/{page}").content


@pytest.mark.parametrize("number", ["²", "9" * 5000, "-1", ""])
def test_numbers_nobody_types_break_no_form(client: Client, number: str) -> None:
    """A superscript is a digit to Python and no whole number; thousands of digits are too many to read."""
    job = new_job({"schema": 1, "job": {"title": "small"}}, "tester", "put in")
    for place, fields in (
        ("history/back", ("number",)),
        ("shares/make", ("days",)),
        ("photos/shows", ("number",)),
        ("work/tick", ("answer", "step")),
        ("save/measure", ("base", f"tree/stem/{number[:400]}/at")),
        ("go-on", ("stop",)),
        ("seen/mark", ("base",)),
    ):
        assert client.post(f"/job/{job.key}/{place}", dict.fromkeys(fields, number)).status_code < 500, place
    assert client.post("/people/invite", {"role": "crew", "days": number}).status_code == 200
    assert job.revisions.count() == 1
