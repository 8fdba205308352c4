"""What the tree rests on and what it is tied to."""

from __future__ import annotations

import math
from typing import Annotated, Any, Literal

from pydantic import Field

from bolewright.job.doors import Reader, refuse
from bolewright.job.fields import Coordinate, Distance, Force, Friction, Id, Length, StiffnessOrRigid
from bolewright.job.table import Table

NORMAL_WORDS = ("up", "square to roof")


def _read_normal(value: Any) -> str | tuple[float, float, float]:
    """A word, or a direction as three numbers (forward, left, up)."""
    if isinstance(value, str) and value in NORMAL_WORDS:
        return value
    numbers = list(value) if isinstance(value, list | tuple) else []
    plain = [n for n in numbers if isinstance(n, int | float) and not isinstance(n, bool) and abs(n) < 1e6]
    if len(plain) != 3 or len(numbers) != 3 or math.hypot(*plain) < 1e-6:
        raise refuse(
            'The direction a support pushes is "up", "square to roof", or three numbers forward, left, up, '
            "such as [0, 0, 1]."
        )
    return (float(plain[0]), float(plain[1]), float(plain[2]))


Normal = Annotated[
    str | tuple[float, float, float],
    Reader(
        _read_normal,
        {
            "anyOf": [
                {"enum": list(NORMAL_WORDS)},
                {"type": "array", "items": {"type": "number"}, "minItems": 3, "maxItems": 3},
            ]
        },
        lambda normal: normal if isinstance(normal, str) else list(normal),
    ),
]


class Support(Table):
    """A place where the wood touches, or nearly touches, something that can carry it."""

    id: Id = Field(description="its name in drawings and answers")
    member: Id = Field("stem", description='what rests there: "stem" or the id of a limb')
    at: Distance = Field(description="distance along the member from its base")
    on: Literal["roof", "wall", "ground", "fence", "prop", "crib", "chock", "tree"] = Field(
        description="what it rests on"
    )
    normal: Normal | None = Field(
        None, description='direction it pushes: "up", "square to roof", or [forward, left, up] as numbers'
    )
    stiffness: StiffnessOrRigid | None = Field(None, description='load per movement, or "rigid"')
    friction: Friction | None = Field(None, description="friction number between wood and surface")
    gap: Distance | None = Field(None, description="clear distance now; leave out when it touches")
    limit: Force | None = Field(None, description="most it may carry")
    tolerance: Length | None = Field(None, description="most the wood may move there")
    feel: Literal["loose", "snug", "hard"] | None = Field(
        None, description="what hand and eye say: a sheet of paper slides (loose), just held (snug), hard loaded (hard)"
    )
    width: Length | None = Field(None, description="width of a saddle that holds the wood at two points side by side")


class Anchor(Table):
    """Where a line goes to, from the ground under the butt."""

    forward: Coordinate = Field(description="along the tree's bearing, butt towards tip")
    right: Coordinate = Field(description="to the right looking butt to tip; minus is left")
    height: Coordinate = Field(description="above the ground under the butt")


class Line(Table):
    """A rope, strap or hook on the tree. It pulls only."""

    id: Id = Field(description="its name in drawings and answers")
    member: Id = Field("stem", description='what it is tied to: "stem" or the id of a limb')
    at: Distance = Field(description="distance along the member from its base")
    kind: Literal["tie-back", "lowering", "crane"] = Field(description="what the line is for")
    anchor: Anchor = Field(description="where it goes to: { forward, right, height }")
    limit: Force | None = Field(None, description="most it may be pulled")
    pull: Force | None = Field(None, description="pull set on it now, as read on a gauge or crane")
