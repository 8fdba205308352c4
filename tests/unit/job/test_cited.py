"""Photographs a record names: every place of it that can name one, and which photograph is meant."""

from __future__ import annotations

import pytest

from bolewright.job.cited import Citation, citations, number_in
from bolewright.job.read import loads


def test_every_place_that_names_photographs(full: str) -> None:
    """Observation, union, test, break, root and evidence, with what for."""
    job = loads(full)
    found = {(c.page, c.name) for c in citations(job)}
    assert {page for page, _ in found} == {"seen", "tests", "lookback"}
    assert {("lookback", "20"), ("lookback", "21"), ("lookback", "22")} <= found
    words = {c.name: c.words for c in citations(job)}
    assert words["22"] == "disc"
    assert words["21"] == "root 1, rotten, W"


@pytest.mark.parametrize(
    ("written", "number"),
    [("4", 4), (" photo 12", 12), ("No. 3", 3), ("#7", 7), ("photo-04", 4), ("IMG_04.JPG", None)],
)
def test_numbers(written: str, number: int | None) -> None:
    """A number, with or without the word; anything else is the name of a file."""
    assert number_in(written) == number


def test_a_name_is_the_file_whatever_its_case() -> None:
    """By number, or by name."""
    assert Citation("img_1.jpg", "seen", "x").names(9, "IMG_1.JPG")
    assert Citation("9", "seen", "x").names(9, "IMG_1.JPG")
    assert not Citation("8", "seen", "x").names(9, "IMG_1.JPG")
