"""What is missing for a question, and what is filled in."""

from __future__ import annotations

import pytest

from bolewright.job.defaults import filled_in
from bolewright.job.problems import Question, missing
from bolewright.job.read import loads

BARE = """
schema = 1
[job]
title = "x"
[tree]
species = "oak"
attached = "free"
"""
STEM = """
[[tree.stem]]
at = "0 ft"
diameter = "20 in"
[[tree.stem]]
at = "30 ft"
diameter = "10 in"
"""


def needed(text: str, question: Question) -> set[str]:
    """Paths without which there is no answer."""
    return {item.path for item in missing(loads(text), question) if item.needed}


def test_a_bare_job_lacks_stem_and_supports() -> None:
    """Size for the weight; somewhere to rest for the rest."""
    assert needed(BARE, "weigh") == {"tree.stem"}
    assert needed(BARE, "hold") == {"tree.stem", "support"}
    assert needed(BARE, "cuts") == {"tree.stem", "support"}
    assert needed(BARE + STEM, "weigh") == set()


def test_a_standing_tree_rests_on_its_roots() -> None:
    """No support is asked for where the butt holds."""
    assert needed(BARE.replace("free", "standing") + STEM, "hold") == set()


def test_a_stem_on_a_roof_needs_heights() -> None:
    """Without any it would lie on the ground; with a limb on the roof it may."""
    roof = '[[support]]\nid = "a"\nat = "20 ft"\non = "roof"\n'
    assert needed(BARE + STEM + roof, "hold") == {"tree.stem[*].height"}
    ground = roof.replace("roof", "ground")
    assert needed(BARE + STEM + ground, "hold") == set()
    measured = STEM.replace('"10 in"', '"10 in"\nheight = "9 ft"')
    assert needed(BARE + measured + roof, "hold") == set()


def test_what_is_needed_comes_first() -> None:
    """And every sentence is one a person can read."""
    items = missing(loads(BARE), "cuts")
    assert [item.needed for item in items] == sorted((item.needed for item in items), reverse=True)
    assert all(item.sentence.endswith(".") and item.path for item in items)


def test_a_full_job_lacks_little(full: str) -> None:
    """Only what it truly leaves out."""
    paths = {item.path for item in missing(loads(full), "cuts")}
    without = {"tree.limb[*].tip_diameter", "tree.limb[*].foliage", "support[*].friction", "support[*].feel"}
    assert paths == without


def test_filled_in_values_are_listed_until_they_are_given(full: str) -> None:
    """Each default is named with its status; a value given is not."""
    paths = {filled.path for filled in filled_in(loads(BARE + STEM))}
    assert {"handling.hand", "handling.line", "limits.share", "limits.movement"} <= paths
    assert {filled.path for filled in filled_in(loads(full))} == {"tree.limb[*].foliage"}
    assert {filled.status for filled in filled_in(loads(BARE))} == {"common practice"}


def test_an_unknown_question_is_refused() -> None:
    """A slip in the program, not in the job."""
    with pytest.raises(ValueError, match="no question"):
        missing(loads(BARE), "fly")  # type: ignore[arg-type]
