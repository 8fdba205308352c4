"""A tree that stands: its size and lean, the wind it is judged against, its roots, what it could hit, the rating."""

from __future__ import annotations

import math
from typing import Annotated, Literal

from pydantic import Field

from bolewright.job.compass import Compass
from bolewright.job.doors import Door
from bolewright.job.fields import Coordinate, Date, Depth, Distance, Id, Length, Notes, PlateSize, Share, Text, Yes
from bolewright.job.quantity import Dimension, Quantity
from bolewright.job.table import Table

WindSpeed = Annotated[Quantity, Door(Dimension.SPEED, 0.0, 150.0, most_words="150 m/s (336 mph)", above=True)]
Lean = Annotated[
    Quantity,
    Door(
        Dimension.ANGLE,
        0.0,
        math.radians(84.999),
        most_words="84 deg (a tree that lies is described by what it rests on, not by [standing])",
    ),
]
Averaging = Literal["gust", "mean"]
Failing = Literal["improbable", "possible", "probable", "imminent"]
Hitting = Literal["very low", "low", "medium", "high"]
Harm = Literal["negligible", "minor", "significant", "severe"]


class Standing(Table):
    """The tree as it stands, and the wind it is judged against. Sides are compass directions."""

    height: Length = Field(description="from the ground to the top")
    crown_width: Length = Field(description="greatest width of the crown, mean of two directions")
    crown_base: Distance | None = Field(None, description="height where the crown begins")
    crown_shape: Literal["round", "dome", "cone", "column", "fan"] | None = Field(
        None, description="outline: round, widest low (dome), pointed (cone), even (column), widest high (fan)"
    )
    crown_filled: Share | None = Field(
        None, description="part of the outline that is leaf and wood and not sky, from a photograph"
    )
    crown_offset: Distance | None = Field(None, description="how far the middle of the crown stands off the foot")
    crown_towards: Compass | None = Field(None, description="side the crown stands off to")
    lean: Lean | None = Field(None, description="angle of the stem from the plumb")
    lean_towards: Compass | None = Field(None, description="side it leans to")
    sweep: Coordinate | None = Field(
        None, description="how far the stem bulges off the straight line, + to the side it leans to"
    )
    season: Literal["in leaf", "bare", "wet", "iced"] = Field("in leaf", description="state of the crown to judge")
    ice: Depth | None = Field(None, description="thickness of the ice on every twig, when iced")
    terrain: Literal["open water", "flat", "open", "suburb", "city"] = Field(
        "open", description="ground the wind comes over for the last half mile or so"
    )
    wind_form: Literal["ASCE", "EN"] = Field("ASCE", description="standard whose profile with height is used")
    design_gust: WindSpeed | None = Field(None, description="wind it is to stand, as at 10 m (33 ft) in open country")
    design_gust_is: Averaging = Field("gust", description="a 3-second gust, or a 10-minute mean")
    wind_from: Compass | None = Field(None, description="side the worst wind comes from")
    neighbours: Literal["none", "standing", "lost"] | None = Field(
        None, description="trees round it: none, still standing, or some lost lately"
    )
    shelter: Share | None = Field(
        None, description="part of the wind's speed those neighbours take, or took before they were lost"
    )
    rooting: Literal["deep", "shallow"] | None = Field(None, description="roots below 80 cm (32 in), or not")
    soil_state: Literal["firm", "saturated"] | None = Field(None, description="ground as it is judged")
    roots_lost: Share | None = Field(None, description="part of the buttress roots cut, dead or rotten")
    trench: Distance | None = Field(None, description="distance of a trench or cut edge from the trunk")
    plate_diameter: PlateSize | None = Field(None, description="across the root plate, where it can be told")
    plate_depth: PlateSize | None = Field(None, description="depth of the root plate, where it can be told")


class Target(Table):
    """Something or someone the tree could hit."""

    id: Id = Field(description="its name in drawings and answers")
    what: Text = Field(description="what it is")
    distance: Distance = Field(description="from the foot of the tree to its near side")
    towards: Compass = Field(description="side it lies to")
    height: Distance | None = Field(None, description="its height above the ground")
    occupancy: Literal["constant", "frequent", "occasional", "rare"] | None = Field(
        None, description="how often someone or something is there"
    )
    protection: Literal["none", "part", "full"] = Field("none", description="what stands between it and the tree")
    movable: Yes = Field(False, description="true when it can be moved or closed off")


class Option(Table):
    """One way to deal with the tree, with the words the assessor chooses for what is left after it."""

    id: Id = Field(description="its name in answers and papers")
    kind: Literal["look again", "reduce", "thin", "raise", "brace", "prop", "move target", "keep stump", "remove"] = (
        Field(description="what is done")
    )
    by: Share | None = Field(
        None,
        description="part of the crown that goes: of its length (reduce, raise) or leaf (thin); of a limb's length",
    )
    part: Id | None = Field(None, description="limb that is reduced, braced or propped; the whole crown when left out")
    at: Distance | None = Field(None, description="how far out along that limb the brace or prop holds it")
    target: Id | None = Field(None, description="target that is moved or closed off")
    failure: Failing | None = Field(None, description="likelihood of failure after it")
    impact: Hitting | None = Field(None, description="of then hitting the target")
    consequences: Harm | None = Field(None, description="consequences after it")
    reinspect: Date | None = Field(None, description="day to look again after it")
    note: Notes | None = Field(None, description="what it means for the tree, and what it costs")


class Pair(Table):
    """A further part that could fail and what it would then hit, rated by itself."""

    id: Id = Field(description="its name in answers and papers")
    part: Text | None = Field(None, description="the part that would fail")
    target: Id | None = Field(None, description="id of the target it is rated for")
    failure: Failing | None = Field(None, description="likelihood that it fails within the time frame")
    impact: Hitting | None = Field(None, description="likelihood that it then hits the target")
    consequences: Harm | None = Field(None, description="how bad that would be")
    why: Notes | None = Field(None, description="the assessor's reasons for this one")


class Left(Table):
    """What one option leaves of one of those further pairs, in the assessor's words."""

    option: Id = Field(description="id of the option")
    pair: Id = Field(description="id of the pair")
    failure: Failing | None = Field(None, description="likelihood of failure after it")
    impact: Hitting | None = Field(None, description="of then hitting the target")
    consequences: Harm | None = Field(None, description="consequences after it")


class Rating(Table):
    """The assessor's own judgement. Nothing here is worked out from the margin, which stands beside it."""

    part: Text | None = Field(None, description="the part that would fail")
    target: Id | None = Field(None, description="id of the target it is rated for")
    failure: Failing | None = Field(None, description="likelihood that it fails within the time frame")
    impact: Hitting | None = Field(None, description="likelihood that it then hits the target")
    consequences: Harm | None = Field(None, description="how bad that would be")
    time_frame: Text | None = Field(None, description="for how long the judgement stands")
    reinspect: Date | None = Field(None, description="day to look again")
    why: Notes | None = Field(None, description="the assessor's reasons, and what would change the opinion")
    pair: tuple[Pair, ...] = Field((), description="further parts and targets, each rated by itself")
    option: tuple[Option, ...] = Field((), description="ways to deal with it")
    left: tuple[Left, ...] = Field((), description="what an option leaves of a further pair")
