"""Saving a job: append-only, undo, two people at once, versions kept aside; on whichever database is set."""

from __future__ import annotations

from typing import Any

import pytest

from bolewright.job.faults import JobFaults
from bolewright.store.edits import Edit
from bolewright.store.models import KeptJob, Revision
from bolewright.store.models.kept import WrittenOnce
from bolewright.store.revisions import conflicts_of, new_job, open_conflicts, restore, save, settle, tables, undo

pytestmark = pytest.mark.django_db
DOCUMENT: dict[str, Any] = {
    "schema": 1,
    "job": {"title": "Oak"},
    "tree": {"species": "red oak", "limb": [{"id": "L1", "at": "5 ft"}, {"id": "L2", "at": "9 ft"}]},
}


@pytest.fixture
def job() -> KeptJob:
    """A job with one revision."""
    return new_job(DOCUMENT, "A", "opened")


def put(job: KeptJob, base: int, field: str, value: str, by: str = "A", row: int = 0) -> Any:
    """Change one cell of a limb."""
    return save(job, base, [Edit(("tree", "limb", row, field), value)], by, f"{field}")


def limb(job: KeptJob, row: int = 0) -> dict[str, Any]:
    """A limb as saved now."""
    found: dict[str, Any] = tables(job.latest)["tree"]["limb"][row]
    return found


def test_every_change_is_a_revision_and_none_is_altered(job: KeptJob) -> None:
    """The old texts stand; altering or deleting one is refused."""
    texts = [job.latest.text]
    for n, length in enumerate(("10 ft", "11 ft", "12 ft"), start=1):
        put(job, n, "length", length)
        texts.append(job.latest.text)
    assert [r.text for r in job.revisions.all()] == texts
    assert [r.number for r in job.revisions.all()] == [1, 2, 3, 4]
    revision = job.latest
    revision.text = "schema = 1"
    for forbidden in (revision.save, revision.delete):
        with pytest.raises(WrittenOnce):
            forbidden()


def test_saving_what_stands_already_adds_nothing(job: KeptJob) -> None:
    """A cell left as it was is no change."""
    assert put(job, 1, "at", "5 ft").revision.number == 1


def test_undo_goes_back_step_by_step_and_forgets_nothing(job: KeptJob) -> None:
    """Undo of three changes, one by one, each a new revision; at the first there is nothing to undo."""
    for n, length in enumerate(("10 ft", "11 ft", "12 ft"), start=1):
        put(job, n, "length", length)
    seen = []
    while undo(job, "A") is not None:
        seen.append(limb(job).get("length"))
    assert seen == ["11 ft", "10 ft", None]
    assert job.latest.number == 7
    restore(job, 4, "A")
    assert limb(job)["length"] == "12 ft"


def test_undo_after_undo_and_a_new_change(job: KeptJob) -> None:
    """A change made after an undo is what the next undo takes back."""
    put(job, 1, "length", "10 ft")
    undo(job, "A")
    put(job, 3, "length", "20 ft")
    undo(job, "A")
    assert "length" not in limb(job)


def test_two_people_in_different_cells_lose_nothing(job: KeptJob) -> None:
    """Both worked on revision 1."""
    put(job, 1, "length", "18 ft", "A")
    second = put(job, 1, "clock", "3", "B")
    assert second.merged
    assert not second.conflicts
    assert limb(job) == {"id": "L1", "at": "5 ft", "length": "18 ft", "clock": "3"}


def test_two_people_in_the_same_cell_both_are_kept(job: KeptJob) -> None:
    """The first stands, the second is kept aside in full and can be chosen; choosing settles it."""
    put(job, 1, "at", "6 ft", "A")
    second = save(job, 1, [Edit(("tree", "limb", 0, "at"), "7 ft"), Edit(("tree", "limb", 1, "at"), "8 ft")], "B", "at")
    assert second.aside is not None
    assert limb(job)["at"] == "6 ft"
    assert limb(job, 1)["at"] == "8 ft"  # what did not meet was saved
    assert tables(second.aside)["tree"]["limb"][0]["at"] == "7 ft"
    ((aside, (conflict,)),) = open_conflicts(job)
    assert (conflict.before, conflict.saved, conflict.wanted) == ("5 ft", "6 ft", "7 ft")
    settle(job, aside, [0], "A")
    assert limb(job)["at"] == "7 ft"
    assert limb(job, 1)["at"] == "8 ft"
    assert open_conflicts(job) == []
    assert Revision.objects.filter(aside=True).count() == 1


def test_choosing_what_is_saved_changes_nothing(job: KeptJob) -> None:
    """And the other version stays on record."""
    put(job, 1, "at", "6 ft", "A")
    aside = put(job, 1, "at", "7 ft", "B").aside
    number = job.latest.number
    settle(job, aside, [], "A")
    assert job.latest.number == number
    assert open_conflicts(job) == []
    assert conflicts_of(job, aside)  # still told apart when somebody asks


def test_a_value_is_kept_as_typed(job: KeptJob) -> None:
    """Units, spreads, quotes, marks, another script, line breaks: what is read back is what was typed."""
    typed = ["14 ft 6 in ± 2 in", 'he said "hard"', "back\\slash", "Ä ö 木", "two\nlines", "tab\there", "\x7f", "🌳"]
    for n, value in enumerate(typed, start=1):
        put(job, n, "length", value)
        assert limb(job)["length"] == value


def test_what_cannot_be_kept_is_refused_and_what_stood_stands(job: KeptJob) -> None:
    """A document that would grow past all measure."""
    with pytest.raises(JobFaults, match="too large"):
        put(job, 1, "length", "x" * 1_100_000)
    assert job.latest.number == 1
