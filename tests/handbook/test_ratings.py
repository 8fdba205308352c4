"""The two combination tables, word for word.

Source: Smiley, Matheny and Lilly 2011 and 2017, Tree risk assessment, best management practices (companion to ANSI
A300), as reprinted in a public council plan. The second table was read from a scan that runs two rows together; the
count of its words fits this order only.
"""

from __future__ import annotations

from collections import Counter
from itertools import product

import pytest

from bolewright.reference.ratings import (
    COMBINED,
    CONSEQUENCES,
    FAILURE,
    IMPACT,
    MEANINGS,
    RISK,
    combined_likelihood,
    rating,
    risk,
)

FIRST = """
imminent: unlikely, somewhat likely, likely, very likely
probable: unlikely, unlikely, somewhat likely, likely
possible: unlikely, unlikely, unlikely, somewhat likely
improbable: unlikely, unlikely, unlikely, unlikely
"""
SECOND = """
very likely: low, moderate, high, extreme
likely: low, moderate, high, high
somewhat likely: low, low, moderate, moderate
unlikely: low, low, low, low
"""


def cells(printed: str, columns: tuple[str, ...]) -> list[tuple[str, str, str]]:
    """(row, column, word) of a table as printed."""
    rows = [line.split(": ") for line in printed.strip().splitlines()]
    return [(row, c, word) for row, words in rows for c, word in zip(columns, words.split(", "), strict=True)]


@pytest.mark.parametrize(("failure", "impact", "word"), cells(FIRST, IMPACT))
def test_failure_and_impact(failure: str, impact: str, word: str) -> None:
    """Sixteen cells."""
    assert combined_likelihood(failure, impact) == word


@pytest.mark.parametrize(("combined", "consequences", "word"), cells(SECOND, CONSEQUENCES))
def test_with_consequences(combined: str, consequences: str, word: str) -> None:
    """Sixteen cells."""
    assert risk(combined, consequences) == word


def test_word_counts_of_the_second_table() -> None:
    """The count by which its order was settled: 8 low, 4 moderate, 3 high, 1 extreme."""
    words = Counter(risk(a, b) for a, b in product(COMBINED, CONSEQUENCES))
    assert words == {"low": 8, "moderate": 4, "high": 3, "extreme": 1}


def test_worse_is_never_rated_lower() -> None:
    """One step worse on any axis never lowers the rating."""
    for f, i, c in product(range(4), repeat=3):
        here = RISK.index(rating(FAILURE[f], IMPACT[i], CONSEQUENCES[c]))
        for more in ((f + 1, i, c), (f, i + 1, c), (f, i, c + 1)):
            if max(more) < 4:
                assert RISK.index(rating(FAILURE[more[0]], IMPACT[more[1]], CONSEQUENCES[more[2]])) >= here


def test_every_word_has_a_meaning() -> None:
    """In our own words."""
    assert set(MEANINGS) == {*FAILURE, *IMPACT, *CONSEQUENCES}
