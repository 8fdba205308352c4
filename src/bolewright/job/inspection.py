"""What was seen, what was tested, and what could not be seen."""

from __future__ import annotations

import math
from typing import Annotated, Any, Literal

from pydantic import Field

from bolewright.job.compass import Compass, Shells
from bolewright.job.doors import Door, Reader, refuse
from bolewright.job.fields import Date, Depth, Diameter, Distance, Force, Id, Notes, Text
from bolewright.job.quantity import Dimension, Quantity
from bolewright.job.table import Table

LONGEST_TRACE = 400_000  # characters


def _read_trace(value: Any) -> str:
    if not isinstance(value, str) or not value.strip():
        raise refuse('A trace is text in quotes: a first line "depth_mm,resistance", then one line for each point.')
    if len(value) > LONGEST_TRACE:
        raise refuse(f"This trace has {len(value)} characters: at most {LONGEST_TRACE} fit here.")
    if any(not (character.isprintable() or character in "\r\n\t") for character in value):
        raise refuse("This trace has characters in it that cannot be read: export it again as plain text.")
    return value


TraceText = Annotated[str, Reader(_read_trace, {"type": "string", "minLength": 1, "maxLength": LONGEST_TRACE})]
Tilt = Annotated[Quantity, Door(Dimension.ANGLE, 0.0, math.radians(0.501), most_words="0.5 deg", above=True)]


class Observation(Table):
    """One thing looked for: seen, not seen, or could not be seen. What could not be seen is carried to the report."""

    group: Literal["roots", "stem", "branches", "crown", "site", "targets", "loads"] = Field(
        description="part of the tree or its place"
    )
    what: Text = Field(description="what was looked for")
    state: Literal["seen", "not seen", "could not see"] = Field(description="what came of it")
    side: Compass | None = Field(None, description="side of the tree")
    height: Distance | None = Field(None, description="height above the ground")
    size: Text | None = Field(None, description="how large, as measured or judged")
    note: Notes | None = Field(None, description="anything else")
    photo: tuple[Text, ...] = Field((), description="numbers or names of the photographs of it")


class Union(Table):
    """A union of a named limb or codominant stem with what it grows on, as looked at."""

    limb: Id = Field(description="id of the limb, as under tree.limb")
    form: Literal["branch", "codominant"] | None = Field(
        None, description="a branch, or two stems of like size; told from the diameters when left out"
    )
    bark: Literal["none", "included", "partly grown over"] | None = Field(
        None, description="bark trapped in the union: none, open to the top, or wood has closed over part of it"
    )
    split: Distance | None = Field(None, description="width of an open crack in it; 0 when looked for and closed")
    note: Notes | None = Field(None, description="anything else")
    photo: tuple[Text, ...] = Field((), description="numbers or names of the photographs of it")


class Test(Table):
    """A test of the wood or the roots."""

    id: Id | None = Field(None, description="its name in answers and drawings")
    kind: Literal["sounding", "probe", "drilling", "opening", "pull"] = Field(description="what was done")
    height: Distance | None = Field(None, description="height above the ground; for a pull, of the rope on the stem")
    side: Compass | None = Field(None, description="side of the stem; for a pull, the side it was pulled to")
    diameter: Diameter | None = Field(None, description="diameter of the stem there, bark included")
    sound: Literal["clear", "dull", "hollow"] | None = Field(None, description="what sounding gave")
    depth: Distance | None = Field(None, description="how deep a probe went in")
    shell: Depth | None = Field(None, description="depth of sound wood under the bark, met by one drill hole")
    shells: Shells | None = Field(None, description="depths of sound wood by side, for several holes at one height")
    trace: TraceText | None = Field(None, description="drilling-resistance trace: depth_mm,resistance line by line")
    width: Distance | None = Field(None, description="width of a cavity's opening along the bark")
    pull: Force | None = Field(None, description="level pull at that height when the plate had tilted")
    tilt: Tilt | None = Field(None, description="tilt of the root plate at that pull")
    note: Notes | None = Field(None, description="anything else")
    photo: tuple[Text, ...] = Field((), description="numbers or names of the photographs of it")


class Inspection(Table):
    """Who looked, when, for what, and from where."""

    date: Date | None = Field(None, description="day of the inspection")
    inspector: Text | None = Field(None, description="who looked")
    assignment: Notes | None = Field(None, description="what was asked for, and by whom")
    limits: Notes | None = Field(None, description="from where it was seen and what was not allowed or possible")
    observation: tuple[Observation, ...] = Field((), description="what was looked for")
    union: tuple[Union, ...] = Field((), description="unions looked at")
    test: tuple[Test, ...] = Field((), description="tests of wood and roots")
