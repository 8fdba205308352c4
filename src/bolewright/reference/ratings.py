"""The two published combination tables. The assessor chooses the words; nothing here is computed from a margin."""

from __future__ import annotations

from functools import cache

from bolewright.reference.tables import table

FAILURE = ("improbable", "possible", "probable", "imminent")
IMPACT = ("very low", "low", "medium", "high")
COMBINED = ("unlikely", "somewhat likely", "likely", "very likely")
CONSEQUENCES = ("negligible", "minor", "significant", "severe")
RISK = ("low", "moderate", "high", "extreme")
SOURCE = (
    "Smiley, E.T.; Matheny, N.; Lilly, S. 2011, 2017. Tree risk assessment, best management practices companion to "
    "ANSI A300; as reprinted in a public council plan"
)
MEANINGS = {
    "improbable": "not expected to fail even in many severe storms within the time frame",
    "possible": "could fail, but not in normal weather within the time frame",
    "probable": "expected to fail in normal weather within the time frame",
    "imminent": "has started to fail, or is about to without any more load",
    "very low": "hardly ever anyone or anything there, or shielded",
    "low": "now and then someone or something there, or partly shielded",
    "medium": "often someone or something there",
    "high": "someone or something there nearly always, nothing in between",
    "negligible": "damage of little value, nobody hurt",
    "minor": "small damage or a light injury",
    "significant": "large damage or an injury that needs treatment",
    "severe": "death or grave injury, or damage of great value",
}


@cache
def _lookup(name: str) -> dict[str, dict[str, str]]:
    rows = {}
    for row in table(name):
        first, *rest = row
        rows[row[first]] = {column: row[column] for column in rest}
    return rows


def combined_likelihood(failure: str, impact: str) -> str:
    """Likelihood that the part fails and hits the target. Raises KeyError for a word not in the table."""
    return _lookup("rating_likelihood.csv")[failure][impact]


def risk(combined: str, consequences: str) -> str:
    """Rating from the combined likelihood and the consequences. Raises KeyError for a word not in the table."""
    return _lookup("rating_risk.csv")[combined][consequences]


def rating(failure: str, impact: str, consequences: str) -> str:
    """Both tables one after the other."""
    return risk(combined_likelihood(failure, impact), consequences)
