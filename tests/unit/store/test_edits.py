"""Two people's changes of one document: what can be put together is, what cannot is told; nothing is lost."""

from __future__ import annotations

import copy
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from bolewright.store.edits import Edit, applied, at, carried_over, changes, same_rows

BASE: dict[str, Any] = {
    "schema": 1,
    "job": {"title": "A", "crew": ["x", "y"]},
    "tree": {
        "species": "red oak",
        "stem": [{"at": "0 ft", "diameter": "30 in"}, {"at": "20 ft", "diameter": "20 in"}],
        "limb": [{"id": "L1", "at": "5 ft"}, {"id": "L2", "at": "9 ft"}, {"id": "L3", "at": "12 ft"}],
    },
}


def test_an_edit_leaves_the_document_it_was_made_on_alone() -> None:
    """Append-only starts here."""
    before = copy.deepcopy(BASE)
    after = applied(BASE, [Edit(("tree", "limb", 1, "at"), "10 ft"), Edit(("tree", "stem", 2, "at"), "30 ft")])
    assert before == BASE
    assert after["tree"]["limb"][1] == {"id": "L2", "at": "10 ft"}
    assert after["tree"]["stem"][2] == {"at": "30 ft"}


def test_rows_are_taken_away_and_empty_rows_go() -> None:
    """Two at once, and one whose last field was cleared."""
    edits = [Edit(("tree", "limb", 0)), Edit(("tree", "limb", 2)), Edit(("tree", "limb", 1, "id"))]
    assert applied(BASE, edits)["tree"]["limb"] == [{"at": "9 ft"}]
    cleared = applied(BASE, [Edit(("tree", "stem", 0, "at")), Edit(("tree", "stem", 0, "diameter"))])
    assert cleared["tree"]["stem"] == BASE["tree"]["stem"][1:]


def test_different_cells_are_put_together() -> None:
    """One types a length, the other a clock of the same limb."""
    saved = applied(BASE, [Edit(("tree", "limb", 1, "clock"), 3)])
    fine, conflicts = carried_over(BASE, saved, [Edit(("tree", "limb", 1, "length"), "18 ft")])
    assert not conflicts
    assert applied(saved, fine)["tree"]["limb"][1] == {"id": "L2", "at": "9 ft", "clock": 3, "length": "18 ft"}


def test_a_row_keeps_its_name_when_others_come_and_go() -> None:
    """L3 is found though L1 was taken away and L0 put in front."""
    saved = copy.deepcopy(BASE)
    saved["tree"]["limb"] = [{"id": "L0", "at": "1 ft"}, {"id": "L2", "at": "9 ft"}, {"id": "L3", "at": "12 ft"}]
    fine, conflicts = carried_over(BASE, saved, [Edit(("tree", "limb", 2, "length"), "7 ft")])
    assert not conflicts
    assert applied(saved, fine)["tree"]["limb"][2] == {"id": "L3", "at": "12 ft", "length": "7 ft"}


def test_new_rows_of_both_are_kept() -> None:
    """Each adds a station: both stand."""
    saved = applied(BASE, [Edit(("tree", "stem", 2, "at"), "25 ft"), Edit(("tree", "stem", 2, "diameter"), "15 in")])
    fine, conflicts = carried_over(BASE, saved, [Edit(("tree", "stem", 2, "at"), "30 ft")])
    assert not conflicts
    assert [row["at"] for row in applied(saved, fine)["tree"]["stem"]] == ["0 ft", "20 ft", "25 ft", "30 ft"]


def test_the_same_cell_meets() -> None:
    """Both changed one cell: nothing is overwritten, and both values are told with the one before."""
    saved = applied(BASE, [Edit(("tree", "limb", 0, "at"), "6 ft")])
    fine, (conflict,) = carried_over(BASE, saved, [Edit(("tree", "limb", 0, "at"), "7 ft")])
    assert not fine
    assert (conflict.before, conflict.saved, conflict.wanted) == ("5 ft", "6 ft", "7 ft")
    assert at(applied(saved, conflict.mine), ("tree", "limb", 0, "at")) == "7 ft"
    assert carried_over(BASE, saved, [Edit(("tree", "limb", 0, "at"), "6 ft")]) == ([], [])


def test_a_change_of_a_row_somebody_took_away_can_be_brought_back() -> None:
    """Mine brings the whole row back, changed."""
    saved = applied(BASE, [Edit(("tree", "limb", 1)), Edit(("tree", "limb", 0, "at"), "5 ft 1 in")])
    fine, (conflict,) = carried_over(BASE, saved, [Edit(("tree", "limb", 1, "at"), "8 ft")])
    assert not fine
    assert conflict.saved is None
    assert applied(saved, conflict.mine)["tree"]["limb"][-1] == {"id": "L2", "at": "8 ft"}


def test_taking_away_a_row_somebody_changed_meets() -> None:
    """A limb somebody just measured is not taken away unseen."""
    saved = applied(BASE, [Edit(("tree", "limb", 1, "length"), "18 ft")])
    fine, conflicts = carried_over(BASE, saved, [Edit(("tree", "limb", 1))])
    assert not fine
    assert len(conflicts) == 1


CELLS = st.sampled_from(["1 ft", "2 ft", "3 ft"])
ROWS = st.lists(
    st.builds(
        lambda n, a, d: {"id": f"L{n}", "at": a, **({"diameter": d} if d else {})},
        st.integers(1, 6), CELLS, st.one_of(st.none(), CELLS),
    ),
    max_size=5, unique_by=lambda row: row["id"],
)  # fmt: skip
DOCUMENTS = st.builds(
    lambda rows, title: {"schema": 1, "job": {"title": title}, "tree": {"on": "x", **({"limb": rows} if rows else {})}},
    ROWS, st.sampled_from("ab"),
)  # fmt: skip


def unordered(document: dict[str, Any]) -> Any:
    """A document with its rows in no order: merging may put new rows last."""
    rows = sorted(document["tree"].get("limb", []), key=lambda row: row["id"])
    return {**document, "tree": {**document["tree"], "limb": rows}}


@given(DOCUMENTS, DOCUMENTS)
def test_the_changes_between_two_documents_make_one_into_the_other(
    before: dict[str, Any], after: dict[str, Any]
) -> None:
    """For any two."""
    assert unordered(applied(before, changes(before, after))) == unordered(after)


@given(DOCUMENTS, DOCUMENTS, DOCUMENTS)
def test_every_change_is_either_made_or_told(base: dict[str, Any], saved: dict[str, Any], mine: dict[str, Any]) -> None:
    """Nothing that either changed goes unsaid: without a conflict the result has both; a conflict names its place."""
    fine, conflicts = carried_over(base, saved, changes(base, mine))
    merged = applied(saved, fine)
    if saved == base:
        assert not conflicts
        assert unordered(merged) == unordered(mine)
    if not conflicts:
        _, left = carried_over(base, merged, changes(base, mine))
        assert not left
        new_ids = {row["id"] for row in mine["tree"].get("limb", [])} - {r["id"] for r in base["tree"].get("limb", [])}
        assert new_ids <= {row["id"] for row in merged["tree"].get("limb", [])}
    for conflict in conflicts:
        assert conflict.saved != conflict.wanted


def test_rows_without_a_name_are_known_by_where_they_stand() -> None:
    """Stations by their distance, and what is left over by its place."""
    before = [{"at": "0 ft"}, {"at": "10 ft", "diameter": "9 in"}, {"at": "20 ft"}]
    after = [{"at": "0 ft"}, {"at": "20 ft", "diameter": "5 in"}, {"at": "11 ft", "diameter": "9 in"}]
    assert same_rows(before, after) == {0: 0, 2: 1, 1: 2}
