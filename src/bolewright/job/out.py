"""Getting it out: the way out, machines, boards, loads, crane chart and gear. Rates and the day are in `rates`."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from bolewright.job.fields import (
    Bearing,
    Coordinate,
    Count,
    Diameter,
    Distance,
    Force,
    Id,
    Layers,
    Length,
    Mass,
    Notes,
    Pressure,
    Share,
    Slope,
    Steps,
    Stretch,
    Volume,
    Wheels,
    Wraps,
    Yes,
    filled,
)
from bolewright.job.quantity import Dimension
from bolewright.job.rates import Money
from bolewright.job.table import Table

Kind = Literal["logs", "brush", "chips"]
TipBy = Literal["load", "short ton", "tonne", "cubic yard", "cubic metre"]


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
    at: Spot | None = Field(None, description="where it is on the site plan")


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
    cut_again: Yes = Field(
        True,
        description="false when nothing can be cut again where it lands: then what gets out limits the cut order",
    )
    splits: Length | None = Field(
        None, description="longest round that is split along the grain where it lands; left out, none is"
    )


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
    count: Wheels = Field(1, description="how many of it there are")


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
    tip: Money | None = Field(None, description="tip fee of this truck; left out, that of the rates for a load")
    tip_by: TipBy = Field("load", description="what the tip fee is asked for")


class Haul(Table):
    """What goes away as what, and what stays."""

    chipper: Diameter = filled("6 in", Dimension.LENGTH, "thickest wood that is chipped")
    stays: tuple[Kind, ...] = Field((), description="what is left on the site by agreement")


class Crane(Table):
    """A crane and its load chart, typed in from the chart for the set-up used."""

    chart: Notes = Field(description="lines of CSV: radius_ft,capacity_lb (or radius_m, capacity_kg, capacity_t)")
    radius: Length | None = Field(None, description="radius at which the pieces are picked")
    at: Spot | None = Field(None, description="where its boom turns; without a radius, each piece has its own")
    down: Spot | None = Field(None, description="where it sets the pieces down")
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
