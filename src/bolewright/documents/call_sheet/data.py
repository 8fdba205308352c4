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
    call = given.job.call or Call()
    return [
        _call(given, call),
        _told(call),
        _services(given),
        _who_goes(given, call),
        section("Written down on the telephone", blanks((1,), ("",))),
        _card(given),
    ]


def _call(given: Given, call: Call) -> Section:
    job, customer = given.job.job, given.job.customer
    return section(
        "The call",
        facts(
            ("Called at", call.at),
            ("Taken by", call.taken_by),
            ("Caller", job.caller),
            ("Call back", call.phone),
            ("Owner", job.owner),
            ("Site", job.site),
            ("Insurer", customer.insurer if customer else None),
            ("Claim", customer.claim if customer else None),
        ),
        plain="Who called, and where the tree is. An insurer's name is only written down so that the papers "
        "reach the right desk.",
    )


def _told(call: Call) -> Section:
    return section(
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
    )


def _services(given: Given) -> Section:
    return section(
        "Wires, gas, water",
        table(
            (1, 2, 2),
            ("Service", "State", "Nearest distance"),
            map(_utility, given.job.job.utilities),
            empty="No service line is entered: treat every line as live.",
        ),
        plain="A line counts as live until the company it belongs to says otherwise.",
    )


def _who_goes(given: Given, call: Call) -> Section:
    job = given.job.job
    return section(
        "Who goes",
        facts(
            ("Everyone out", job.people_out),
            ("Lead", job.lead),
            ("Nearest hospital", job.hospital),
            ("Caller told at", call.told_at),
            ("How", call.told_by),
        ),
        points(job.crew, "crew not entered yet"),
        plain="The lead is the person who decides on site.",
    )


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
