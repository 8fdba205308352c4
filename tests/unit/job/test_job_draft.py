"""A job still being filled in: what can be used is, what cannot is named, nothing that was typed is touched."""

from __future__ import annotations

import copy
from typing import Any

import pytest

from bolewright.job.draft import draft, place_of

WHOLE: dict[str, Any] = {
    "schema": 1,
    "job": {"title": "Oak"},
    "tree": {
        "species": "northern red oak",
        "attached": "free",
        "stem": [{"at": "0 ft", "diameter": "20 in"}, {"at": "30 ft", "diameter": "10 in"}],
        "limb": [
            {"id": "L1", "at": "9 ft", "clock": 3, "angle": "50 deg", "length": "8 ft", "diameter": "4 in"},
            {"id": "L2", "at": "12 ft", "clock": 9, "angle": "50 deg", "length": "8 ft", "diameter": "4 in"},
        ],
    },
    "support": [{"id": "S", "member": "L1", "at": "8 ft", "on": "ground"}],
}


def changed(*path: str | int, value: Any) -> dict[str, Any]:
    """The whole job with one value another; None takes it away."""
    document: Any = copy.deepcopy(WHOLE)
    here = document
    for part in path[:-1]:
        here = here[part]
    if value is None:
        del here[path[-1]]
    else:
        here[path[-1]] = value
    found: dict[str, Any] = document
    return found


def test_a_whole_job_is_used_whole() -> None:
    """Nothing left out, no fault."""
    found = draft(WHOLE)
    assert found.job is not None
    assert (found.faults, found.left_out) == ((), ())


@pytest.mark.parametrize(
    ("document", "left_out", "limbs"),
    [
        (changed("tree", "limb", 1, "length", value="eight"), ('tree.limb["L2"]',), ["L1"]),
        (changed("tree", "limb", 1, "length", value=None), ('tree.limb["L2"]',), ["L1"]),
        (changed("tree", "limb", 1, "clock", value=14), ('tree.limb["L2"]',), ["L1"]),
        (changed("tree", "limb", 1, "tip_diameter", value="thin"), ('tree.limb["L2"].tip_diameter',), ["L1", "L2"]),
        (changed("tree", "dbh", value="46"), ("tree.dbh",), ["L1", "L2"]),
        (changed("ground", value={"slope": "steep"}), ("ground.slope",), ["L1", "L2"]),
        (changed("tree", "stem", 1, "at", value="-1 ft"), ("tree.stem[1]",), None),
    ],
)
def test_only_what_cannot_be_read_is_left_out(document: dict[str, Any], left_out: tuple[str, ...], limbs: Any) -> None:
    """A row with something missing as a whole, a value that may be missing by itself; the document is not touched."""
    before = copy.deepcopy(document)
    found = draft(document)
    assert document == before
    assert set(left_out) <= set(found.left_out)
    assert found.faults
    if limbs is not None:
        assert found.job is not None
        assert [limb.id for limb in found.job.tree.limb] == limbs


def test_what_stands_on_a_row_left_out_is_left_out_too() -> None:
    """A support on a limb that cannot be read yet has nothing to carry."""
    found = draft(changed("tree", "limb", 0, "length", value="?"))
    assert found.job is not None
    assert found.job.support == ()
    assert any("L1" in fault.path for fault in found.faults)


@pytest.mark.parametrize(("key", "value"), [("gap", "a little"), ("limit", "much"), ("member", "L7"), ("feel", "soft")])
def test_a_support_is_never_taken_for_another(key: str, value: str) -> None:
    """With one value that cannot be read all of it is left out: not touching is not touching, a limit is a limit."""
    found = draft(changed("support", 0, key, value=value))
    assert found.job is not None
    assert found.job.support == ()
    assert 'support["S"]' in found.left_out


@pytest.mark.parametrize("key", ["species", "attached"])
def test_without_what_every_job_needs_there_is_no_answer_but_a_sentence(key: str) -> None:
    """And the path that is missing."""
    found = draft(changed("tree", key, value=None))
    assert found.job is None
    assert f"tree.{key}" in [fault.path for fault in found.faults]


@pytest.mark.parametrize("junk", [{}, {"schema": 1}, {"schema": 7}, {"tree": 3}, {"schema": 1, "job": [], "tree": {}}])
def test_junk_ends_in_sentences(junk: dict[str, Any]) -> None:
    """Never in an error of ours."""
    found = draft(junk)
    assert found.job is None
    assert all(fault.sentence for fault in found.faults)


def test_a_path_finds_its_place() -> None:
    """By id, by number, and no further than it can be followed."""
    assert place_of('tree.limb["L2"].length', WHOLE) == ("tree", "limb", 1, "length")
    assert place_of("tree.stem[1].at", WHOLE) == ("tree", "stem", 1, "at")
    assert place_of('tree.limb["L9"].length', WHOLE) == ("tree", "limb")
