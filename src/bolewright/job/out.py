"""Getting it out and paid: the way out, machines, boards, loads, crane chart, rates, and the day."""

from __future__ import annotations

import re
from decimal import Decimal, InvalidOperation
from typing import Annotated, Any, Literal

from pydantic import Field

from bolewright.job.doors import Reader, refuse
from bolewright.job.fields import (
    Bearing,
    Coordinate,
    Count,
    Diameter,
    Distance,
    Duration,
    Force,
    Id,
    Layers,
    Length,
    Mass,
    Notes,
    Pressure,
    Share,
    Slope,
    Speed,
    Steps,
    Stretch,
    Text,
    Volume,
    Wheels,
    Wraps,
    Yes,
    filled,
)
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


Money = Annotated[
    Decimal, Reader(_read_money, {"type": ["string", "number"], "examples": ["185.00"], "pattern": "[0-9]"})
]
TimeOfDay = Annotated[str, Reader(_read_time_of_day, {"type": "string", "examples": ["07:30"], "pattern": ":"})]
Kind = Literal["logs", "brush", "chips"]


class Spot(Table):
    """A point on the site plan, from the ground under the butt."""

    forward: Coordinate = Field(description="along the tree's bearing, butt towards tip")
    right: Coordinate = Field(description="to the right looking butt to tip; minus is left")


class Leg(Table):
    """A stretch of the way out, in the order walked from the tree to the street."""

    surface: Literal["lawn", "gravel", "pavement", "soil"] = Field("lawn", description="what it runs over")
    length: Stretch | None = Field(None, description="how long it is; left out, it is taken from the points")
    to: Spot | None = Field(None, description="where it ends on the site plan")
    slope: Slope | None = Field(None, description="+ when it climbs on the way out")
    width: Length | None = Field(None, description="narrowest clear width along it")
    steps: Steps = Field(0, description="steps or kerbs that wheels do not take")
    turn: Length | None = Field(None, description="clear room across where the load has to turn at its end")


class Gate(Table):
    """A gate or passage all wood has to go through."""

    id: Id = Field(description="its name in answers")
    width: Length = Field(description="clear width")
    height: Length | None = Field(None, description="clear height where something is overhead")


class NoGo(Table):
    """Ground that nothing may stand on or cross: a septic tank or field, a line, a bed."""

    id: Id = Field(description="its name in answers")
    kind: Literal["septic", "drain field", "sprinkler", "line", "bed", "soft spot", "other"] = Field(
        description="what lies there or under it"
    )
    near: Coordinate = Field(description="distance forward from the butt to its near side")
    far: Coordinate = Field(description="distance forward from the butt to its far side")
    left: Coordinate = Field(description='how far it reaches to the left of the butt line ("20 ft" is 20 ft left)')
    right: Coordinate = Field(description='how far it reaches to the right ("-5 ft" when all of it lies left)')


class Access(Table):
    """The way out for the wood, from the tree to where it is loaded."""

    start: Spot | None = Field(None, description="where the way out begins on the site plan")
    leg: tuple[Leg, ...] = Field((), description="stretches of the way, in order")
    gate: tuple[Gate, ...] = Field((), description="gates and passages on it")
    no_go: tuple[NoGo, ...] = Field((), description="ground to keep off")
    state: Literal["firm", "damp", "wet"] = Field(
        "damp", description="the lawn today: a heel leaves no mark, leaves a mark, or water comes up round a boot"
    )
    soil: Literal["clay", "loam", "sand"] = Field("loam", description="soil under the turf")
    pressure: Pressure | None = Field(None, description="most the lawn may be pressed; replaces the table's value")
    owner_told: Yes | None = Field(None, description="true when the owner has said what lies under the lawn")


class Machine(Table):
    """Something that carries wood out: dolly, cart, loader. The first that fits a piece takes it."""

    name: Id = Field(description="what it is, in plain words")
    runs_on: Literal["wheels", "tracks"] = Field("wheels", description="what it runs on")
    mass: Mass = Field(description="its own mass, empty")
    payload: Mass = Field(description="most it takes, from its plate")
    width: Length = Field(description="over all")
    wheels: Wheels = Field(2, description="wheels that carry the load")
    tyre_width: Length | None = Field(None, description="width of one tyre or track")
    tyre_diameter: Length | None = Field(None, description="diameter of a wheel")
    tyre_pressure: Pressure | None = Field(None, description="pressure in the tyres; a solid wheel presses far harder")
    contact: Length | None = Field(None, description="length of a track on the ground")
    wheel_load: Mass | None = Field(None, description="heaviest wheel when loaded, where it was weighed")
    longest: Length | None = Field(None, description="longest piece it takes")
    turning: Length | None = Field(None, description="clear room across that it needs to turn")
    pushed: Yes = Field(False, description="true when people push it")


class Boards(Table):
    """Sheets to lay over lawn and soil."""

    thickness: Length = Field(description="of one sheet")
    count: Count = Field(description="how many are on the truck")
    length: Length = filled("8 ft", Dimension.LENGTH, "of one sheet")
    width: Length = filled("4 ft", Dimension.LENGTH, "of one sheet")
    lap: Distance = filled("1 ft", Dimension.LENGTH, "overlap at joints")
    laid: Literal["lapped", "butted"] = Field("lapped", description="joints lapped, or edge to edge")
    layers: Layers = Field(1, description="sheets on top of each other")


class Load(Table):
    """A truck or trailer that takes wood away."""

    name: Id = Field(description="what it is, in plain words")
    payload: Mass = Field(description="most it takes: gross rating less its own mass, from the plate")
    volume: Volume | None = Field(None, description="room in it")
    length: Length | None = Field(None, description="longest piece it takes")
    takes: tuple[Kind, ...] = Field((), description="what it is for; left out, everything")


class Haul(Table):
    """What goes away as what, and what stays."""

    chipper: Diameter = filled("6 in", Dimension.LENGTH, "thickest wood that is chipped")
    stays: tuple[Kind, ...] = Field((), description="what is left on the site by agreement")


class Crane(Table):
    """A crane and its load chart, typed in from the chart for the set-up used."""

    chart: Notes = Field(description="lines of CSV: radius_ft,capacity_lb (or radius_m, capacity_kg, capacity_t)")
    radius: Length = Field(description="radius at which the pieces are picked")
    hook: Mass = filled("500 lb", Dimension.MASS, "block, ball and what else hangs there besides slings")
    slings: Mass = filled("100 lb", Dimension.MASS, "slings and shackles")
    stowed: Mass | None = Field(None, description="taken off for stowed attachments, from the chart")
    margin: Share = filled("25 %", Dimension.SHARE, "share of the chart kept in hand")


class Rigging(Table):
    """Rope, block and slings for what is let down or lifted."""

    rope: Force | None = Field(None, description="breaking strength of the lowering line, from its maker")
    rope_end: Literal["knot", "splice"] = Field("knot", description="how it is tied to the piece")
    rope_length: Length = filled("30 ft", Dimension.LENGTH, "rope between the piece and where it is held")
    fall: Distance = filled("0 ft", Dimension.LENGTH, "how far a piece falls before the rope is tight")
    run: Length | None = Field(None, description="how far it is let run after that; leave out when it is caught dead")
    block: Force | None = Field(None, description="working load limit on the block")
    block_angle: Bearing = filled("0 deg", Dimension.ANGLE, "between the two parts of line at the block")
    wraps: Wraps = Field(2.0, description="turns of line on the post or stem it is held by")
    slings: Wheels = Field(2, description="sling legs on a lift")
    sling: Force | None = Field(None, description="upright rating on the tag of one sling")
    sling_angle: Slope = filled("60 deg", Dimension.ANGLE, "of the legs, from the horizontal")
    hitch: Literal["choker", "basket", "vertical"] = Field("choker", description="how the slings hold the piece")


class Actual(Table):
    """What a step of an earlier job was planned to take and what it took."""

    step: Literal["set-up", "secure", "cut", "lower", "move", "load", "clean"] = Field(description="which step")
    planned: Duration = Field(description="time planned")
    took: Duration = Field(description="time it took")


class Rates(Table):
    """The company's own rates and times. Money is exact to the cent; times are for the whole crew."""

    currency: Text = Field("$", description="sign or word written with every sum")
    crew_hour: Money | None = Field(None, description="the whole crew for an hour")
    machine_hour: Money | None = Field(None, description="the machine for an hour")
    crane_hour: Money | None = Field(None, description="the crane for an hour")
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


class Day(Table):
    """The working day: light and wind."""

    start: TimeOfDay = Field("07:30", description="when the crew is on site")
    light_until: TimeOfDay | None = Field(None, description="when it gets too dark to work")
    wind: Speed | None = Field(None, description="gusts forecast")
    wind_limit: Speed = filled("25 mph", Dimension.SPEED, "gusts at which work off the ground stops")
