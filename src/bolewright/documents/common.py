"""What several papers say: parties, the order in short, prices, where numbers come from, what may not be promised."""

from __future__ import annotations

from collections.abc import Iterable

from bolewright.documents.briefing import words as w
from bolewright.documents.briefing.sources import STATUS_MEANINGS, WEAKEST_FIRST
from bolewright.documents.given import Given
from bolewright.documents.parts import (
    Block,
    Section,
    cautions,
    entered,
    facts,
    known_facts,
    money,
    money_range,
    pair,
    section,
    table,
    words,
)
from bolewright.documents.text import in_words, without_tables
from bolewright.drawings.units import Units
from bolewright.planning.haul.price import TAGS, Price
from bolewright.planning.results import FilledIn
from bolewright.reference.cautions import cautions_for

IN_ONE_ROW = 18  # values: a row is not torn apart, so it must not outgrow a page
HOUSE_RULE = "house rule"  # of our own: not a finding that could be confirmed
TAG_PLAIN = {
    "A": "getting the tree off and stopping it from moving",
    "B": "covering what is open",
    "C": "taking the wood away",
    "D": "trees that lie on nothing",
    "E": "the stump",
    "F": "what you may leave out",
}


def parties(given: Given, *more: tuple[str, object]) -> Block:
    """Customer, site and tree, and what else is told beside them."""
    job = given.job
    customer, call = job.customer, job.call
    return facts(
        ("Customer", (customer.name if customer else None) or job.job.owner),
        *([("Address", customer.address)] if customer and customer.address else []),
        ("Telephone", (customer.phone if customer else None) or (call.phone if call else None)),
        ("Site", job.job.site),
        ("Tree", given.weigh.species if given.weigh is not None else job.tree.species),
        ("Day of work", "" if given.day is None else f"{given.day.day} {given.day:%B} {given.day.year}"),
        *more,
        across=2,
    )


def certificates(given: Given) -> Block:
    """Licence and insurance of the company that stands at the head of the paper."""
    company = given.job.company
    return facts(
        ("Our licences", company.licence if company else None),
        ("Our insurance", company.insurance if company else None),
    )


def insurer_lines(given: Given) -> Block | None:
    """Insurer and claim number as the customer gives them; nothing when neither was."""
    customer = given.job.customer
    return known_facts(("Insurer", customer.insurer), ("Claim", customer.claim)) if customer else None


def company_lines(given: Given) -> Block:
    """Licence and insurance of the company."""
    company = given.job.company
    return facts(
        ("Company", company.name if company else None),
        ("Licences", company.licence if company else None),
        ("Insurance", company.insurance if company else None),
    )


def price_table(price: Price) -> Block:
    """Every line of a price with its tag, the sums by tag under it, tax and total; totals are the lines' sums."""
    sign = price.currency
    rows = [
        [
            line.tag,
            line.what,
            f"{line.quantity[1]:,} {line.unit}",
            money(line.rate, sign),
            pair(money_range(line.amount, sign)),
        ]
        for line in price.lines
    ]
    totals = [["", f"{tag}  {TAGS[tag]}", "", "", pair(money_range(three, sign))] for tag, three in price.by_tag]
    totals += [
        ["", name, "", "", pair(money_range(three, sign))]
        for name, three in (("Before tax", price.before_tax), ("Tax", price.tax), ("In all", price.total))
    ]
    return table(
        (0.35, 1.7, 0.85, 0.8, 2.3),
        ("Part", "What", "Likely", "Rate", "Amount, likely and range"),
        rows,
        right=(2, 3, 4),
        totals=totals,
    )


def tag_words(tags: Iterable[str]) -> str:
    """The parts of a price in plain words."""
    return "; ".join(f"{tag}: {TAG_PLAIN[tag]}" for tag in tags) + "."


def order_table(given: Given) -> Block:
    """The order of work in short."""
    plan = given.plan
    if plan is None:
        return words(no_order(given))
    rows = [
        [
            str(step.n),
            w.what(step),
            step.method or "–",
            pair(w.mass(step.mass_kg, given.units)) if step.mass_kg.high > 0 else "–",
            pair(w.force(step.building_after_N, given.units)),
        ]
        for step in plan.steps
    ]
    return table((0.4, 2, 1.1, 1.2, 1.2), ("Step", "What", "How", "Weighs (mass)", "On the building after"), rows)


def no_order(given: Given) -> str:
    """Why there is no order of cuts: the dead end of the search, or what is missing for one."""
    if given.cuts is not None:
        return f"No order of cuts stays inside the limits set: {given.cuts.chosen.dead_end}"
    return without_tables(given.why_not.get("cuts", "There is no order of cuts for this job as entered."))


def hours_table(given: Given) -> Block:
    """Hours of the crew by kind of work."""
    if given.out is None:
        return words(no_way_out(given))
    rows = [
        [
            step.step,
            pair((f"{step.hours.likely:.1f} h", _ends(step.hours.low, step.hours.high))),
            step.why + (f"; own record {step.learnt:.2f} times the plan" if step.learnt != 1.0 else ""),
        ]
        for step in given.out.steps
    ]
    whole = given.out.hours
    totals = [["in all", pair((f"{whole.likely:.1f} h", _ends(whole.low, whole.high))), ""]]
    return table((0.8, 1, 3), ("Work", "Crew hours", "What is in it"), rows, totals=totals)


def _ends(low: float, high: float) -> str:
    return "" if f"{low:.1f}" == f"{high:.1f}" else f"{low:.1f} to {high:.1f}"


def no_way_out(given: Given) -> str:
    """Why nothing is said about the way out."""
    why = "The way out for the wood is not entered yet, so hours and loads are not known."
    return without_tables(given.why_not.get("out", why))


def sources_section(
    rows: Iterable[FilledIn], units: Units, heading: str = "What was filled in, and how far to trust it"
) -> Section | None:
    """Values nobody measured, the least certain first, each with its mark; None when everything was given."""
    marks = [str(status) for status in WEAKEST_FIRST]
    once = {(row.path, row.value): row for row in rows}
    ranked = sorted(once.values(), key=lambda row: marks.index(row.status) if row.status in marks else -1)
    if not ranked:
        return None
    used = [status for status in WEAKEST_FIRST if str(status) in {row.status for row in ranked}]
    meanings = "; ".join(f"{status}: {STATUS_MEANINGS[status]}" for status in used) + "."
    return section(
        heading,
        table((0.8, 2.7, 2.4), ("Mark", "Filled in", "Source or reason"), _by_source(ranked, units)),
        words(meanings),
        plain="Where nobody measured, a value was filled in. The mark says how far to rely on it; least certain first.",
        wide=True,
    )


def _by_source(ranked: Iterable[FilledIn], units: Units) -> list[list[str]]:
    """One row for all values of one mark and source, so that the same reason is not read a dozen times."""
    told: dict[tuple[str, str], list[str]] = {}
    for row in ranked:
        told.setdefault((str(row.status), row.source or row.why), []).append(f"{in_words(row.path)}: {row.said(units)}")
    return [
        [mark, "; ".join(values[k : k + IN_ONE_ROW]), source]
        for (mark, source), values in told.items()
        for k in range(0, len(values), IN_ONE_ROW)
    ]


def caution_block(*places: str, heading: str = "") -> Block:
    """The cautions of these places, with the mark of those that were not read in a source."""
    return cautions(
        (
            c.text if str(c.status) == "confirmed" or c.source == HOUSE_RULE else f"{c.text} ({c.status})"
            for c in cautions_for(*places)
        ),
        heading,
    )


def policy_section(held: bool = False) -> Section:
    """What no paper of ours says."""
    return section(
        "What is not said here",
        caution_block("insurer"),
        plain="Parts are kept apart because policies treat them apart. Policy and adjuster decide: ask before "
        "relying on a sum.",
        wide=True,
        held=held,
    )


def price_facts(given: Given) -> Block:
    """The rates of the company as entered."""
    rates = given.job.rates
    sign = rates.currency
    return facts(
        ("Crew, an hour", money(rates.crew_hour, sign)),
        ("Machine, an hour", money(rates.machine_hour, sign)),
        ("Crane, an hour", money(rates.crane_hour, sign)),
        ("Tip fee, a load", money(rates.tip_load, sign)),
        ("Tax", entered(rates.tax)),
        ("Not to exceed", money(rates.ceiling, sign)),
        across=2,
    )
