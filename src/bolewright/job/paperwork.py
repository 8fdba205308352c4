"""What only the papers need: company and customer, the call, terms, changes, the log of the day, bill and hand-over.

Nothing here changes an answer, and everything may be left out: a paper says what was not entered.
"""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Annotated, Any, Literal

from pydantic import Field

from bolewright.job.doors import Reader, refuse
from bolewright.job.fields import Date, Duration, Id, Notes, Text, Yes
from bolewright.job.rates import Money, Tag, TimeOfDay
from bolewright.job.table import Table

_PLAIN = re.compile(r"[0-9]{1,6}(?:\.[0-9]{1,2})?")


def _read_plain(value: Any) -> Decimal:
    """A quantity on a bill: to two places, so that quantity times rate is the amount printed."""
    if isinstance(value, Decimal):
        return value
    text = repr(value) if isinstance(value, int | float) and not isinstance(value, bool) else value
    if not isinstance(text, str) or not _PLAIN.fullmatch(text.strip()) or Decimal(text.strip()) == 0:
        raise refuse('Write how many as a plain number over 0 with two places at most, such as "2.5".')
    return Decimal(text.strip())


HowMany = Annotated[
    Decimal, Reader(_read_plain, {"type": ["string", "number"], "examples": ["2.5"], "pattern": "[0-9]"})
]


class Company(Table):
    """Who does the work, as it stands at the head of every paper that leaves the house."""

    name: Text = Field(description="name of the company")
    address: Text | None = Field(None, description="its address")
    phone: Text | None = Field(None, description="its telephone")
    email: Text | None = Field(None, description="its mail address")
    licence: Text | None = Field(None, description="licences and certificates, with their numbers")
    insurance: Text | None = Field(None, description="liability and workers' insurance: insurer, number, until when")


class Customer(Table):
    """Who orders the work and pays for it."""

    name: Text | None = Field(None, description="who orders the work; left out, the owner")
    address: Text | None = Field(None, description="where the papers go; left out, the site")
    phone: Text | None = Field(None, description="telephone")
    email: Text | None = Field(None, description="mail address")
    insurer: Text | None = Field(None, description="the customer's insurer")
    claim: Text | None = Field(None, description="claim or policy number, as the customer gives it")


class Call(Table):
    """What was asked and answered on the telephone."""

    at: TimeOfDay | None = Field(None, description="when the call came")
    taken_by: Text | None = Field(None, description="who took it")
    phone: Text | None = Field(None, description="number to call back")
    happened: Text | None = Field(None, description="when the tree came down, and in what weather")
    hurt: Text | None = Field(None, description="whether anyone is hurt or trapped")
    inside: Text | None = Field(None, description="who is still in the building")
    hit: Text | None = Field(None, description="what it lies on and what is broken")
    wires: Text | None = Field(None, description="wires down or touched, as the caller sees it")
    gas: Text | None = Field(None, description="smell of gas, as the caller says")
    water: Text | None = Field(None, description="water running in")
    access: Text | None = Field(None, description="how to get there, what is in the way")
    told_at: TimeOfDay | None = Field(None, description="when the caller was told what to do until the crew comes")
    told_by: Text | None = Field(None, description="how it was told: read out, text message, mail")


class Terms(Table):
    """What is agreed before work starts."""

    scope: tuple[Text, ...] = Field((), description="what the work is, line by line")
    excluded: tuple[Text, ...] = Field((), description="what is not part of it")
    invoice: Text | None = Field(None, description="number of the invoice")
    payment: Text | None = Field(None, description="when and how it is paid")
    valid: Text | None = Field(None, description="how long the estimate stands")
    wood: Text | None = Field(None, description="what becomes of the wood and the chips")
    owns: Yes | None = Field(None, description="true when the customer has said that tree and building are theirs")
    neighbour: Text | None = Field(None, description="consent of neighbours whose land is entered, or whose tree it is")
    buried: Text | None = Field(None, description="what the owner says lies under the lawn")
    permits: Text | None = Field(None, description="permits and protected-tree rules, as found out")
    authorised_by: Text | None = Field(None, description="who ordered the work")
    authorised_on: Date | None = Field(None, description="on which day")
    authorised_at: TimeOfDay | None = Field(None, description="at what time")


class Lifting(Table):
    """Who does what when something hangs: for the lift plan."""

    operator: Text | None = Field(None, description="who runs the crane or the winch")
    signals_by: Text | None = Field(None, description="the one person who gives signals")
    signals: Text | None = Field(None, description="how: hand, radio, relayed")
    footing: Text | None = Field(None, description="what the crane or the anchor stands on, and mats")


class Change(Table):
    """A change of the work after it was agreed."""

    id: Id = Field(description="its number or name")
    what: Text = Field(description="what is different")
    why: Text | None = Field(None, description="why it could not be seen before")
    photo: Text | None = Field(None, description="number or name of the photograph that shows it")
    hours: Duration | None = Field(None, description="crew time it adds")
    price: Money | None = Field(None, description="what it adds, before tax")
    tag: Tag = Field("make safe", description="what kind of work it is")
    effect: Text | None = Field(None, description="what it does to the day")


class LogLine(Table):
    """A line of the day's log."""

    at: TimeOfDay = Field(description="when")
    on: Date | None = Field(None, description="on which day; left out, the day of the work")
    what: Text = Field(description="what happened: arrived, set up, first cut, stop, tarp, load, left")
    by: Text | None = Field(None, description="who wrote it down")


class Worked(Table):
    """Hours the crew worked, step by step: what the bill is made from."""

    step: Literal["set-up", "secure", "cut", "lower", "move", "load", "clean"] = Field(description="which step")
    hours: Duration = Field(description="time of the whole crew")
    on: Date | None = Field(None, description="on which day")


class Billed(Table):
    """A line of the bill besides crew hours: machine, crane ticket, tip fees, tarp."""

    tag: Tag = Field(description="what kind of work it is")
    what: Text = Field(description="what it is")
    quantity: HowMany = Field(description="how many")
    unit: Text = Field(description="of what: h, loads, sheets, each")
    rate: Money = Field(description="for one")


class HandOver(Table):
    """What the customer is told when the crew leaves."""

    done: tuple[Text, ...] = Field((), description="what was done")
    not_done: tuple[Text, ...] = Field((), description="what was agreed and not done, and why")
    left: tuple[Text, ...] = Field((), description="what was left by agreement: stump, wood, chips")
    danger: tuple[Text, ...] = Field((), description="what is still not made good")
    before: Text | None = Field(None, description="damage there before the crew came")
    ours: Text | None = Field(None, description="damage the crew did beyond what the tree had done")
    cover: Text | None = Field(None, description="how the opening was covered")
    at: TimeOfDay | None = Field(None, description="when it was handed over")
    to: Text | None = Field(None, description="to whom")
    notes: Notes | None = Field(None, description="anything else")
