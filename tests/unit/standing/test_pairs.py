"""Several parts and targets in one record: each through the two published tables, the worst named, what options leave.

Source of the words: Smiley, Matheny and Lilly 2011 and 2017, Tree risk assessment, best management practices; the
cells checked here are read off the tables as printed in tests/handbook/test_ratings.py.
"""

from __future__ import annotations

from typing import Any

import pytest

from bolewright.job.faults import JobFaults
from bolewright.job.model import Job
from bolewright.planning.standing.pairs import pairs_left, pairs_rated, worst_of

from .jobs import job

TARGETS = [
    {"id": "house", "what": "house", "distance": "8 m", "towards": "E"},
    {"id": "path", "what": "path", "distance": "3 m", "towards": "S"},
]
PAIRS = [
    {"id": "top", "part": "dead top", "target": "path", "failure": "imminent", "impact": "high",
     "consequences": "significant"},
    {"id": "roots", "part": "whole tree", "target": "path", "failure": "possible", "impact": "low"},
]  # fmt: skip
OWN = {"part": "whole tree", "target": "house", "failure": "probable", "impact": "medium", "consequences": "minor"}


def rated(**more: Any) -> Job:
    """A record with three pairs and two options."""
    options = [{"id": "cut", "kind": "remove", "failure": "improbable", "impact": "low", "consequences": "minor"}]
    left = [{"option": "cut", "pair": "top", "failure": "improbable", "impact": "low", "consequences": "severe"}]
    return job(target=TARGETS, rating={**OWN, "pair": PAIRS, "option": options, "left": left, **more})


def test_each_pair_through_the_tables() -> None:
    """Own: probable, medium: somewhat likely, minor: low. Top: very likely, significant: high. Roots: half said."""
    rating = rated().rating
    assert rating is not None
    own, top, roots = pairs_rated(rating)
    assert (own.id, own.combined, own.rating, own.worst) == ("", "somewhat likely", "low", False)
    assert (top.combined, top.rating, top.worst) == ("very likely", "high", True)
    assert (roots.combined, roots.rating, roots.worst) == ("unlikely", None, False)
    assert worst_of((own, top, roots)) == "high"


def test_what_an_option_leaves_of_each() -> None:
    """The option's own words are for the first pair; of the others only what was told; nothing is made up."""
    rating = rated().rating
    assert rating is not None
    own, top, roots = pairs_left(rating, rating.option[0])
    assert (own.rating, top.rating, roots.rating) == ("low", "low", None)
    assert roots.failure is None
    assert own.worst
    assert top.worst


def test_pairs_alone() -> None:
    """Nothing chosen in [rating] itself: only the pairs count."""
    rating = job(target=TARGETS, rating={"pair": PAIRS}).rating
    assert rating is not None
    assert [pair.id for pair in pairs_rated(rating)] == ["top", "roots"]
    assert worst_of(()) is None


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"pair": [*PAIRS, PAIRS[0]]}, "used twice"),
        ({"pair": [{"id": "x", "target": "barn"}], "left": []}, 'no target called "barn"'),
        ({"left": [{"option": "prop", "pair": "top"}]}, 'no option called "prop". There are "cut"'),
        ({"left": [{"option": "cut", "pair": "crown"}]}, 'no pair called "crown"'),
        ({"left": [{"option": "cut", "pair": "top"}] * 2}, "told twice"),
    ],
)
def test_names_that_are_not_there(more: dict[str, Any], said: str) -> None:
    """One sentence that says which and what there is."""
    with pytest.raises(JobFaults) as found:
        rated(**more)
    assert any(said in fault.sentence for fault in found.value.faults), found.value.faults
