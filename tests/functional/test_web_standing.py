"""The pages of a standing tree: taps, tests, traces, judgement, papers, with gaps and without scripting."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from PIL import Image

from bolewright.job.syntax import tables_of
from bolewright.store.models import KeptJob
from bolewright.store.revisions import read_document, undo
from bolewright.web.stages import STANDING

PAGES = [*(s.name for s in STANDING), "lookback"]
BARE = {
    "schema": 1,
    "job": {"title": "Beech at the gate"},
    "tree": {"species": "American beech", "attached": "standing"},
}
TRACE = b"depth_mm,resistance\n" + b"".join(b"%d,%d\n" % (k, 60 if k < 90 else 8) for k in range(0, 200, 2))


@pytest.fixture
def beech(kept: Callable[..., Any], root: Path) -> KeptJob:
    """The standing example, with few samples."""
    document = tables_of((root / "examples" / "standing" / "lane-beech.toml").read_text(encoding="utf-8"))
    return kept({**document, "limits": {"samples": 32}})


@pytest.fixture
def poplar(kept: Callable[..., Any], root: Path) -> KeptJob:
    """The one that failed."""
    document = tables_of((root / "examples" / "standing" / "weir-poplar.toml").read_text(encoding="utf-8"))
    return kept({**document, "limits": {"samples": 32}}, units="metric")


def document_of(job: KeptJob) -> Any:
    """The document as saved now."""
    return read_document(job.latest.text)


@pytest.mark.parametrize("document", [BARE, {**BARE, "standing": {"height": "twelve"}}])
def test_every_page_with_gaps(client: Client, kept: Callable[..., Any], document: dict[str, Any]) -> None:
    """A tree of which nothing is known yet, or something unreadable, shows every page and says what is needed."""
    job = kept(document)
    for page in PAGES:
        answer = client.get(f"/job/{job.key}/{page}")
        assert answer.status_code == 200, page
        assert b"STOP WORK" not in answer.content
    assert b"Needed to say how it stands" in client.get(f"/job/{job.key}/wind").content
    assert client.get(f"/job/{job.key}/papers/standing/inspection.pdf").status_code == 404


def test_every_page_of_a_whole_tree(client: Client, beech: KeptJob, poplar: KeptJob) -> None:
    """Both examples on every page; the look back stands among the pages of the one that failed alone."""
    for job in (beech, poplar):
        for page in PAGES:
            assert client.get(f"/job/{job.key}/{page}").status_code == 200, page
    assert b"Look back" in client.get(f"/job/{poplar.key}/size").content
    assert b'class="n">9</span> Look back' not in client.get(f"/job/{beech.key}/size").content


def test_jobs_tell_standing_from_lying(
    client: Client, kept: Callable[..., Any], beech: KeptJob, poplar: KeptJob
) -> None:
    """Each row says which it is."""
    kept()
    page = client.get("/").content.decode()
    assert [page.count(f"<span>{kind};") for kind in ("standing tree", "tree that failed", "tree down")] == [1, 1, 1]


def test_one_tap_writes_it_down_and_another_corrects_it(client: Client, kept: Callable[..., Any]) -> None:
    """Could not see, then seen: one row; undo brings the first back; who and what are in the history."""
    job = kept(BARE)
    for state in ("could not see", "seen"):
        done = client.post(
            f"/job/{job.key}/seen/mark", {"base": job.latest.number, "mark": f"roots|root flare|{state}"}
        )
        assert done.status_code == 302
    assert document_of(job)["inspection"]["observation"] == [{"group": "roots", "what": "root flare", "state": "seen"}]
    assert job.latest.what == "root flare: seen"
    undo(job, "")
    assert document_of(job)["inspection"]["observation"][0]["state"] == "could not see"


def test_a_tap_with_scripting_brings_the_item_alone(client: Client, kept: Callable[..., Any]) -> None:
    """The item with its details to fill in, and the new revision for the next tap."""
    job = kept(BARE)
    tap = {"base": "1", "mark": "stem|conk|seen"}
    answer = client.post(f"/job/{job.key}/seen/mark", tap, HTTP_HX_REQUEST="true").content.decode()
    assert 'id="i-stem-conk"' in answer
    assert 'name="inspection/observation/0/side"' in answer
    assert 'id="base" value="2"' in answer


def test_a_tap_against_what_was_measured_is_told_at_the_item(client: Client, beech: KeptJob) -> None:
    """The beech leans 4 degrees: "lean: not seen" is kept as tapped, and said to contradict it."""
    tap = {"base": str(beech.latest.number), "mark": "stem|lean|not seen"}
    answer = client.post(f"/job/{beech.key}/seen/mark", tap, HTTP_HX_REQUEST="true").content.decode()
    assert 'id="i-stem-lean"' in answer
    assert "the tree is said to lean" in answer
    assert "the tree is said to lean" in client.get(f"/job/{beech.key}/seen").content.decode()


def test_two_people_tap_at_once(client: Client, kept: Callable[..., Any]) -> None:
    """Different things seen from the same page are both kept."""
    job = kept(BARE)
    for what in ("conk", "crack"):
        client.post(f"/job/{job.key}/seen/mark", {"base": "1", "mark": f"stem|{what}|seen"})
    assert {o["what"] for o in document_of(job)["inspection"]["observation"]} == {"conk", "crack"}


@pytest.mark.parametrize("tap", ["", "stem", "nowhere|x|seen", "stem|conk|maybe", "stem||seen", "a|b|c|d"])
def test_a_tap_that_makes_no_sense(client: Client, kept: Callable[..., Any], tap: str) -> None:
    """A sentence, and nothing changed."""
    job = kept(BARE)
    answer = client.post(f"/job/{job.key}/seen/mark", {"base": "1", "mark": tap})
    assert answer.status_code == 422
    assert job.latest.number == 1


def test_something_in_ones_own_words(client: Client, kept: Callable[..., Any]) -> None:
    """Group and words typed, state tapped; it stands on the page and in the report's order."""
    job = kept(BARE)
    own = {"base": "1", "group": "site", "what": "old well under the drip line", "mark": "could not see"}
    client.post(f"/job/{job.key}/seen/mark", own)
    assert b"old well under the drip line" in client.get(f"/job/{job.key}/seen").content


def test_a_drilled_ring_is_a_section(client: Client, beech: KeptJob) -> None:
    """A test begun with one tap, its readings typed by side; the units of plain numbers are those of the cells."""
    client.post(f"/job/{beech.key}/tests/add", {"kind": "drilling"})
    n = len(document_of(beech)["inspection"]["test"]) - 1
    cells = {"height": "8", "shells/N": "9", "shells/E": "9 in", "shells/S": "8", "shells/W": "7 1/2 in"}
    posted = {f"inspection/test/{n}/{key}": value for key, value in cells.items()}
    client.post(f"/job/{beech.key}/save/tests", {"base": beech.latest.number, **posted})
    test = document_of(beech)["inspection"]["test"][n]
    assert test["height"] == "8 ft"
    assert test["shells"]["N"] == "9 in"
    page = client.get(f"/job/{beech.key}/tests").content.decode()
    assert "Section at 8 ft above the ground" in page


def test_a_trace_from_a_file(client: Client, beech: KeptJob) -> None:
    """Kept line for line, read, and what it says told; a file that is none gets a sentence and is kept to be mended."""
    file = SimpleUploadedFile("north.csv", TRACE, "text/csv")
    client.post(f"/job/{beech.key}/tests/trace", {"file": file, "height": "6", "side": "N"})
    test = document_of(beech)["inspection"]["test"][-1]
    assert (test["kind"], test["height"], test["side"]) == ("drilling", "6 ft", "N")
    page = client.get(f"/job/{beech.key}/tests").content.decode()
    assert "a trace of 100 points" in page
    assert "resistance falls below 45%" in page
    assert client.post(f"/job/{beech.key}/tests/trace", {"height": "6"}).status_code == 422
    bad = SimpleUploadedFile("x.csv", b"hello\n1,2\n", "text/csv")
    client.post(f"/job/{beech.key}/tests/trace", {"file": bad, "height": "7", "side": "N"})
    assert b"The first line of a trace names its columns" in client.get(f"/job/{beech.key}/tests").content


def test_saving_a_page_unchanged_changes_nothing(client: Client, beech: KeptJob) -> None:
    """Without scripting the whole form is sent: lists with commas in them, dates and choices come back as they were."""
    before = document_of(beech)
    for page in ("seen", "tests", "wind", "judge", "papers", "size"):
        context = client.get(f"/job/{beech.key}/{page}").context
        cells = [cell for filled in context["sections"] for row in filled.rows for cell in row.cells]
        assert cells, page
        posted = {cell.name: cell.value for cell in cells}
        client.post(f"/job/{beech.key}/save/{page}", {"base": beech.latest.number, **posted})
        assert document_of(beech) == before, page


def test_judgement_is_the_assessors(client: Client, beech: KeptJob) -> None:
    """The words through the tables, and the margin beside them; a changed word changes the risk and no number."""
    first = client.get(f"/job/{beech.key}/judge").content.decode()
    assert "risk <strong>moderate</strong>" in first
    client.post(f"/job/{beech.key}/save/judge", {"base": beech.latest.number, "rating/failure": "imminent"})
    second = client.get(f"/job/{beech.key}/judge").content.decode()
    assert "risk <strong>extreme</strong>" in second
    computed = [page.split('class="answer"')[1].split("</dl>")[0] for page in (first, second)]
    assert computed[0] == computed[1]


def test_a_tree_that_failed_becomes_one_that_lies(client: Client, poplar: KeptJob, beech: KeptJob) -> None:
    """Sizes carried over into a job of its own; the record stays; without a failure a sentence says so."""
    done = client.post(f"/job/{poplar.key}/lookback/lie")
    lying = KeptJob.objects.exclude(pk__in=(poplar.pk, beech.pk)).get()
    assert done.headers["Location"] == f"/job/{lying.key}/measure"
    tree = document_of(lying)["tree"]
    assert tree["attached"] == "hinge"
    assert tree["species"] == "eastern cottonwood"
    assert lying.units == "metric"
    assert client.get(f"/job/{lying.key}/measure").status_code == 200
    assert poplar.latest.number == 1
    refused = client.post(f"/job/{beech.key}/lookback/lie")
    assert refused.status_code == 422
    assert "what gave way" in refused.content.decode()


def test_beside_an_earlier_record(client: Client, kept: Callable[..., Any], beech: KeptJob, poplar: KeptJob) -> None:
    """Records of a tree of the same kind are offered, others not; what cannot be worked out says so."""
    document = document_of(beech)
    later = kept({**document, "inspection": {**document["inspection"], "date": "2027-05-02"}})
    page = client.get(f"/job/{later.key}/papers").content.decode()
    assert f"/papers/standing/against/{beech.key}.pdf" in page
    assert poplar.key not in page
    assert client.get(f"/job/{later.key}/papers/standing/against/{beech.key}.pdf").content.startswith(b"%PDF-")
    bare = kept(BARE)
    assert client.get(f"/job/{later.key}/papers/standing/against/{bare.key}.pdf").status_code == 404


@pytest.mark.parametrize("name", ["inspection", "notice", "delivery-log", "cause"])
def test_papers_of_a_standing_tree(client: Client, beech: KeptJob, poplar: KeptJob, name: str) -> None:
    """Each opens as PDF; a cause only where something failed."""
    job = poplar if name == "cause" else beech
    answer = client.get(f"/job/{job.key}/papers/standing/{name}.pdf")
    assert answer.content.startswith(b"%PDF-")
    assert answer.headers["Content-Type"] == "application/pdf"
    assert client.get(f"/job/{beech.key}/papers/standing/cause.pdf").status_code == 404
    assert client.get(f"/job/{job.key}/papers/standing/fall-circle.svg").content.startswith(b"<svg")
    assert client.get(f"/job/{job.key}/papers/standing/nothing.svg").status_code == 404


def test_photographs_named_link_to_the_photographs(
    client: Client, beech: KeptJob, poplar: KeptJob, data: Path, settings: Any
) -> None:
    """On the page where they are named: the picture with its link, or that there is none of that number; in the paper
    too."""
    out = io.BytesIO()
    Image.new("RGB", (800, 600), (70, 120, 60)).save(out, "JPEG")
    client.post(f"/job/{beech.key}/photos/add", {"file": SimpleUploadedFile("a.jpg", out.getvalue(), "image/jpeg")})
    assert beech.photos.get().number == 1
    client.post(f"/job/{beech.key}/save/tests", {"base": beech.latest.number, "inspection/test/0/photo": "1, 44"})
    page = client.get(f"/job/{beech.key}/tests").content.decode()
    assert f"/job/{beech.key}/photos/1/copy" in page
    assert "in this job: 44 for mallet; 8 to 11 for low ring" in page
    pdf = client.get(f"/job/{beech.key}/papers/standing/inspection.pdf").content
    assert pdf.count(b"/Subtype/Image") + pdf.count(b"/Subtype /Image") == 1
    lost = client.get(f"/job/{poplar.key}/lookback").content.decode()
    assert "in this job: 5 and 6 for the break; 9 for disc from the break, 10 cm thick." in lost


def test_every_pair_on_the_page(client: Client, beech: KeptJob) -> None:
    """Each part and target with its risk, the worst named; what an option leaves of each."""
    page = client.get(f"/job/{beech.key}/judge").content.decode()
    assert "Part by part, target by target" in page
    assert "moderate, the worst" in page
    assert "limb on the lane: low" in page.replace("<strong>", "").replace("</strong>", "")
    wind = client.get(f"/job/{beech.key}/wind").content.decode()
    assert "The same tree in every season" in wind
    assert "in leaf, judged here" in wind
