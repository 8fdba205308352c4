"""What stands in the call sheet."""

from __future__ import annotations

from bolewright.documents.given import Given
from bolewright.documents.parts import Section, blanks, card, entered, facts, points, section, table
from bolewright.job.model import Utility
from bolewright.job.paperwork import Call
from bolewright.reference.cautions import cautions_for

STATES = {"live": "LIVE", "off": "off, as entered", "unknown": "state not known: treat as live"}


def sections(given: Given) -> list[Section]:
    """The call, what the caller said, services, who goes, and the card."""
    job = given.job
    call, facts_of = job.call or Call(), job.job
    customer = job.customer
    return [
        section(
            "The call",
            facts(
                ("Called at", call.at),
                ("Taken by", call.taken_by),
                ("Caller", facts_of.caller),
                ("Call back", call.phone),
                ("Owner", facts_of.owner),
                ("Site", facts_of.site),
                ("Insurer", customer.insurer if customer else None),
                ("Claim", customer.claim if customer else None),
            ),
            plain="Who called, and where the tree is. An insurer's name is only written down so that the papers "
            "reach the right desk.",
        ),
        section(
            "What the caller said",
            facts(
                ("Hurt, trapped", call.hurt),
                ("In the building", call.inside),
                ("What it hit", call.hit),
                ("When, weather", call.happened),
                ("Wires", call.wires),
                ("Gas", call.gas),
                ("Water", call.water),
                ("Way there", call.access),
            ),
            plain="Asked in this order: people first, then wires and gas, then the building. As told, not as seen.",
        ),
        section(
            "Wires, gas, water",
            table(
                (1, 2, 2),
                ("Service", "State", "Nearest distance"),
                map(_utility, job.job.utilities),
                empty="No service line is entered: treat every line as live.",
            ),
            plain="A line counts as live until the company it belongs to says otherwise.",
        ),
        section(
            "Who goes",
            facts(
                ("Everyone out", job.job.people_out),
                ("Lead", facts_of.lead),
                ("Nearest hospital", facts_of.hospital),
                ("Caller told at", call.told_at),
                ("How", call.told_by),
            ),
            points(facts_of.crew, "crew not entered yet"),
            plain="The lead is the person who decides on site.",
        ),
        section("Written down on the telephone", blanks((1,), ("",))),
        _card(given),
    ]


def _utility(line: Utility) -> list[str]:
    return [line.kind, STATES[line.state], entered(line.distance)]


def _card(given: Given) -> Section:
    """The page for the caller: read out, sent as a picture, or handed over."""
    company, job = given.job.company, given.job.job
    foot = (
        ("We are", company.name if company else None),
        ("Call us", company.phone if company else None),
        ("Coming to", job.site),
        ("Asks for", job.lead),
    )
    steps = [caution.text for caution in cautions_for("caller")]
    return section("For the caller", card("What to do until we arrive", steps, foot), fresh=True)
