"""Where a prop meets wood and ground: crushing across the grain at head and foot, the pad, and how far it all gives."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bolewright.core.base.errors import BadInput
from bolewright.core.base.sourced import Sourced, Status
from bolewright.core.props.timber import INCH, Strengths

PSF = 4.4482216152605 / 0.3048**2  # Pa
DENT = 0.25 * INCH  # how deep a flat head may bite into a round stem before it is called crushed; common practice
GRADED_DENT = 0.04 * INCH  # the dent at which bearing across the grain is graded (ASTM D143)
_EDGE = 0.375 * INCH  # wood just beside a short bearing helps this far
_PRESUMPTIVE = 1500.0 * PSF
_SURFACES = {
    "lawn": Sourced(
        0.5 * _PRESUMPTIVE, "half of IBC 2012 Table 1806.2 (clay, 1500 psf): turf and topsoil", Status.COMMON_PRACTICE
    ),
    "soil": Sourced(
        _PRESUMPTIVE, "IBC 2012 Table 1806.2, clay and silt, 1500 psf; same in 24 CFR 3285.202", Status.CONFIRMED
    ),
    "gravel": Sourced(
        _PRESUMPTIVE,
        "IBC 2012 Table 1806.2, clay 1500 psf: a drive is thin, what lies under it governs",
        Status.COMMON_PRACTICE,
    ),
    "pavement": Sourced(
        _PRESUMPTIVE, "IBC 2012 Table 1806.2, clay 1500 psf: no credit for the paving", Status.COMMON_PRACTICE
    ),
}


@dataclass(frozen=True)
class Pad:
    """A square pad of crossed boards under a prop or crib."""

    side: float
    layers: int  # in each of the two directions; the pad is twice this many boards thick
    thickness: float  # of the whole pad
    ground_capacity: float  # N the ground takes over the pad
    bending_capacity: float  # N at which the boards are used up in bending


def ground_allowed(surface: str, given: float | None = None) -> Sourced[float]:
    """Pressure the ground is allowed under a pad [Pa]: as measured when given, else by surface.

    Raises: BadInput for a surface without a value or a pressure not above zero.
    Source: IBC 2012 Table 1806.2; half of it on a lawn is common practice (those values are for footings below
    the topsoil). Nothing is published for mud, peat or loose fill.
    Checked by: tests/handbook/test_columns.py
    """
    if given is not None:
        if given <= 0.0:
            raise BadInput("The pressure the ground may take must be above zero.")
        return Sourced(given, "entered", Status.MEASURED)
    if surface not in _SURFACES:
        known = ", ".join(_SURFACES)
        raise BadInput(f"There is no bearing value for ground of kind {surface}; give one, or say one of {known}.")
    return _SURFACES[surface]


def bearing_factor(length: float, end_distance: float = math.inf) -> float:
    """Gain of a short bearing away from the end of a stick, Cb >= 1.

    Picture: the fibres beside the block hang on to the pressed ones for 3/8 in.
    Comes back as a plain factor [-]. Parameters: length of the bearing along the grain and distance from it to the
    end of the stick [m].
    Source: NDS 2018 3.10.4: (lb + 0.375)/lb for lb under 6 in and 3 in or more from the end.
    Checked by: tests/handbook/test_columns.py
    """
    if length <= 0.0:
        raise BadInput("A bearing needs a length above zero.")
    if length >= 6.0 * INCH or end_distance < 3.0 * INCH:
        return 1.0
    return (length + _EDGE) / length


def across_slope(compression: float, cross_grain: float, angle: float) -> float:
    """Bearing stress at an angle to the grain [Pa]: 0 along it, 90 degrees across.

    Source: Hankinson, NDS 2018 3.10.3 (from memory).
    Checked by: tests/handbook/test_columns.py
    """
    s, c = math.sin(angle) ** 2, math.cos(angle) ** 2
    return compression * cross_grain / (compression * s + cross_grain * c)


def bite_width(diameter: float, dent: float = DENT) -> float:
    """Width over which a flat head touches a round stem once it has bitten in by `dent` [m].

    Picture: a log on a flat board touches along a line; only when it has crushed a little is there a width. A
    notched or saddle head does better: this errs low for it.
    Source: chord of a circle, 2 sqrt(t (D - t)); the 1/4 in dent is common practice.
    Checked by: tests/unit/props/test_bearing.py
    """
    if diameter <= 0.0 or dent <= 0.0:
        raise BadInput("A stem on a prop needs a diameter and a dent above zero.")
    depth = min(dent, 0.5 * diameter)
    return 2.0 * math.sqrt(depth * (diameter - depth))


def cross_grain_capacity(
    cross_grain: float, along: float, across: float, diameter: float | None = None, end_distance: float = math.inf
) -> float:
    """Force a block `along` by `across` the grain [m] may press into wood with this cross-grain strength [N].

    With the diameter of a round stem the width across is at most its bite. Errs low on a stem that rises, where
    the load is not square to the grain.
    Source: NDS 2018 3.10.2 and 3.10.4; no duration factor.
    Checked by: tests/handbook/test_columns.py
    """
    width = across if diameter is None else min(across, bite_width(diameter))
    return cross_grain * bearing_factor(along, end_distance) * along * width


def pad(
    force: float,
    allowed: float,
    block: float,
    boards: Strengths,
    board_thickness: float,
    largest: float = 1.2,
    most_layers: int = 3,
    step: float = 0.05,
) -> Pad:
    """The square pad of crossed boards that spreads `force` [N] over ground allowed `allowed` [Pa].

    Picture: the prop stands on a stack of boards laid crosswise in turn. The ground pushes up evenly; the boards
    stick out past the prop like shelves and bend. Boards are not glued, so each layer bends for itself, and only
    the layers running that way count. Even pressure is the picture: on hard ground the middle takes more, which
    eases the boards; where the prop stands off the middle of its pad the edge takes more, which this misses.

    Parameters: side of what stands on it (`block`), board strengths already adjusted, thickness of one board,
    largest side to build, most layers each way, sides go up in `step` [m].
    Returns the largest allowed pad when even that is too small: its capacities then show by how much.
    Raises: BadInput when a value is not above zero.
    Source: statics: projection p, M = q p^2 / 2 on section t^2 / 6 per width.
    Checked by: tests/unit/props/test_bearing.py
    """
    if min(force, allowed, block, board_thickness, boards.bending) <= 0.0:
        raise BadInput("A pad needs a load, a ground pressure, a block and boards above zero.")
    wanted = max(math.sqrt(force / allowed), block)
    side = min(math.ceil(wanted / step - 1e-9) * step, max(largest, block))
    overhang = 0.5 * (side - block)
    if overhang <= 0.5 * board_thickness:
        return Pad(side, 1, 2.0 * board_thickness, allowed * side**2, math.inf)
    one_layer = side**2 * boards.bending * board_thickness**2 / (3.0 * overhang**2)
    layers = min(max(math.ceil(force / one_layer - 1e-9), 1), most_layers)
    return Pad(side, layers, 2.0 * layers * board_thickness, allowed * side**2, layers * one_layer)


def ground_stiffness(area: float, allowed: float) -> float:
    """How hard the ground under a pad pushes back per metre of sinking [N/m].

    Picture: a pad at its allowed pressure sinks about a third of an inch. The truth may be half or twice that:
    sample it.
    Source: Bowles, Foundation Analysis and Design: ks = 40 x safety factor (3) x allowed pressure per metre
    (from memory).
    Checked by: tests/unit/props/test_bearing.py (arithmetic only)
    """
    return 120.0 * allowed * area


def crush_stiffness(cross_grain: float, area: float) -> float:
    """Push back per metre of dent of wood pressed across the grain [N/m].

    Source: the design value is the stress at a 0.04 in dent of the test block (ASTM D143), so it is that stress
    over that dent; a thick stick gives somewhat more.
    Checked by: tests/unit/props/test_bearing.py
    """
    return cross_grain * area / GRADED_DENT


def in_series(*stiffness: float) -> float:
    """One spring for several that carry the same force one on the other [N/m].

    Source: mechanics, springs in series.
    Checked by: tests/unit/props/test_bearing.py
    """
    return 1.0 / sum(1.0 / k for k in stiffness)
