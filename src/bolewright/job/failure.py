"""After a failure: where and how it broke, what the broken section measured, and the wind that was recorded."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from bolewright.job.compass import Compass, Shells
from bolewright.job.doors import Door
from bolewright.job.fields import Date, Depth, Diameter, Distance, Id, Notes, Share, Text
from bolewright.job.quantity import Dimension, Quantity
from bolewright.job.standing import Averaging, WindSpeed
from bolewright.job.table import Table

FarDistance = Annotated[Quantity, Door(Dimension.LENGTH, 0.0, 1e6, most_words="1000 km (620 miles)")]


class RootBroken(Table):
    """One buttress root as found at the break."""

    side: Compass | None = Field(None, description="side of the tree")
    diameter: Diameter = Field(description="diameter where it broke or ended")
    state: Literal["snapped", "pulled out", "rotten", "cut"] = Field(
        description="snapped sound, pulled out of the soil whole, rotten before, or cut before"
    )
    photo: tuple[Text, ...] = Field((), description="numbers or names of the photographs of it")


class Exhibit(Table):
    """One piece of evidence: a picture, wood that was kept, a record, what a witness said."""

    what: Text = Field(description="what it is")
    kind: Literal["photograph", "wood", "record", "witness", "other"] | None = Field(None, description="which kind")
    kept: Text | None = Field(None, description="where it is kept, and by whom")
    note: Notes | None = Field(None, description="what it shows, and anything else")
    photo: tuple[Text, ...] = Field((), description="numbers or names of the photographs of it")


class Failure(Table):
    """What failed, as found and measured, apart from what is made of it (opinion)."""

    kind: Literal["stem", "roots", "union", "branch"] = Field(description="what gave way")
    limb: Id | None = Field(None, description="id of the limb that gave way, for a union or a branch")
    date: Date | None = Field(None, description="day of the failure")
    height: Distance | None = Field(None, description="height of the break above the ground")
    diameter: Diameter | None = Field(None, description="diameter at the break, bark included")
    fell_towards: Compass | None = Field(None, description="side it fell to")
    shell: Depth | None = Field(None, description="depth of sound wood in the broken section, the same all round")
    shells: Shells | None = Field(None, description="depths of sound wood by side, in place of shell")
    opening: Distance | None = Field(None, description="width of an old opening along the bark")
    opening_side: Compass | None = Field(None, description="side of that opening")
    roots_rotten: Share | None = Field(None, description="part of the buttress roots that was rotten or cut before")
    root: tuple[RootBroken, ...] = Field((), description="roots measured one by one, in place of roots_rotten")
    surface: Text | None = Field(None, description="break surface: splintered, brash, green, discoloured, old crack")
    gust: WindSpeed | None = Field(None, description="wind recorded at the time")
    gust_is: Averaging = Field("gust", description="a 3-second gust, or a 10-minute mean")
    station: Text | None = Field(None, description="weather station and time of the record")
    station_distance: FarDistance | None = Field(None, description="how far the station is from the tree")
    wind_from: Compass | None = Field(None, description="side the wind came from")
    photo: tuple[Text, ...] = Field((), description="numbers or names of the photographs of the break")
    evidence: tuple[Text, ...] = Field((), description="photographs, kept wood, records, each in a line")
    exhibit: tuple[Exhibit, ...] = Field((), description="evidence piece by piece, with its photographs")
    opinion: Notes | None = Field(None, description="what the assessor makes of it, kept apart from what was measured")
