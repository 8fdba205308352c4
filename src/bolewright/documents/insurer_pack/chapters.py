"""The chapters of the insurer's pack: the parts of the other papers, in the order in which questions are asked."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from bolewright.documents.authorisation.data import sections as authorisation
from bolewright.documents.briefing import words as w
from bolewright.documents.briefing.holding import holding
from bolewright.documents.briefing.pictures import Pictures
from bolewright.documents.change_order.data import lacking as no_change
from bolewright.documents.change_order.data import sections as change_order
from bolewright.documents.common import (
    company_lines,
    hours_table,
    no_order,
    order_table,
    price_table,
    sources_section,
    tag_words,
)
from bolewright.documents.completion.data import lacking as no_hand_over
from bolewright.documents.completion.data import sections as completion
from bolewright.documents.daily_log.data import hours_worked, log_table
from bolewright.documents.given import Given
from bolewright.documents.insurer_pack.loss import loss, own_statement
from bolewright.documents.invoice.data import lacking as no_bill
from bolewright.documents.invoice.data import sections as invoice
from bolewright.documents.parts import Section, facts, pair, picture, section, table, words
from bolewright.documents.photo_log.data import lacking as no_photos
from bolewright.documents.photo_log.data import sections as photo_log
from bolewright.drawings import units as u
from bolewright.planning.results import Plan

REPEATED = (
    "Who and where",
    "Where",
    "The company",
    "What is not said here",
    "Before it is signed",
    "Rates",
    "Signed before work starts",
    "Signed before the changed work goes on",
    "Handed over",
    "Accepted",
)  # what the pack says once, or what is signed on the paper itself


def chapters(given: Given) -> list[dict[str, Any]]:
    """Loss, findings, method, leave to work, price, day, bill, changes, hand-over, photographs, numbers."""
    return [
        _chapter("What happened", loss(given)),
        _chapter("What was found", _found(given)),
        _chapter("The way of working, and why", _method(given)),
        _chapter("Leave to work, and signatures", [*_signatures(given), *_once(authorisation(given))]),
        _chapter("What it was expected to cost", _price(given)),
        _chapter(
            "The day", [section("As written down", log_table(given)), section("Hours worked", hours_worked(given))]
        ),
        _chapter("The bill", _or_not("No bill was made.", no_bill(given), lambda: _once(invoice(given)))),
        _chapter(
            "Changes",
            _or_not(
                "Nothing was changed after the work was agreed.", no_change(given), lambda: _once(change_order(given))
            ),
        ),
        _chapter(
            "Hand-over",
            _or_not("No hand-over was written down.", no_hand_over(given), lambda: _once(completion(given))),
        ),
        _chapter(
            "Photographs",
            _or_not("No photographs were kept with this job.", no_photos(given), lambda: photo_log(given)),
        ),
        _chapter(
            "The company, and the customer's own statement",
            [section("The company", company_lines(given)), *own_statement(given)],
        ),
        _chapter("Where the numbers come from", _sources(given)),
    ]


def _chapter(heading: str, parts: list[Section]) -> dict[str, Any]:
    return {"heading": heading, "sections": [{**part, "fresh": False} for part in parts]}


def _once(parts: list[Section]) -> list[Section]:
    return [part for part in parts if part["heading"] not in REPEATED]


def _or_not(why: str, lacking: list[str], parts: Callable[[], list[Section]]) -> list[Section]:
    """The parts, or one sentence for the reader: what is lacking is told to whoever makes the pack, elsewhere."""
    return [section("Not in this pack", words(why))] if lacking else parts()


def _found(given: Given) -> list[Section]:
    """Weights, what carried, the drawing."""
    assert given.weigh is not None
    assert given.hold is not None
    told = holding(given.weigh, given.hold, given.units)
    carries = [[row["id"], row["where"], pair(row["force"]), row["bound"], row["state"]] for row in told["supports"]]
    pieces = [[row["id"], row["part"], pair(row["mass"]), row["role"]] for row in told["pieces"]]
    drawn = []
    if given.scene is not None:
        pictures = Pictures(given.scene, given.hold, given.units)
        drawn = [section("The tree as found", picture(pictures.as_found(), most=3.9), wide=True)]
    return [
        *drawn,
        section(
            "What held it up",
            table((0.9, 1.5, 1.2, 1, 1.2), ("Support", "Where", "Carried (force)", "Cannot exceed", "State"), carries),
            plain="How much of the tree lay on what. Ranges run from the 5 % to the 95 % point of the samples.",
            wide=True,
        ),
        section(
            "What it weighed, piece by piece",
            table((0.7, 2.6, 1.3, 1.2), ("Piece", "Part of the tree", "Weighs (mass)", "It was a"), pieces),
            wide=True,
            plain="A prop carries load; a counterweight holds down what lies on the other side.",
        ),
    ]


def _method(given: Given) -> list[Section]:
    """The plan, why, and the ways not taken."""
    plan = given.plan
    if plan is None:
        return [section("Not in this pack", words(no_order(given)))]
    assert given.cuts is not None
    others = [
        [way.title, "an order exists" if way.status == "plan" else "no order", way.summary or way.dead_end]
        for way in given.cuts.alternatives
    ]
    whys = [[str(step.n), w.what(step), step.why] for step in plan.steps if step.why]
    return [
        section(
            "Method",
            words(w.method_line(plan), strong=True),
            words(plan.summary),
            facts(*_method_rows(plan, given)),
            plain="Why it was done this way, in numbers: no step was to ask more of the building than it already "
            "carried.",
        ),
        section(
            "Other ways looked at",
            table((1, 1, 3.4), ("Way", "Answer", "In words"), others, empty="No other way was looked at."),
            wide=True,
        ),
        section("Step by step", order_table(given), wide=True),
        section("Why in this order", table((0.4, 1.2, 4), ("Step", "What", "Why"), whys), wide=True),
    ]


def _method_rows(plan: Plan, given: Given) -> list[tuple[str, object]]:
    """The figures that settled the way of working."""
    units = given.units
    heaviest = max((s.mass_kg for s in plan.steps if s.action == "cut"), key=lambda m: m.likely, default=None)
    narrowest = given.out.route.narrowest_m if given.out is not None else None
    return [
        ("Heaviest piece", u.mass_range(heaviest, units) if heaviest is not None else None),
        ("Building at worst", u.force_range(plan.peak_building_N, units)),
        ("As found", u.force_range(plan.start_building_N, units)),
        ("Narrowest way", u.length(narrowest, units) if narrowest is not None else None),
    ]


def _signatures(given: Given) -> list[Section]:
    rows = [[name, s.by, s.role, s.when, f"version {s.version}"] for name, s in sorted(given.signed.items())]
    return [
        section(
            "Signed on the screen",
            table(
                (1.2, 1.4, 1, 1.5, 0.8),
                ("Paper", "By", "As", "When", ""),
                rows,
                empty="Nothing was signed on the screen.",
            ),
            wide=True,
        )
    ]


def _price(given: Given) -> list[Section]:
    if given.price is None:
        return [section("Not in this pack", words("No price was worked out for this job."))]
    return [
        section(
            "Part by part", price_table(given.price), wide=True, plain=tag_words(tag for tag, _ in given.price.by_tag)
        ),
        section("Hours by kind of work", hours_table(given), wide=True),
    ]


def _sources(given: Given) -> list[Section]:
    answers = (given.weigh, given.hold, given.cuts, given.out)
    rows = [row for answer in answers if answer is not None for row in answer.filled_in]
    density = given.weigh
    assert density is not None
    found = sources_section(rows, given.units, "Filled in where nobody measured")
    return [
        section(
            "Wood density",
            facts(
                ("Species", density.species),
                ("Green density", w.density(density.density_kg_m3, given.units)),
                ("Source", f"{density.density_source} ({density.density_status})"),
            ),
        ),
        *([found] if found is not None else []),
    ]
