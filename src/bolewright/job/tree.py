"""The tree as measured: stations along the stem, limbs, decay, and what still holds the butt."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, model_validator

from bolewright.job.doors import Reader, refuse
from bolewright.job.fields import (
    Bearing,
    Clock,
    Coordinate,
    Density,
    Depth,
    Diameter,
    Distance,
    Id,
    Length,
    LimbAngle,
    Notes,
    PlateSize,
    Share,
    Text,
    Yes,
)
from bolewright.job.quantity import Quantity
from bolewright.job.table import Table

STEM = "stem"


class Station(Table):
    """A place along the stem where its diameter was taken; the first is the butt, at = "0 ft"."""

    at: Distance = Field(description="distance along the stem from the butt")
    diameter: Diameter = Field(description="diameter of the stem there, bark included")
    height: Coordinate | None = Field(None, description="underside of the stem above the ground there")
    offset: Coordinate | None = Field(None, description="how far the stem bends sideways there, + to the right")


class Limb(Table):
    """A limb or branch, straight from where it grows to its tip."""

    id: Id = Field(description="its name, used everywhere else; not stem, S1, S2 ...")
    on: Id = Field(STEM, description='what it grows from: "stem" or the id of another limb')
    at: Length = Field(description="distance along the parent, from the parent's own base")
    clock: Clock = Field(description="side it grows from, looking butt to tip: 12 up, 3 right, 6 down, 9 left")
    angle: LimbAngle = Field(description="angle from the parent's axis, measured towards the parent's tip")
    length: Length = Field(description="length from the parent's centre line to the tip")
    diameter: Diameter = Field(description="diameter just outside the parent's bark and any swelling")
    tip_diameter: Depth | None = Field(None, description="diameter at the tip")
    foliage: Literal["leaf", "bare", "needle", "none"] = Field(
        "bare", description="what it carries: leaves, bare twigs, needles, or no twigs at all"
    )
    broken: Yes = Field(False, description="true when it is cracked or hanging, so that nothing may rest on it")


def _read_readings(value: Any) -> dict[str, Quantity]:
    """Depth of sound wood at clock positions."""
    if not isinstance(value, dict) or not value:
        raise refuse('Readings are written as clock positions with depths, such as { "12" = "5 in", "3" = "4 in" }.')
    read: dict[str, Quantity] = {}
    for clock, depth in value.items():
        read[clock_text(clock)] = _DEPTH.read(depth)
    if len({float(clock) % 12 for clock in read}) < len(value):
        raise refuse("Two readings are at the same clock position: keep one of them.")
    return read


def clock_text(clock: Any) -> str:
    """A clock position written as a key, refused when it is none."""
    try:
        hours = float(clock)
    except (TypeError, ValueError):
        hours = -1.0
    if not 0 <= hours <= 12:
        raise refuse(f'"{str(clock)[:20]}" is not a clock position: write a number from 0 to 12, 12 up and 3 right.')
    return str(clock)


_DEPTH = Depth.__metadata__[0]  # type: ignore[attr-defined]
Readings = Annotated[
    dict[str, Quantity],
    Reader(
        _read_readings,
        {
            "type": "object",
            "minProperties": 1,
            "propertyNames": {"pattern": "^[0-9]"},
            "additionalProperties": {"type": "string"},
        },
        lambda readings: {clock: depth.text for clock, depth in readings.items()},
    ),
]


class Decay(Table):
    """A stretch of a member that is hollow or rotten inside; one table for each stretch."""

    member: Id = Field(STEM, description='"stem" or the id of a limb')
    from_: Distance = Field(alias="from", description="where it starts along the member")
    to: Length = Field(description="where it ends along the member")
    shell: Depth | None = Field(None, description="depth of sound wood in from the bark, the same all round")
    readings: Readings | None = Field(None, description="depth of sound wood at clock positions, in place of shell")

    @property
    def shells(self) -> tuple[tuple[float, Quantity], ...]:
        """(clock, depth) in clock order; the one shell depth, when there are no readings, stands at 12."""
        if self.readings:
            return tuple(sorted(((float(c), d) for c, d in self.readings.items()), key=lambda pair: pair[0]))
        return ((12.0, self.shell),) if self.shell is not None else ()

    @model_validator(mode="after")
    def _one_of_two(self) -> Decay:
        if (self.shell is None) == (self.readings is None):
            raise refuse("Give the sound wood once, either as shell or as readings, not both and not neither.")
        return self


class RootPlate(Table):
    """The lifted disc of roots and soil at the butt."""

    diameter: PlateSize = Field(description="across the plate")
    thickness: PlateSize = Field(description="thickness of roots and soil together")
    soil: Literal["clay", "loam", "sand"] | None = Field(None, description="soil held in the roots")


class Hinge(Table):
    """The fibre that still joins a snapped stem to its stump."""

    share: Share | None = Field(None, description="part of the section that is still attached")


class Tree(Table):
    """The tree as it lies."""

    species: Text = Field(description="common or scientific name, as in the species table")
    density: Density | None = Field(None, description="green density, bark included; replaces the species table")
    attached: Literal["free", "hinge", "root plate", "standing"] = Field(
        description="what holds the butt: nothing, fibre at a break, roots, or the tree still stands"
    )
    bearing: Bearing | None = Field(None, description="compass direction from butt to tip, clockwise from north")
    dbh: Diameter | None = Field(None, description="diameter at breast height (4 ft 6 in or 1.3 m up)")
    moisture_note: Notes | None = Field(None, description="anything seen about wetness: sap wet, dead and dry, soaked")
    stem: tuple[Station, ...] = Field((), description="stations from the butt outward, at least two")
    limb: tuple[Limb, ...] = Field((), description="limbs worth naming; the rest is filled in")
    decay: tuple[Decay, ...] = Field((), description="hollow or rotten stretches")
    root_plate: RootPlate | None = Field(None, description='needed when attached = "root plate"')
    hinge: Hinge | None = Field(None, description='only when attached = "hinge"')
