"""What stands in the invoice."""

from __future__ import annotations

from bolewright.documents.common import company_lines, insurer_lines, parties, policy_section, tag_words
from bolewright.documents.given import Given
from bolewright.documents.parts import Block, Section, facts, figures, money, money_range, section, table
from bolewright.job.paperwork import Terms
from bolewright.planning.haul.bill import Bill, bill, changes
from bolewright.planning.haul.price import TAGS


def lacking(given: Given) -> list[str]:
    """Hours worked or lines entered, and a rate for the hours."""
    job, found = given.job, []
    if not job.worked and not job.billed:
        found.append(
            "Enter the hours worked in [[worked]], or lines in [[billed]]: an invoice is not made from a plan."
        )
    if job.worked and job.rates.crew_hour is None:
        found.append("Enter what the crew costs an hour: crew_hour in [rates].")
    if job.company is None:
        found.append("Enter who sends it: name in [company].")
    return found


def sections(given: Given) -> list[Section]:
    """Sum, parties, lines by part, changes, the estimate beside it, payment."""
    made, terms = bill(given.job), given.job.terms or Terms()
    assert made is not None
    found = [
        section(
            "The sum",
            figures(("to pay, tax in", money(made.total, made.currency), "", made.words)),
            facts(("Invoice number", terms.invoice), ("Payment", terms.payment)),
            wide=True,
            plain="What was worked and used. Nothing here is estimated.",
        ),
        section("Who and where", parties(given), insurer_lines(given), plain="To whom it goes, and for which tree."),
        section(
            "Line by line, in parts",
            lines_table(made),
            wide=True,
            plain=tag_words(tag for tag, _ in made.by_tag) + " Each amount is the number printed times the rate; "
            "the sums add the lines printed.",
        ),
        _against_estimate(given, made),
        _changes(given),
        section("The company", company_lines(given), plain="Licence and insurance, as on every paper."),
        policy_section(),
    ]
    return [part for part in found if part is not None]


def lines_table(made: Bill) -> Block:
    """Every line with its part, the sums by part under it, tax and total."""
    sign = made.currency
    rows = [
        [line.tag, line.what, f"{line.quantity:,} {line.unit}", money(line.rate, sign), money(line.amount, sign)]
        for line in made.lines
    ]
    totals = [["", f"{tag}  {TAGS[tag]}", "", "", money(amount, sign)] for tag, amount in made.by_tag]
    totals += [
        ["", name, "", "", money(amount, sign)]
        for name, amount in (("Before tax", made.before_tax), ("Tax", made.tax), ("In all", made.total))
    ]
    heads = ("Part", "What", "Number", "Rate", "Amount")
    return table((0.35, 2.4, 1, 1, 1.1), heads, rows, right=(2, 3, 4), totals=totals)


def _against_estimate(given: Given, made: Bill) -> Section | None:
    """The estimate beside the bill, part by part."""
    price = given.price
    if price is None:
        return None
    planned, billed = dict(price.by_tag), dict(made.by_tag)
    rows = []
    for tag in TAGS:
        if tag in planned or tag in billed:
            likely, ends = money_range(planned[tag], price.currency) if tag in planned else ("–", "")
            rows.append(
                [
                    tag,
                    TAGS[tag],
                    {"likely": likely, "range": ends},
                    money(billed[tag], made.currency) if tag in billed else "–",
                ]
            )
    likely, ends = money_range(price.total, price.currency)
    totals = [["", "In all, tax in", {"likely": likely, "range": ends}, money(made.total, made.currency)]]
    return section(
        "Beside the estimate",
        table(
            (0.35, 2, 1.6, 1.1),
            ("Part", "", "Estimated, likely and range", "Billed"),
            rows,
            right=(2, 3),
            totals=totals,
        ),
        plain="What we expected, and what it came to.",
        wide=True,
    )


def _changes(given: Given) -> Section | None:
    """Changes that were agreed, as a reminder: they are billed by their hours and lines, not once more."""
    if not given.job.change:
        return None
    sign = given.job.rates.currency
    signed = given.signed.get("change-order")
    rows = [[one.id, one.what, money(one.price, sign)] for one in given.job.change]
    summed = changes(given.job)
    return section(
        "Changes after the work was agreed",
        table(
            (0.5, 3, 1.1),
            ("Change", "What", "Agreed, before tax"),
            rows,
            right=(2,),
            totals=[["", "In all, tax in", money(summed.total, sign)]],
        ),
        facts(("Signed", f"by {signed.by}, {signed.when}" if signed else "no signature on the screen")),
        plain="These are in the lines above with their hours and material. They are not added again.",
        wide=True,
    )
