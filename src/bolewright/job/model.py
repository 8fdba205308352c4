"""The whole job document, schema version 1. The tables are in `tree`, `contacts`, `site` and `work`,
those of a standing tree in `standing`, `inspection`, `failure` and `notice`, what only papers need in `paperwork`."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field

from bolewright.job.contacts import Anchor, Line, Support
from bolewright.job.doors import Reader, refuse
from bolewright.job.failure import Failure
from bolewright.job.fields import Date, Distance, Notes, Text, Yes
from bolewright.job.inspection import Inspection
from bolewright.job.migrate import NEWEST
from bolewright.job.notice import Notice
from bolewright.job.out import Access, Boards, Crane, Haul, Load, Machine, Rigging
from bolewright.job.paperwork import Billed, Call, Change, Company, Customer, HandOver, Lifting, LogLine, Terms, Worked
from bolewright.job.progress import Done, Reading
from bolewright.job.rates import Day, Rates
from bolewright.job.site import Building, Ground, Protect
from bolewright.job.standing import Rating, Standing, Target
from bolewright.job.table import Table
from bolewright.job.tree import STEM, Decay, Hinge, Limb, RootPlate, Station, Tree
from bolewright.job.work import Cut, Handling, Leave, Limits, Prop, Timber, Truck

__all__ = [
    "STEM", "Anchor", "Building", "Cut", "Decay", "Done", "Facts", "Ground", "Handling", "Hinge", "Job", "Limb",
    "Limits", "Line", "Protect", "Reading", "RootPlate", "Station", "Support", "Timber", "Tree", "Truck", "Utility",
]  # fmt: skip


def _read_version(value: Any) -> int:
    if type(value) is not int or value != NEWEST:
        raise refuse(f"Write schema = {NEWEST}, a whole number without quotes.")
    return value


Version = Annotated[int, Reader(_read_version, {"const": NEWEST}, int)]


class Utility(Table):
    """A service line on or near the tree."""

    kind: Literal["power", "gas", "water", "sewer", "telephone", "other"] = Field(description="which service")
    state: Literal["live", "off", "unknown"] = Field(
        "unknown", description="off only when the utility itself has said so"
    )
    distance: Distance | None = Field(None, description="nearest distance from tree, crew or machine")


class Facts(Table):
    """Who, where and when."""

    title: Text = Field(description="what the job is called on every paper")
    site: Text | None = Field(None, description="address of the place")
    owner: Text | None = Field(None, description="owner of the building or the tree")
    caller: Text | None = Field(None, description="who called")
    date: Date | None = Field(None, description="day of the work")
    lead: Text | None = Field(None, description="qualified person who leads and decides on site")
    crew: tuple[Text, ...] = Field((), description="names of the crew")
    people_out: Yes | None = Field(None, description="true when everyone has left the building")
    hospital: Text | None = Field(None, description="nearest hospital")
    notes: Notes | None = Field(None, description="anything else")
    utilities: tuple[Utility, ...] = Field((), description="service lines on or near the tree")


class Job(Table):
    """A job: one tree, what it lies on, and what may be done."""

    schema_: Version = Field(alias="schema", description="version of this document, 1")
    job: Facts = Field(description="who, where and when")
    tree: Tree = Field(description="the tree as it lies")
    support: tuple[Support, ...] = Field((), description="what the tree rests on")
    line: tuple[Line, ...] = Field((), description="ropes, straps and hooks on the tree")
    building: tuple[Building, ...] = Field((), description="buildings under or near the tree")
    ground: Ground = Field(default_factory=Ground, description="the ground")
    protect: tuple[Protect, ...] = Field((), description="what must not be hit")
    cut: tuple[Cut, ...] = Field((), description="cuts to consider; when none is given they are found")
    done: tuple[Done, ...] = Field((), description="steps carried out, in order; answers are for what is left")
    reading: tuple[Reading, ...] = Field((), description="what was read, felt or weighed on the way")
    prop: tuple[Prop, ...] = Field((), description="props the plan has to count with")
    leave: tuple[Leave, ...] = Field((), description="wood that stays on, for good or until a limb is off")
    handling: Handling = Field(default_factory=Handling, description="heaviest piece for each way of handling")
    truck: tuple[Truck, ...] = Field((), description="timber on the truck")
    limits: Limits = Field(default_factory=Limits, description="how far the plan may go")
    access: Access | None = Field(None, description="the way out for the wood")
    machine: tuple[Machine, ...] = Field((), description="what carries wood out, in order of preference")
    boards: Boards | None = Field(None, description="sheets for the lawn")
    load: tuple[Load, ...] = Field((), description="trucks and trailers that take wood away")
    haul: Haul = Field(default_factory=Haul, description="what goes away as what")
    crane: Crane | None = Field(None, description="crane and its load chart")
    rigging: Rigging | None = Field(None, description="rope, block and slings")
    rates: Rates = Field(default_factory=Rates, description="rates and times of the company")
    day: Day = Field(default_factory=Day, description="the working day")
    standing: Standing | None = Field(None, description="the tree as it stands, for a tree that is inspected")
    inspection: Inspection | None = Field(None, description="what was seen and tested")
    target: tuple[Target, ...] = Field((), description="what the standing tree could hit")
    rating: Rating | None = Field(None, description="the assessor's judgement")
    failure: Failure | None = Field(None, description="after a failure: what was found, for the look back")
    notice: Notice | None = Field(None, description="the letter to the owner of the tree, and its answers")
    company: Company | None = Field(None, description="who does the work")
    customer: Customer | None = Field(None, description="who orders it")
    call: Call | None = Field(None, description="what was asked and answered on the telephone")
    terms: Terms | None = Field(None, description="what is agreed before work starts")
    lifting: Lifting | None = Field(None, description="who does what when something hangs")
    change: tuple[Change, ...] = Field((), description="changes after the work was agreed")
    log: tuple[LogLine, ...] = Field((), description="the day, line by line")
    worked: tuple[Worked, ...] = Field((), description="hours the crew worked")
    billed: tuple[Billed, ...] = Field((), description="lines of the bill besides crew hours")
    hand_over: HandOver | None = Field(None, description="what the customer is told at the end")
