"""What stands in the estimate."""

from __future__ import annotations

from bolewright.documents.briefing import words as w
from bolewright.documents.common import (
    certificates,
    hours_table,
    insurer_lines,
    no_way_out,
    parties,
    policy_section,
    price_table,
    sources_section,
    tag_words,
)
from bolewright.documents.given import Given
from bolewright.documents.parts import (
    Section,
    beside,
    facts,
    figures,
    money,
    money_range,
    pair,
    points,
    section,
    sign,
    table,
    words,
)
from bolewright.job.paperwork import Terms
from bolewright.planning.haul.price import Price
from bolewright.planning.haul.results import OutResult

STATEMENT = "I have read this estimate whole. I accept it as the basis of the work, up to the sum not to be exceeded."


def lacking(given: Given) -> list[str]:
    """A price: rates and a way out."""
    found = []
    if given.job.rates.crew_hour is None:
        found.append("Enter what the crew costs an hour: crew_hour in [rates].")
    if given.out is None:
        found.append(no_way_out(given))
    return found


def sections(given: Given) -> list[Section]:
    """Sum, work, price by parts, ways side by side, hours, terms, acceptance."""
    price, out, terms = given.price, given.out, given.job.terms or Terms()
    assert price is not None
    assert out is not None
    found = [
        _sum(price, out),
        section("Who and where", parties(given), insurer_lines(given), plain="For whom this is, and which tree."),
        section("The work", *_work(given, terms), plain="What is done, how, and what is not part of it."),
        _parts(price),
        _offered(price),
        _ways(given),
        section(
            "Where the hours come from",
            hours_table(given),
            plain="From this tree's pieces and the time each kind of work takes; times nobody entered are named below.",
            wide=True,
        ),
        _terms(given, terms),
        sources_section(out.filled_in, given.units),
        policy_section(held=True),
        section("Accepted", sign((("Customer", terms.authorised_by), ("Company", "")), STATEMENT)),
    ]
    return [part for part in found if part is not None]


def _sum(price: Price, out: OutResult) -> Section:
    """What it comes to, the fence, and the hours behind it."""
    likely, ends = money_range(price.total, price.currency)
    hours = out.hours
    return section(
        "The sum",
        figures(
            ("in all, tax in", likely, ends, "likely, and from the shortest to the longest hours"),
            ("not to exceed", money(price.ceiling, price.currency), "", price.words),
            ("crew hours", f"{hours.likely:.1f} h", f"{hours.low:.1f} to {hours.high:.1f} h", "all kinds of work"),
        ),
        plain="The large number is what we expect. The range is honest: nobody knows before "
        "how wood that lies under load lets go.",
        wide=True,
    )


def _parts(price: Price) -> Section:
    return section(
        "The price, part by part",
        price_table(price),
        plain=tag_words(tag for tag, _ in price.by_tag)
        + " Each amount is the hours or number printed times the rate; the sums add the lines printed.",
        wide=True,
    )


def _terms(given: Given, terms: Terms) -> Section:
    return section(
        "Terms",
        facts(
            ("Stands for", terms.valid),
            ("Payment", terms.payment),
            ("Permits", terms.permits),
            ("Under the lawn", terms.buried),
            ("Wood and chips", terms.wood),
        ),
        certificates(given),
        wide=True,
    )


def _work(given: Given, terms: Terms) -> list[dict[str, object] | None]:
    plan = given.plan
    how = w.method_line(plan) if plan is not None else "The order of cuts is not worked out yet."
    return [
        beside(
            (words("To be done:", strong=True), points(terms.scope)),
            (words("Not part of it:", strong=True), points(terms.excluded)),
        ),
        words(how, strong=True),
        words(plan.summary) if plan is not None and plan.summary else None,
    ]


def _offered(price: Price) -> Section | None:
    """What is offered and not taken: in no sum."""
    if not price.options:
        return None
    rows = [
        [
            one.what,
            f"{one.quantity[1]:,} {one.unit}",
            money(one.rate, price.currency),
            pair(money_range(one.amount, price.currency)),
        ]
        for one in price.options
    ]
    return section(
        "Offered besides, in no sum above",
        table((2.2, 1, 1, 1.2), ("What", "Number", "Rate", "Before tax"), rows, right=(1, 2, 3)),
        plain="You may take these or leave them.",
        wide=True,
    )


def _ways(given: Given) -> Section | None:
    """Other ways of doing it, priced side by side; None when there is one way only."""
    if len(given.ways) < 2:
        return None
    rows = [
        [
            way.title + (": this estimate" if n == 0 else ""),
            pair(money_range(way.price.before_tax, way.price.currency)),
            pair(money_range(way.price.total, way.price.currency)),
            way.status,
        ]
        for n, way in enumerate(given.ways)
    ]
    return section(
        "Other ways, priced side by side",
        table((1.2, 1.3, 1.3, 1.2), ("Way", "Before tax", "In all", "Answer"), rows, right=(1, 2)),
        wide=True,
    )
