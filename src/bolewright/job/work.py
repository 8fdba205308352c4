"""The work: cuts asked for, what may be handled, timber on the truck, and the limits set."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Any, Literal

from pydantic import Field

from bolewright.job.doors import Reader, refuse
from bolewright.job.fields import Count, Distance, Force, Id, Length, Mass, Samples, Seed, Share, Text, filled
from bolewright.job.quantity import BadQuantity, Dimension, quantity
from bolewright.job.table import Table

INCH = 0.0254  # m


@dataclass(frozen=True)
class Timber:
    """Cross-section of a stick: sides in metres as written; `nominal` when the name is in inches ("4x4").

    A nominal side is larger than the dressed stick (a 4x4 measures 3 1/2 in), so dressed sizes are to be looked up.
    """

    text: str
    shape: Literal["sawn", "round"]
    width: float
    depth: float
    nominal: bool

    def __str__(self) -> str:
        return self.text


_NOMINAL = re.compile(r"\s*([0-9]{1,2})\s*[xX×]\s*([0-9]{1,2})\s*")
_EXACT = re.compile(r"\s*([0-9.]+)\s*[xX×]\s*([0-9.]+)\s*(mm|cm|in)\s*")
_TIMBER_HELP = 'Timber is written "4x4", "6x6", "100 x 150 mm", or "round 8 in" for a log.'


def _read_timber(value: Any) -> Timber:
    """The cross-section in a text."""
    if isinstance(value, Timber):
        return value
    text = value.strip() if isinstance(value, str) else ""
    sawn = _NOMINAL.fullmatch(text)
    exact = _EXACT.fullmatch(text)
    try:
        if sawn:
            sides = [int(side) * INCH for side in sawn.groups()]
        elif exact:
            sides = [quantity(f"{side} {exact[3]}", Dimension.LENGTH).likely for side in exact.groups()[:2]]
        elif text.startswith("round "):
            sides = [quantity(text.removeprefix("round "), Dimension.LENGTH).low] * 2  # the thin end of what is known
        else:
            raise refuse(_TIMBER_HELP)
    except BadQuantity:
        raise refuse(_TIMBER_HELP) from None
    if not all(0.02 <= side <= 1.5 for side in sides):
        raise refuse(f"Timber sides run from 1 in to 60 in (25 mm to 1.5 m). {_TIMBER_HELP}")
    return Timber(text, "sawn" if sawn or exact else "round", min(sides), max(sides), sawn is not None)


Section = Annotated[Timber, Reader(_read_timber, {"type": "string", "pattern": "[0-9]", "maxLength": 80})]


class Cut(Table):
    """A place where a cut is wanted; when none is given, places are found."""

    member: Id = Field("stem", description='"stem" or the id of a limb')
    at: Distance = Field(description="distance along the member from its base; 0 on a limb is where it grows")


class Prop(Table):
    """A prop the plan has to count with: it is set under the stem before the first cut. Several are brought to their
    forces together: the crew goes from one to the next until each shows its own."""

    id: Id = Field(description="its name in drawings and answers")
    at: Distance = Field(description="distance along the stem from the butt")
    jacked: Force | None = Field(None, description="force it is brought to; leave out when it is snug")


class Leave(Table):
    """Wood that is left on, for good or until a limb is off. No step takes the piece it belongs to before."""

    member: Id = Field("stem", description='"stem" or the id of a limb')
    at: Distance = Field(description="distance along the member from its base, anywhere on the piece meant")
    until: Id | None = Field(None, description="limb that has to be off first; left out, this wood is never taken")


class Handling(Table):
    """The heaviest piece each way of handling may take; crane work is only planned when `crane` is given."""

    hand: Mass = filled("80 lb", Dimension.MASS, "heaviest piece carried off by hand in one carry")
    drop: Mass = filled("500 lb", Dimension.MASS, "heaviest piece that may be let fall free")
    drop_height: Length = filled("10 ft", Dimension.LENGTH, "most a piece may fall")
    roll: Mass = filled("500 lb", Dimension.MASS, "heaviest piece that may be rolled off")
    line: Mass = filled("400 lb", Dimension.MASS, "heaviest piece let down on a lowering line")
    crane: Mass | None = Field(None, description="heaviest piece at the crane's working radius; leave out without one")


class Truck(Table):
    """Timber that came on the truck, for props and cribs."""

    section: Section = Field(description="cross-section: sides of sawn timber or diameter of round wood")
    length: Length = Field(description="length of each stick")
    count: Count = Field(description="how many there are")
    species: Text | None = Field(None, description="kind of wood")
    grade: Text | None = Field(None, description="grade stamped on it")


class Limits(Table):
    """How far the plan may go."""

    share: Share = filled("90 %", Dimension.SHARE, "share of samples in which a step must stay within every limit")
    floor: Share = filled(
        "5 %", Dimension.SHARE, "rise over what a support carries now that is let pass, of all the weight"
    )
    movement: Length = filled("2 in", Dimension.LENGTH, "most any support point may move in one step")
    building: Force | None = Field(None, description="most the building may carry in all; replaces what it carries now")
    until: Literal["all is off", "the building is clear"] | None = Field(
        None,
        description="how far the order goes; left out, until all is off, and where no order gets that far, until the "
        "building is clear",
    )
    samples: Samples = Field(512, description="how many samples are worked through")
    seed: Seed = Field(1, description="start of the chance numbers, so that an answer can be repeated")
