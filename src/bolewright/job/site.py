"""The place: building, ground, and what must not be hit."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from bolewright.job.fields import Coordinate, Distance, Id, Pressure, Slope, Text
from bolewright.job.table import Table


class Building(Table):
    """A building as a rectangle square to the tree, seen from the butt."""

    id: Id = Field(description="its name in drawings and answers")
    near: Coordinate = Field(description="distance forward from the butt to its near side")
    far: Coordinate = Field(description="distance forward from the butt to its far side")
    left: Coordinate = Field(description='how far it reaches to the left of the butt line ("20 ft" is 20 ft left)')
    right: Coordinate = Field(description='how far it reaches to the right ("-5 ft" when all of it lies left)')
    eave: Distance = Field(description="height of the eave above the ground")
    ridge: Distance | None = Field(None, description="height of the ridge; leave out for a flat roof")
    ridge_runs: Literal["along", "across"] = Field("across", description="ridge along or across the tree's bearing")
    overhang: Distance | None = Field(None, description="how far the eave stands out from the wall")


class Ground(Table):
    """The ground the tree and the props stand on."""

    slope: Slope | None = Field(None, description="+ when it rises forward, from butt to tip")
    surface: Literal["lawn", "gravel", "pavement", "soil"] | None = Field(None, description="what covers it")
    bearing: Pressure | None = Field(None, description="pressure it can carry under a footing")


class Protect(Table):
    """A thing that must not be hit: window, fence, bed, tank, line."""

    id: Id = Field(description="its name in drawings and answers")
    kind: Text = Field(description="what it is")
    near: Coordinate = Field(description="distance forward from the butt to its near side")
    far: Coordinate = Field(description="distance forward from the butt to its far side")
    left: Coordinate = Field(description='how far it reaches to the left of the butt line ("20 ft" is 20 ft left)')
    right: Coordinate = Field(description='how far it reaches to the right ("-5 ft" when all of it lies left)')
    height: Distance | None = Field(None, description="its height above the ground")
