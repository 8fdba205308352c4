"""What if: a change beside the job as it is, kept as a revision or dropped, and refused in words."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from django.test import Client

from bolewright.job.read import loads
from bolewright.job.syntax import tables_of
from bolewright.planning.holding.body import body_of
from bolewright.store.models import KeptJob
from bolewright.store.revisions import save, tables

pytestmark = pytest.mark.django_db
SMALL = Path(__file__).parent / "data" / "small-stem.toml"
PROP = {"what": "prop", "at": "12", "jacked": "150"}


@pytest.fixture
def job(kept: Any) -> KeptJob:
    """A small job."""
    found: KeptJob = kept(tables_of(SMALL.read_text(encoding="utf-8")))
    return found


def test_looking_changes_nothing(client: Client, job: KeptJob) -> None:
    """Both sides and the change stand in the page; no revision is made."""
    text = client.get(f"/job/{job.key}/what-if", PROP).content.decode()
    assert "a prop P1 under the stem at 12 ft, jacked to 150 lb" in text
    for words in ("On the building", "less", "Cuts inside your limits", "Keep it", "Drop it"):
        assert words in text
    assert job.revisions.count() == 1


def test_keeping_makes_a_revision_the_engine_reads(client: Client, job: KeptJob) -> None:
    """The prop is in the job with its units, and the log says where it came from."""
    answer = client.post(f"/job/{job.key}/what-if", {**PROP, "base": "1"})
    assert answer.status_code == 302
    assert job.latest.number == 2
    assert tables(job.latest)["prop"] == [{"id": "P1", "at": "12 ft", "jacked": "150 lb"}]
    assert "what if, kept" in job.latest.what
    assert loads(job.latest.text).prop[0].at.likely == pytest.approx(12 * 0.3048)


def test_a_moved_cut_leaves_the_other_cuts_of_its_member(client: Client, job: KeptJob) -> None:
    """Where cuts were found, moving one writes all of that member down; the others stay where they were."""
    before = body_of(loads(job.latest.text)).pieces
    moved = [p for p in before if p.member == "stem" and p.start > 0][-1]
    there = moved.start / 0.3048 - 0.5
    posted = {"what": "cut", "piece": moved.id, "at": f"{there:.2f}", "base": "1"}
    assert client.post(f"/job/{job.key}/what-if", posted).status_code == 302
    after = {p.id: p.start for p in body_of(loads(job.latest.text)).pieces}
    assert after[moved.id] == pytest.approx(moved.start - 0.5 * 0.3048, abs=0.002)
    for piece in before:
        if piece.id != moved.id:
            assert after[piece.id] == pytest.approx(piece.start, abs=0.001)


@pytest.mark.parametrize(("until", "row"), [("", {}), ("L2", {"until": "L2"})])
def test_a_piece_left_on(client: Client, job: KeptJob, until: str, row: dict[str, str]) -> None:
    """Never, or not before a limb is off."""
    posted = {"what": "leave", "piece": "L1", "until": until, "base": "1"}
    assert client.post(f"/job/{job.key}/what-if", posted).status_code == 302
    kept = tables(job.latest)["leave"][0]
    assert kept["member"] == "L1"
    assert {k: v for k, v in kept.items() if k == "until"} == row


def test_a_line(client: Client, job: KeptJob) -> None:
    """With its anchor as a table of its own."""
    line = {"what": "line", "kind": "tie-back", "at": "15", "forward": "15", "right": "-9", "height": "1"}
    assert client.post(f"/job/{job.key}/what-if", {**line, "base": "1"}).status_code == 302
    kept = loads(job.latest.text).line[0]
    assert kept.anchor.right.likely == pytest.approx(-9 * 0.3048)


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"what": "prop", "at": ""}, "Say where the prop is to stand."),
        ({"what": "prop", "at": "twelve"}, "cannot be read as a length"),
        ({"what": "prop", "at": "23"}, "no room on the ground"),
        ({"what": "prop", "at": "99"}, "beyond the end"),
        ({"what": "cut", "piece": "S99", "at": "3"}, "Choose the piece"),
        ({"what": "line", "kind": "spell", "at": "3"}, "Choose what the line is for."),
        ({"what": "leave", "piece": "L1", "until": "L1"}, "cannot wait for it"),
        ({"what": "teapot"}, "Choose what to change."),
    ],
)
def test_what_cannot_be_is_refused_in_words(client: Client, job: KeptJob, asked: dict[str, str], said: str) -> None:
    """Looked at or kept: one sentence, and nothing is changed."""
    assert said in client.get(f"/job/{job.key}/what-if", asked).content.decode()
    answer = client.post(f"/job/{job.key}/what-if", {**asked, "base": "1"})
    assert answer.status_code == 422
    assert said in answer.content.decode()
    assert job.revisions.count() == 1


def test_a_job_changed_meanwhile_is_looked_at_again(client: Client, job: KeptJob) -> None:
    """What was told was of another revision: nothing is kept, and it is told anew."""
    from bolewright.store.edits import Edit

    save(job, 1, [Edit(("tree", "limb", 0, "length"), "10 ft")], "Bob", "longer")
    answer = client.post(f"/job/{job.key}/what-if", {**PROP, "base": "1"})
    assert answer.status_code == 422
    assert "changed meanwhile" in answer.content.decode()
    assert "prop" not in tables(job.latest)


def test_without_supports_it_says_what_is_needed(client: Client, kept: Any) -> None:
    """No form that could not be answered."""
    text = client.get(f"/job/{kept({'schema': 1, 'job': {'title': 'Gap'}, 'tree': {}}).key}/what-if").content.decode()
    assert "Needed before a change can be tried" in text
