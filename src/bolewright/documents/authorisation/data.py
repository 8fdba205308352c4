"""What stands in the work authorisation."""

from __future__ import annotations

from bolewright.documents.common import caution_block, certificates, parties, price_facts
from bolewright.documents.given import Given
from bolewright.documents.parts import Section, beside, facts, figures, money, money_range, points, section, sign, words
from bolewright.job.paperwork import Terms

STATEMENT = (
    "I have read this paper whole. I order the work described, at these rates and up to the sum named. I may stop the "
    "work at any time and pay for what was done until then."
)


def lacking(given: Given) -> list[str]:
    """A company that does the work, and what it costs."""
    found = []
    if given.job.company is None:
        found.append("Enter who does the work: name in [company].")
    if given.job.rates.crew_hour is None and given.job.rates.ceiling is None:
        found.append("Enter a rate or a sum not to be exceeded: crew_hour or ceiling in [rates].")
    return found


def sections(given: Given) -> list[Section]:
    """Parties, scope, consent, charges, limits, and the lines to sign."""
    terms = given.job.terms or Terms()
    return [
        _who(given),
        _scope(terms),
        _consent(terms),
        _charges(given),
        _ways_of_working(terms),
        section("Signed before work starts", sign((("Customer", terms.authorised_by), ("Company", "")), STATEMENT)),
    ]


def _who(given: Given) -> Section:
    return section(
        "Who and where",
        parties(given),
        certificates(given),
        plain="You order the work. Ask for the certificates if you want to see them.",
    )


def _scope(terms: Terms) -> Section:
    return section(
        "What may be started",
        beside(
            (words("To be done:", strong=True), points(terms.scope)),
            (words("Not part of it:", strong=True), points(terms.excluded)),
        ),
        plain="Only what is listed may be started on this paper. Anything more needs a change order that you sign "
        "before it is done.",
    )


def _consent(terms: Terms) -> Section:
    return section(
        "Whose tree, whose ground",
        facts(
            ("Owner says so", _owns(terms.owns)),
            ("Neighbours", terms.neighbour),
            ("Permits", terms.permits),
            ("Under the lawn", terms.buried),
        ),
        caution_block("law"),
        plain="You tell us that the tree and the building are yours to decide about, and what lies buried where "
        "wheels may roll.",
    )


def _charges(given: Given) -> Section:
    return section(
        "What it costs",
        price_facts(given),
        _expected(given),
        caution_block("insurer"),
        plain="Emergency work is paid by the hour. The sum not to be exceeded is a fence: we stop and ask "
        "before we pass it. Whether and how much your insurer pays is between you and your insurer.",
    )


def _ways_of_working(terms: Terms) -> Section:
    return section(
        "How we work",
        points(
            (
                "The qualified person on site decides the way of working and may stop at any time.",
                "Work stops when what is seen differs from the plan; it is planned, and agreed anew.",
                "Nobody goes under, beside or back into the building while we work.",
                "Wood and chips: " + (terms.wood or "not agreed yet") + ".",
                "Payment: " + (terms.payment or "not agreed yet") + ".",
                "We do not handle claims and are not paid by a share of one.",
            )
        ),
        plain="Stopping is always allowed and never costs a signature.",
        held=True,
    )


def _owns(said: bool | None) -> str:
    return {
        True: "tree and building are the customer's, as said",
        False: "NOT the customer's: ask the owner first",
        None: "",
    }[said]


def _expected(given: Given) -> dict[str, object] | None:
    """What is expected by the plan, beside the sum not to be exceeded."""
    price = given.price
    if price is None:
        return None
    likely, ends = money_range(price.total, price.currency)
    ceiling = money(price.ceiling, price.currency)
    return figures(
        ("expected, tax in", likely, ends, "by the plan as worked out"), ("not to exceed", ceiling, "", price.words)
    )
