"""From readings to a shell: drill holes round the stem, an opening, and what published rules of thumb say to it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bolewright.core.base.errors import BadInput
from bolewright.core.sections import shell_depth

Readings = tuple[tuple[float, float], ...]  # (clock position, depth of sound wood [m])
DENSE = 120  # places round the clock when an opening is cut into a shell
LIP = 0.02  # h of the clock over which the wall ends at an opening
SHELL_RULE = 1.0 / 3.0  # sound shell over radius: 1 in per 6 in of diameter
OPEN_LIMIT = 120.0  # deg of circumference


@dataclass(frozen=True)
class Rule:
    """A published rule of thumb, what it looks at here, its limit, and on which side of it this section lies."""

    name: str
    value: float
    limit: float
    within: bool
    applies: bool
    source: str


def clock_of_azimuth(azimuth: float, bearing: float) -> float:
    """Clock position (0 < h <= 12) on a plumb stem of a compass direction [rad], with the tree's bearing [rad].

    Seen from butt to tip, that is from below: 6 looks along the bearing, 12 back, 3 to the right of it.

    Source: house rule for clock positions (core.base.vectors).
    Checked by: tests/unit/standing/test_decay.py
    """
    hours = (6.0 - (azimuth - bearing) * 6.0 / np.pi) % 12.0
    return 12.0 if hours < 1e-9 else float(hours)


def opened_shell(diameter: float, readings: Sequence[tuple[float, float]], opening: tuple[float, float]) -> Readings:
    """Readings with the wall taken out over an opening (clock, width [m] along the bark), edges along radii.

    Raises BadInput for an opening as wide as the stem is round.

    Source: geometry.
    Checked by: tests/unit/standing/test_decay.py
    """
    clock, width = opening
    half = width / diameter * 6.0 / np.pi  # hours
    if not 0.0 < half < 6.0:
        raise BadInput(
            "The opening is as wide as the stem is round: no wall would be left. Measure it again.", "inspection.test"
        )
    edges = [half - LIP, half, half + LIP] if half > LIP else [half / 2.0, half, half + LIP]
    hours = {round(float(h), 9) for h in np.arange(DENSE) * 12.0 / DENSE}
    hours |= {round(float((clock + side * edge) % 12.0), 9) for edge in edges for side in (-1.0, 1.0)}
    ordered = sorted(hours)
    away = np.abs((np.array(ordered) - clock + 6.0) % 12.0 - 6.0)
    depths = np.where(away <= half, 0.0, shell_depth(np.array(ordered), readings))
    return tuple(zip(ordered, depths.tolist(), strict=True))


def rules_of_thumb(diameter: float, readings: Readings, opening_width: float = 0.0) -> tuple[Rule, ...]:
    """The published rules of thumb [-] for a section, to stand beside the strength computed from its shape.

    They know neither off-centre decay nor the direction of the wind; the thinnest reading stands for the shell.

    `diameter` and `opening_width` [m].

    Source: Pokorny 2003, Urban Tree Risk Management (1 in of sound shell per 6 in of diameter); Mattheck et al. 1992
    and the opening of 120 degrees, as tabulated in Arboriculture & Urban Forestry; Huang et al. 2017, R. Soc. Open
    Sci. 4:160972.
    Checked by: tests/handbook/test_decay_published.py
    """
    closed = opening_width <= 0.0 and all(depth > 0.0 for _, depth in readings)
    thinnest = min(min(depth for _, depth in readings), diameter / 2.0) / (diameter / 2.0)
    share = float(np.degrees(2.0 * opening_width / diameter))
    public = "public hazard tree guide, after Pokorny 2003, Urban Tree Risk Management (attribution from memory)"
    table = "Mattheck et al. 1992, as tabulated in Arboriculture & Urban Forestry"
    wall = "Huang et al. 2017, R. Soc. Open Sci. 4:160972"
    return (
        Rule("shell over radius", thinnest, SHELL_RULE, thinnest >= SHELL_RULE, True, public),
        Rule("shell over radius, closed stems", thinnest, 0.30, thinnest >= 0.30, closed, table),
        Rule("wall cracks before it bends below", thinnest, 0.27, thinnest > 0.27, closed, wall),
        Rule("wall flattens below", thinnest, 0.06, thinnest > 0.06, closed, wall),
        Rule("opening, degrees of the circumference", share, OPEN_LIMIT, share <= OPEN_LIMIT, not closed, table),
    )


def cavity_share(diameter: float, readings: Readings) -> float:
    """Diameter of the round cavity with the area of the void over that of the stem [-], for the one-line formulas.

    Source: geometry, area in polar coordinates.
    Checked by: tests/unit/standing/test_decay.py
    """
    hours = np.arange(360) / 30.0
    radius = diameter / 2.0
    void = np.maximum(radius - shell_depth(hours, readings), 0.0)
    return float(np.sqrt(np.mean(void**2)) / radius)


def checked_readings(diameter: float, readings: Sequence[tuple[float, float]], path: str) -> Readings:
    """The readings [m] in clock order, refused where they contradict the stem or each other.

    Source: house rule.
    Checked by: tests/unit/standing/test_decay.py
    """
    radius = diameter / 2.0
    found: dict[float, float] = {}
    for clock, depth in readings:
        place = clock % 12.0
        if depth < 0.0 or not np.isfinite(depth):
            raise BadInput("A depth of sound wood cannot be negative.", path)
        if depth > radius * 1.02 + 1e-6:
            raise BadInput(
                f"{_thick(depth)} of sound wood is more than the radius of the wood there, {_thick(radius)}: check "
                "depth, diameter and bark.",
                path,
            )
        if place in found and abs(found[place] - depth) > 0.02:
            raise BadInput(
                f"Two readings on the same side differ: {_thick(found[place])} and {_thick(depth)} of sound wood. Keep "
                "one, or say which height each is for.",
                path,
            )
        found[place] = min(depth, radius, found.get(place, radius))
    if not found:
        raise BadInput("Give at least one depth of sound wood.", path)
    if max(found.values()) <= 0.0:
        raise BadInput("No sound wood was found on any side: nothing there would carry the tree. Measure again.", path)
    return tuple(sorted(found.items()))


def _thick(depth: float) -> str:
    """A depth for sentences that stand in either unit system."""
    return f"{100 * depth:.1f} cm ({depth / 0.0254:.1f} in)"
