"""The first page of the insurer's pack."""

from __future__ import annotations

from bolewright.documents.briefing import words as w
from bolewright.documents.common import caution_block, insurer_lines, no_order, parties
from bolewright.documents.given import Given
from bolewright.documents.parts import Section, figures, money, section, words
from bolewright.job.paperwork import Call
from bolewright.planning.haul.bill import bill


def lacking(given: Given) -> list[str]:
    """What was found: without it there is nothing to explain."""
    if given.weigh is None:
        return [given.why_not.get("weigh", "The tree cannot be weighed as entered.")]
    return [] if given.hold is not None else [given.why_not.get("hold", "It cannot be said what held the tree up.")]


def sections(given: Given) -> list[Section]:
    """Whom it is about, the figures that matter most, what is in it and what it does not say."""
    assert given.weigh is not None
    assert given.hold is not None
    made = bill(given.job)
    call = given.job.call or Call()
    tree, load = w.mass(given.weigh.total_kg, given.units), w.force(given.hold.building_N, given.units)
    plan = given.plan
    return [
        section(
            "About this job",
            parties(given),
            insurer_lines(given),
            plain="This is the whole record of one tree on "
            "one building, put in the order in which questions are asked.",
        ),
        section(
            "In short",
            figures(
                ("the tree weighed", *tree, "worked out, not weighed"),
                ("on the building as found", *load, "all of roof and walls"),
                (
                    "billed, tax in",
                    money(made.total, made.currency) if made else "not entered yet",
                    "",
                    made.words if made else "no hours worked were entered",
                ),
            ),
            words(w.method_line(plan) if plan is not None else no_order(given), strong=True),
            words(f"Came down: {call.happened or 'not entered yet'}. It hit: {call.hit or 'not entered yet'}."),
            wide=True,
            plain="The numbers come with their ranges further on, and with where they come from.",
        ),
        section("What is not said here", caution_block("insurer"), wide=True),
    ]
