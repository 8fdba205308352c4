"""The company's rates, times and record, and the working day."""

from __future__ import annotations

import re
from decimal import Decimal, InvalidOperation
from typing import Annotated, Any, Literal

from pydantic import Field
from pydantic_core import PydanticCustomError

from bolewright.job.doors import Reader, refuse
from bolewright.job.fields import Date, Duration, Share, Speed, Text, Wheels, Yes, filled
from bolewright.job.quantity import Dimension
from bolewright.job.table import Table

MOST_MONEY = Decimal(10) ** 8
_MONEY_HELP = 'Write a sum of money as "185.00", in quotes, with no currency sign.'
_CLOCK_HELP = 'Write a time of day as "07:30".'
_TIME_OF_DAY = re.compile(r"([01]?[0-9]|2[0-3]):([0-5][0-9])")
_MONEY = re.compile(r"-?(?:[0-9]{1,3}(?:,[0-9]{3})+|[0-9]{1,9})(?:\.[0-9]{1,4})?")


def _read_money(value: Any) -> Decimal:
    """A sum of money, exact; a number is taken as it is written, so that no cent is lost to binary fractions."""
    if isinstance(value, Decimal):
        return value
    text = repr(value) if isinstance(value, int | float) and not isinstance(value, bool) else value
    if not isinstance(text, str) or not _MONEY.fullmatch(text.strip()):
        raise refuse(_MONEY_HELP)
    try:
        read = Decimal(text.strip().replace(",", ""))
    except InvalidOperation:
        raise refuse(_MONEY_HELP) from None
    if read < 0:
        raise refuse("A rate cannot be negative: write what it costs, or leave it out.")
    if read > MOST_MONEY:
        raise refuse("This is more money than any rate: check the number.")
    return read


def _read_time_of_day(value: Any) -> str:
    if not isinstance(value, str) or not _TIME_OF_DAY.fullmatch(value.strip()):
        raise refuse(_CLOCK_HELP)
    hours, minutes = value.strip().split(":")
    return f"{int(hours):02d}:{minutes}"


def _read_amount(value: Any) -> Decimal:
    """How many of something are charged for, exact."""
    if isinstance(value, bool) or (isinstance(value, int | float) and value < 0):
        raise refuse('Write how many, such as "2" or "1.5"; it cannot be negative.')
    try:
        return _read_money(value)
    except PydanticCustomError:
        raise refuse('Write how many, such as "2" or "1.5"; it cannot be negative.') from None


Money = Annotated[
    Decimal, Reader(_read_money, {"type": ["string", "number"], "examples": ["185.00"], "pattern": "[0-9]"})
]
TimeOfDay = Annotated[str, Reader(_read_time_of_day, {"type": "string", "examples": ["07:30"], "pattern": ":"})]
Amount = Annotated[Decimal, Reader(_read_amount, {"type": ["string", "number"], "examples": ["2"], "pattern": "[0-9]"})]
Tag = Literal["make safe", "protection", "debris", "other trees", "stump", "optional"]


class Actual(Table):
    """What a step of an earlier job was planned to take and what it took."""

    step: Literal["set-up", "secure", "cut", "lower", "move", "load", "clean"] = Field(description="which step")
    planned: Duration = Field(description="time planned")
    took: Duration = Field(description="time it took")
    job: Text | None = Field(None, description="name of that job; rows of one job and day are added up")
    on: Date | None = Field(None, description="day of that job")


class Extra(Table):
    """A line of the price that does not follow from the wood: a tarp, another tree, a stump, an offer."""

    tag: Tag = Field(description="what kind of work it is")
    what: Text = Field(description="what is done, in plain words")
    quantity: Amount = Field(Decimal(1), description="how many")
    unit: Text = Field("", description="of what: hours, sheets, stumps")
    rate: Money = Field(description="for one")
    taken: Yes = Field(False, description="for an optional line: true when the owner has taken it")


class Rates(Table):
    """The company's own rates and times. Money is exact to the cent; times are for the whole crew."""

    currency: Text = Field("$", description="sign or word written with every sum")
    crew_hour: Money | None = Field(None, description="the whole crew for an hour")
    machine_hour: Money | None = Field(None, description="the machine for an hour")
    crane_hour: Money | None = Field(None, description="the crane for an hour")
    crane_least: Duration | None = Field(None, description="least time the crane is paid for")
    crane_fixed: Money | None = Field(None, description="the crane's coming and going")
    tip_load: Money | None = Field(None, description="tip fee for a load")
    sheet: Money | None = Field(None, description="one sheet laid and taken up")
    tax: Share | None = Field(None, description="tax on the sum")
    ceiling: Money | None = Field(None, description="not to be exceeded without a change order")
    set_up: Duration = filled("0.5..1..2 h", Dimension.TIME, "arriving, looking round, briefing, setting up")
    secure: Duration = filled("15..25..45 min", Dimension.TIME, "one prop, crib or line in place")
    cut: Duration = filled("4..8..15 min", Dimension.TIME, "one cut where the plan gives no time")
    lower: Duration = filled("8..15..30 min", Dimension.TIME, "one piece let down on a line or lifted")
    carry: Duration = filled("1..1.5..3 min", Dimension.TIME, "picking up and laying down one carry by hand")
    trip: Duration = filled("3..5..10 min", Dimension.TIME, "loading and emptying the machine once")
    board: Duration = filled("0.7..1..2 min", Dimension.TIME, "laying, moving or taking up one sheet")
    load: Duration = filled("20..35..60 min", Dimension.TIME, "loading and roping down one truck")
    clean: Duration = filled("1..2..5 h", Dimension.TIME, "raking, blowing, last look round")
    actual: tuple[Actual, ...] = Field((), description="earlier jobs, to learn from")
    left_out: Text | None = Field(
        None, description="why the hours worked on this job say nothing about others: then no job learns from them"
    )
    extra: tuple[Extra, ...] = Field((), description="lines of the price beside what follows from the wood")


class Gusts(Table):
    """Gusts forecast for some hours of a day."""

    from_: TimeOfDay = Field(alias="from", description="when they begin")
    to: TimeOfDay = Field(description="when they are over")
    gusts: Speed = Field(description="how strong")
    day: Wheels = Field(1, description="day of the work; 1 is the first")


class Day(Table):
    """The working day: light, wind, and who works beside each other."""

    start: TimeOfDay = Field("07:30", description="when the crew is on site")
    light_until: TimeOfDay | None = Field(None, description="when it gets too dark to work")
    wind: Speed | None = Field(None, description="gusts forecast for the first day")
    wind_limit: Speed = filled("25 mph", Dimension.SPEED, "gusts at which work off the ground stops")
    forecast: tuple[Gusts, ...] = Field((), description="gusts by the hour, where they are known")
    crews: Wheels = Field(1, description="crews that work at the same time, each as the rates mean it")
    people: Wheels | None = Field(None, description="people in one crew")
