"""After a failure: what gust the measured section needed, and what a test at each place would have shown before."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.range import Range
from bolewright.core.sections import formulas_beside, shell_depth, solid_round, strength_kept
from bolewright.core.sections import measured_shell as shell_section
from bolewright.core.standing.decay import SHELL_RULE, Readings, cavity_share, opened_shell

Floats = NDArray[np.float64]
Answer = Literal["explained by the gust", "failed below the gust computed", "within the spread", "not enough known"]
MOST_LOST = 1.0 / 3.0  # strength loss at which the oldest published rules act
RULES_SOURCE = "Shell: an inch of sound wood for six of diameter, public hazard tree guides; loss: Wagener 1963"


@dataclass(frozen=True)
class WouldShow:
    """What a set of drill holes into the section that broke would have shown."""

    holes: tuple[float, ...]  # clock positions
    depths: tuple[float, ...]  # [m] of sound wood each would have met
    loss: float  # of strength [-] reckoned from those holes alone
    thinnest_share: float  # thinnest shell met over the radius [-]
    over_shell_rule: bool  # shell under a third of the radius
    over_loss_rule: bool  # MOST_LOST of the strength or more, by the cautious one-line formula


def compare_gusts(needed: Range, recorded: float | None) -> Answer:
    """How the gust a section needed [m/s] stands to the gust recorded [m/s], both at 10 m in open country.

    Below its low end the wind recorded does not account for the break: the section was weaker than measured, the
    gust at the tree stronger than at the station, or something else pulled.

    Source: house rule on the 5 and 95 % points.
    Checked by: tests/unit/standing/test_lookback.py
    """
    if recorded is None:
        return "not enough known"
    if recorded >= needed.high:
        return "explained by the gust"
    return "within the spread" if recorded >= needed.low else "failed below the gust computed"


def would_show(
    diameter: float, readings: Readings, holes: tuple[float, ...], opening: tuple[float, float] | None = None
) -> WouldShow:
    """What drill holes at clock positions would have shown of a section with these shell depths [m] and perhaps an
    opening (clock, width [m] along the bark), in which no wood is met.

    With few holes the shell between them is guessed by straight lines: the loss reckoned may lie on either side of the
    loss from the whole section.

    Source: core.sections; published limits as in `rules_of_thumb`.
    Checked by: tests/unit/standing/test_lookback.py
    """
    radius = diameter / 2.0
    whole = opened_shell(diameter, readings, opening) if opening is not None else readings
    depths = np.minimum(shell_depth(np.array(holes), whole), radius)
    thinnest = float(depths.min())
    seen = tuple((h, float(d)) for h, d in zip(holes, depths, strict=True))
    loss, rule = 1.0, 1.0
    if float(depths.max()) > 0.0:
        sound = solid_round(diameter)
        kept = strength_kept(shell_section(diameter, seen), sound)
        loss = 1.0 - kept.strength_worst
        rule = formulas_beside(kept, cavity_share(diameter, seen))[0].loss
    share = thinnest / radius
    return WouldShow(
        holes, tuple(float(d) for d in depths), float(max(loss, 0.0)), share, share < SHELL_RULE, rule >= MOST_LOST
    )
