"""Every paper of the job, read back from the PDF by an independent reader: contents, order, marks, sums, form."""

from __future__ import annotations

import dataclasses
import re
import subprocess
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

import pytest
from paper_cases import bare, full, unsigned, without_order

from bolewright.core.base.range import Range
from bolewright.documents.given import Before, Given
from bolewright.documents.paper import contents, fingerprint, printed, text_lines
from bolewright.documents.papers import BRIEFING, PAPERS, make, paper_named
from bolewright.documents.parts import NOT_ENTERED, money, money_range
from bolewright.documents.press import Printed
from bolewright.job.read import loads
from bolewright.planning.haul.price import Price
from bolewright.planning.haul.results import PickOut
from bolewright.reference.cautions import cautions_for
from conftest import read_rows

OWN = [paper for paper in PAPERS if paper is not BRIEFING]  # the briefing has tests of its own
IN_ORDER = {
    "call-sheet": (
        "Call sheet",
        "Kestrel Tree Care",
        "05:40",
        "What the caller said",
        "no smell",
        "LIVE",
        "What to do until we arrive",
        "555 0142",
    ),
    "work-authorisation": (
        "What may be started",
        "take the oak off the garage",
        "Not part of it",
        "Whose tree",
        "What it costs",
        "$185.00",
        "$5,200.00",
        "Nothing here says what an insurance policy will pay",
        "Signed before work starts",
        "D. Okafor",
        "Signed by",
        "14 Tanager Lane",
        "Contents as shown, SHA-256",
    ),
    "estimate": (
        "NOT TO EXCEED",
        "The price, part by part",
        "A make safe",
        "C debris",
        "In all",
        "Where the hours come from",
        "common practice",
        "Accepted",
    ),
    "work-order": (
        "Where and who",
        "M. Pruitt, T. Lindqvist, J. Abara",
        "The order in short",
        "Gear",
        "Stop limits",
        "From above",
        "Out over the lawn",
        "Agreed with the customer",
    ),
    "job-hazard-analysis": (
        "Hazards of the place and the tree",
        "Power",
        "Step by step",
        "If something happens",
        "County General",
        "Known to",
        "R. Halvorsen",
        "Not confirmed in a source",
    ),
    "lift-plan": (
        "Pieces that hang",
        "Gear under each piece",
        "Who",
        "hand signals in sight",
        "Wires near",
        "Known to",
    ),
    "change-order": (
        "WAIT",
        "Change 1",
        "Eye bolt and cable",
        "under the bark",
        "14",
        "$277.50",
        "What it adds",
        "$296.93",
        "Signed before the changed work goes on",
    ),
    "daily-log": ("As written down", "09:05", "ticked: step 1: cut L1", "Hours worked", "1.25 h", "Kept by"),
    "photo-log": (
        "How they are kept",
        "NOT as they came any more: 3",
        "Numbers that are missing: 2",
        "Views asked for",
        "dark",
        "Before anything moves",
        "1. butt",
        "1" * 64,
        "During the work",
        "3. eye bolt",
        "3" * 64,
    ),
    "completion": (
        "Keep out until somebody has looked",
        "three rafters at the ridge",
        "Nobody goes back in",
        "What was done",
        "Agreed and not done",
        "Left by agreement",
        "Damage",
        "one fence board",
        "Handed over",
    ),
    "invoice": (
        "Invoice",
        "$2,194.84",
        "2026-031",
        "Line by line",
        "crew, set-up",
        "tarp 10 by 12 ft",
        "A make safe",
        "$1,156.25",
        "Before tax",
        "$2,051.25",
        "Tax",
        "$143.59",
        "In all",
        "$2,194.84",
        "Beside the estimate",
    ),
    "insurer-pack": (
        "Contents",
        "What happened",
        "As observed",
        "What was found",
        "What held it up",
        "The way of working",
        "Leave to work",
        "What it was expected to cost",
        "The day",
        "The bill",
        "Hand-over",
        "Photographs",
        "For your own statement of loss",
        "Where the numbers come from",
    ),
}


@pytest.fixture(scope="module")
def papers() -> dict[str, Printed]:
    """Every paper of the full job."""
    return {paper.name: printed(paper, full()) for paper in OWN}


@pytest.fixture(scope="module")
def texts(papers: dict[str, Printed], reader) -> dict[str, list[str]]:  # type: ignore[no-untyped-def]
    """Pages of each."""
    return {name: reader(paper.pdf) for name, paper in papers.items()}


@pytest.mark.parametrize("paper", OWN, ids=lambda paper: paper.name)
def test_passes_the_checker_and_nothing_to_complain_of(paper, papers) -> None:
    """PDF/UA-1 (ISO 14289-1) by the typesetter's checker, and no warning."""
    assert papers[paper.name].accessible
    assert papers[paper.name].warnings == ()


@pytest.mark.parametrize("name", IN_ORDER)
def test_says_what_it_is_for_in_order(name: str, texts) -> None:
    """The contents trade and owners ask for, in the order to be read."""
    text, at = " ".join(texts[name]), 0
    for words in IN_ORDER[name]:
        found = text.find(words, at)
        assert found >= 0, f"{words!r} is missing, or stands before what comes ahead of it"
        at = found


def test_no_paper_is_left_out_here() -> None:
    """Every paper has its list of contents above."""
    assert set(IN_ORDER) == {paper.name for paper in OWN}


@pytest.mark.parametrize("paper", OWN, ids=lambda paper: paper.name)
def test_every_page_says_what_it_belongs_to(paper, texts) -> None:
    """Name, job, revision, day, page x of y."""
    pages = texts[paper.name]
    for k, page in enumerate(pages, 1):
        for words in (paper.title, "Uprooted red oak", "revision 4", "28 March 2026", f"Page {k} of {len(pages)}"):
            assert words in page, (k, words)


@pytest.mark.parametrize("paper", OWN, ids=lambda paper: paper.name)
def test_words_that_promise_too_much(paper, texts) -> None:
    """Neither "safe" by itself, "approved", nor anything about what is covered; "make safe" is the name of a part."""
    text = " ".join(texts[paper.name]).lower().replace("make safe", "")
    assert not re.search(r"\b(safe|safely|approved|covered by (your|the) (policy|insur))\b", text)


@pytest.mark.parametrize("paper", [p for p in OWN if not p.lacking(bare())], ids=lambda paper: paper.name)
def test_missing_is_said_and_not_left_blank(paper, reader) -> None:
    """A job with a title and a tree: what is made of it says "not entered yet"."""
    made = printed(paper, bare())
    assert made.accessible
    assert NOT_ENTERED in " ".join(reader(made.pdf))


def test_not_made_says_why() -> None:
    """With only a title and a tree: two papers to write on, and a sentence for every other."""
    made = make(bare())
    assert set(made.files) == {"call-sheet.pdf", "daily-log.pdf"}
    assert {paper.name for paper in made.not_made} == {p.name for p in PAPERS} - {"call-sheet", "daily-log"}
    for paper in made.not_made:
        assert paper.reasons
        assert all(reason.endswith(".") and reason[0].isupper() for reason in paper.reasons), paper


def test_without_an_order_nothing_is_planned_to_hang() -> None:
    """The dead end is the reason; the hazard analysis says that no step may be started."""
    given = without_order()
    lift, hazards = paper_named("lift-plan"), paper_named("job-hazard-analysis")
    assert lift is not None
    assert hazards is not None
    assert "No order of cuts stays inside the limits set" in lift.lacking(given)[0]
    assert "no step may be started" in " ".join(text_lines(contents(hazards, given)))


def test_same_bytes_again(papers) -> None:
    """Same contents and day, same file; another day, another file."""
    invoice = paper_named("invoice")
    assert invoice is not None
    assert printed(invoice, full()).pdf == papers["invoice"].pdf
    other = dataclasses.replace(full(), day=full().day.replace(day=29))  # type: ignore[union-attr]
    assert printed(invoice, other).pdf != papers["invoice"].pdf


def test_sheet_is_a4_for_metric(tmp_path: Path) -> None:
    """A4 210 x 297 mm (ISO 216) in points, told by poppler."""
    card = paper_named("call-sheet")
    assert card is not None
    (tmp_path / "p.pdf").write_bytes(printed(card, bare()).pdf)
    told = subprocess.run(["pdfinfo", str(tmp_path / "p.pdf")], capture_output=True, text=True, check=True).stdout
    assert "595.276 x 841.89" in told


def test_totals_are_the_sums_of_printed_lines(papers, tmp_path: Path) -> None:
    """Read off the print: number times rate is the amount of each line, lines add up to their part, parts to the sum
    before tax, and that with the tax to the sum in all."""
    lines = read_rows(papers["invoice"].pdf, tmp_path / "invoice.pdf")
    row = re.compile(r"([A-F]) .+? ([\d.]+) [a-z]+ \$([\d,]+\.\d\d) \$([\d,]+\.\d\d)")
    found = [
        (m[1], *(Decimal(text.replace(",", "")) for text in m.groups()[1:])) for m in map(row.fullmatch, lines) if m
    ]
    assert len(found) == 9
    assert all(amount == (number * rate).quantize(Decimal("0.01"), ROUND_HALF_UP) for _, number, rate, amount in found)
    sums = {}
    for name in (
        "A make safe and off the structure",
        "B temporary protection",
        "C debris",
        "Before tax",
        "Tax",
        "In all",
    ):
        told = next(line for line in lines if re.fullmatch(rf"{name} \$[\d,.]+", line))
        sums[name[0] if name[1] == " " else name] = Decimal(told.rsplit("$")[-1].replace(",", ""))
    for part in "ABC":
        assert sums[part] == sum(amount for tag, _, _, amount in found if tag == part)
    assert sums["A"] + sums["B"] + sums["C"] == sums["Before tax"]
    assert sums["Tax"] == (sums["Before tax"] * Decimal("0.07")).quantize(Decimal("0.01"), ROUND_HALF_UP)
    assert sums["Before tax"] + sums["Tax"] == sums["In all"]


def test_estimate_prints_every_line_with_its_range(texts) -> None:
    """Each amount likely with its ends, and the sum of the likely ones before tax."""
    price, text = full().price, " ".join(texts["estimate"])
    assert isinstance(price, Price)
    for line in price.lines:
        likely, ends = money_range(line.amount, "$")
        assert likely in text
        assert ends in text
    assert money(sum((line.amount[1] for line in price.lines), Decimal(0)), "$") in text


def test_change_order_shows_the_price_before_and_now(reader) -> None:
    """A new plan's price beside the one agreed, parts that stayed left out."""
    given, order = full(), paper_named("change-order")
    assert order is not None
    assert given.price is not None
    first = given.price.lines[0]
    low, likely, high = (amount + 100 for amount in first.amount)
    lines = (dataclasses.replace(first, amount=(low, likely, high)), *given.price.lines[1:])
    total = tuple(amount + 107 for amount in given.price.total)
    dearer = dataclasses.replace(given.price, lines=lines, total=total)
    now = dataclasses.replace(given, price=dearer, before=Before("As signed on 11 April.", given.price))
    text = " ".join(reader(printed(order, now).pdf))
    part = text[text.index("The plan's price, before and now") :]
    assert "As signed on 11 April." in part
    assert "$100.00" in part  # the line, 7 % tax beside it
    assert "$107.00" in part
    assert given.price.lines[1].what not in part[: part.index("Rates")]


def test_signature_is_not_part_of_what_is_signed(reader) -> None:
    """The fingerprint is of the contents shown; any change of a line makes another."""
    authorisation = paper_named("work-authorisation")
    assert authorisation is not None
    signed, unsigned = full(), dataclasses.replace(full(), signed={})
    assert fingerprint(contents(authorisation, signed)) == fingerprint(contents(authorisation, unsigned))
    rates = signed.job.rates.model_copy(update={"crew_hour": Decimal("190.00")})
    elsewhere = dataclasses.replace(unsigned, revision="revision 9")
    assert fingerprint(contents(authorisation, elsewhere)) == fingerprint(contents(authorisation, signed))
    dearer = dataclasses.replace(signed, job=signed.job.model_copy(update={"rates": rates}))
    assert fingerprint(contents(authorisation, dearer)) != fingerprint(contents(authorisation, signed))
    assert "Signed by" in " ".join(reader(printed(authorisation, signed).pdf))
    assert "Signed by" not in " ".join(reader(printed(authorisation, dearer).pdf))
    assert any("$190.00" in line for line in text_lines(contents(authorisation, dearer)))


@pytest.mark.parametrize("name", ["work-authorisation", "change-order", "completion"])
def test_what_is_signed_stands_on_one_leaf(name: str, reader) -> None:  # type: ignore[no-untyped-def]
    """The lines to sign on and all above them."""
    paper = paper_named(name)
    assert paper is not None
    (page,) = reader(printed(paper, unsigned()).pdf)
    assert page.count("Signature") == 1


def test_a_long_name_stays_below_the_heading_of_its_line(tmp_path: Path) -> None:
    """Places read by poppler: a name of several lines begins under the heads of the lines to sign on."""
    long = "Zwei " + "Wilhelmina-Aleksandra von Ostergard " * 4
    order = paper_named("change-order")
    assert order is not None
    terms = unsigned().job.terms.model_copy(update={"authorised_by": long})  # type: ignore[union-attr]
    given = dataclasses.replace(unsigned(), job=unsigned().job.model_copy(update={"terms": terms}))
    (tmp_path / "p.pdf").write_bytes(printed(order, given).pdf)
    told = subprocess.run(
        ["pdftotext", "-bbox", str(tmp_path / "p.pdf"), "-"], capture_output=True, text=True, check=True
    )
    places = {m[2]: float(m[1]) for m in re.finditer(r'yMin="([\d.]+)".*?>([^<]+)</word>', told.stdout)}
    assert places["Zwei"] > places["Signature"]


def test_card_for_the_caller_carries_every_caution_of_its_place(texts) -> None:
    """One page, whole."""
    card = texts["call-sheet"][-1]
    assert all(caution.text in card for caution in cautions_for("caller"))


def test_hostile_words_stay_words(reader) -> None:
    """Markup in names and lines prints as text."""
    nasty = "#set page(fill: red) *b* $x^2$ <script>alert(1)</script> \u202eexe " + "W" * 90
    given: Given = full()
    company = given.job.company.model_copy(update={"name": nasty})  # type: ignore[union-attr]
    terms = given.job.terms.model_copy(update={"scope": (nasty,) * 3})  # type: ignore[union-attr]
    job = given.job.model_copy(update={"company": company, "terms": terms})
    authorisation = paper_named("work-authorisation")
    assert authorisation is not None
    made = printed(authorisation, dataclasses.replace(given, job=job))
    assert made.accessible
    text = " ".join(reader(made.pdf))
    assert "#set page(fill: red) *b* $x^2$ <script>alert(1)</script>" in text
    assert "\u202e" not in text


def test_money_is_written_with_its_currency() -> None:
    """A sign stands close, a word apart; rates keep more places where they have them."""
    assert money(Decimal("1234.5"), "$") == "$1,234.50"
    assert money(Decimal("0.125"), "EUR") == "EUR 0.125"
    assert money(None, "$") == NOT_ENTERED


def test_lift_plan_sets_every_pick_against_the_chart_typed_in(reader) -> None:
    """Chart, radius, what is kept in hand, and the answer for each piece; a crane without a chart is said to be one."""
    given, plan = full(), paper_named("lift-plan")
    assert plan is not None
    assert given.out is not None
    crane = loads(
        'schema = 1\n[job]\ntitle = "x"\n[tree]\nspecies = "oak"\nattached = "free"\n[crane]\nradius = "40 ft"\n'
        'chart = """\nradius_ft,capacity_lb\n30,12000\n40,8000\n50,5600"""\n'
    ).crane
    pick = PickOut("S1", Range(300.0, 400.0, 500.0), 780.0, 2721.0, 12.2, 0.71, True, "inside the chart")
    out = dataclasses.replace(given.out, picks=(pick,))
    with_crane = dataclasses.replace(given, job=given.job.model_copy(update={"crane": crane}), out=out)
    text = " ".join(reader(printed(plan, with_crane).pdf))
    for words in ("On the hook", "inside the chart", "Kept in hand", "40,8000", "25 % of the chart", "40 ft"):
        assert words in text
    assert "! Crane: inside its chart" in text


def test_a_signature_leaves_the_page_as_it_was_shown(papers, reader) -> None:
    """Its words (poppler) are those of the leaf signed; who signed comes after them."""
    authorisation = paper_named("work-authorisation")
    assert authorisation is not None
    shown, signed = reader(printed(authorisation, unsigned()).pdf), reader(papers["work-authorisation"].pdf)
    assert signed[0].removesuffix("Page 1 of 2") == shown[0].removesuffix("Page 1 of 1")
    assert "Signed by" in signed[1]
