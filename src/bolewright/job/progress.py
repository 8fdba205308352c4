"""How far the work is: the steps that are done, and what was read, felt or weighed on the way."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from bolewright.job.fields import Distance, Force, Id, Length, Mass, Steps, Text, Yes
from bolewright.job.table import Table


class Done(Table):
    """A step that is carried out, in the order it was done: a cut made, or a prop set. Props set one right after the
    other show their forces together, as the last of them stands."""

    what: Literal["cut", "prop"] = Field("cut", description="a cut made, or a prop set under the stem")
    member: Id = Field("stem", description='what was cut or propped: "stem" or the id of a limb')
    at: Distance = Field(description="where the saw went or the prop stands, along the member from its base")
    off: Literal["tip side", "butt side"] = Field("tip side", description="which side of the cut came off")
    how: Literal["free drop", "roll off", "carry", "lower on a line", "crane pick"] | None = Field(
        None, description="how it came off; the hours of what is done are counted by it"
    )
    id: Id | None = Field(None, description="the prop's name in drawings and answers")
    jacked: Force | None = Field(None, description="force the prop was brought to; leave out when it is snug")
    limit: Force | None = Field(None, description="most the prop may carry")


class Reading(Table):
    """What was read, felt or weighed: one of force, settled, feel or mass."""

    on: Id = Field(description="support, prop or line it was read at; for a mass the piece that was weighed")
    after: Steps = Field(0, description="how many of the steps above were done by then; 0 is the tree as found")
    force: Force | None = Field(None, description="what jack, gauge or hook showed, in all at this support")
    settled: Length | None = Field(None, description="how far the wood there moved from the mark made as found")
    rose: Yes | None = Field(None, description="true when it rose by that, not sank")
    feel: Literal["loose", "snug", "hard"] | None = Field(
        None, description="what hand and eye say: a sheet of paper slides (loose), just held (snug), hard loaded (hard)"
    )
    mass: Mass | None = Field(None, description="what the piece weighed")
    together: tuple[Id, ...] = Field((), description="pieces that were weighed with it")
    said: Text | None = Field(None, description="as it was said on site")

    def kinds(self) -> list[str]:
        """Which of the four it tells."""
        return [name for name in ("force", "settled", "feel", "mass") if getattr(self, name) is not None]
