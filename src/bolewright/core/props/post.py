"""A post as a prop: one stick, or two or three fastened side by side, with head, foot, pad and ground checked."""

from __future__ import annotations

import math

from bolewright.core.base.sourced import Status
from bolewright.core.props.bearing import (
    Pad,
    bite_width,
    cross_grain_capacity,
    crush_stiffness,
    ground_stiffness,
    in_series,
    pad,
)
from bolewright.core.props.column import (
    ColumnAnswer,
    built_up_column,
    leaning,
    off_centre_capacity,
    round_column,
    sawn_column,
)
from bolewright.core.props.lateral import bracing_force
from bolewright.core.props.option import WEDGES, Check, PropNeed, PropOption
from bolewright.core.props.post_table import SOURCE as TABLE_SOURCE
from bolewright.core.props.post_table import table_load
from bolewright.core.props.timber import WEAK_BOARDS, Strengths, Timber, adjusted

_FORMS = {1: "single post", 2: "doubled post", 3: "tripled post"}
_BEARING = "NDS 2018 3.10.2, 3.10.4"
_SHORTEST = 0.3  # below this a crib or a block is the thing, not a post


def post_option(need: PropNeed, timber: Timber, sticks: int = 1) -> PropOption | None:
    """A post of one to three sticks of this timber under the need; None when it is too short, too few or too slender.

    Picture: the load comes down through the wood above, the head, the post, the foot on its boards, the boards and
    the ground, and each link is checked in newtons [N] of vertical load. The post is checked over the full height
    from ground to wood, a little longer than it is cut, so the column errs low. Its own weight is left out.

    Source: NDS 2018 3.7 and 3.10, IBC 2012 1806.2; see each check.
    Checked by: tests/unit/props/test_choose.py
    """
    is_round = timber.section_kind == "round"
    if timber.count < sticks or (is_round and sticks > 1):
        return None
    wood = adjusted(timber, need.temporary)
    length = need.height / math.cos(need.lean)
    column = _column(timber, sticks, length, wood, need.temporary)
    axial, thrust = leaning(need.force, need.lean)
    width, depth = _face(timber, sticks)
    block = min(width, depth)
    boards = need.boards or (WEAK_BOARDS if is_round else wood)
    foot = pad(need.force, need.ground_pressure_allowed, block, boards, need.board_thickness, need.largest_pad)
    cut = (need.height - foot.thickness - WEDGES) / math.cos(need.lean)
    if column.too_slender or not _SHORTEST <= cut <= timber.length:
        return None
    checks = _post_checks(need, column, wood, timber, sticks, axial)
    checks += _ends(need, boards, width, depth) + _pad_checks(need, foot)
    if need.lean > 0.0:
        checks += (("foot: slides", thrust, need.ground_friction * need.force, "IBC 2012 Table 1806.2; cleat it"),)
    return PropOption(
        kind="prop",
        form=_FORMS[sticks],
        timber=timber.name,
        origin=timber.origin,
        sticks=sticks,
        cut_length=cut,
        checks=checks,
        pad_side=foot.side,
        pad_layers=foot.layers,
        brace_force=bracing_force(need.force),
        bracing=_bracing(column, sticks),
        euler=column.euler,
        from_tree=timber.origin != "from the truck",
        stiffness=_stiffness(need, column.area * wood.modulus / cut, boards, foot, width, depth),
        force=need.force,
        flags=_flags(timber, sticks, length, column, wood.status),
    )


def _column(timber: Timber, sticks: int, length: float, wood: Strengths, temporary: bool) -> ColumnAnswer:
    if timber.section_kind == "round":
        return round_column(timber.width, timber.depth, length, wood, temporary)
    if sticks == 1:
        return sawn_column(timber.width, timber.depth, length, wood, temporary)
    return built_up_column(timber.width, timber.depth, sticks, length, wood, temporary)


def _face(timber: Timber, sticks: int) -> tuple[float, float]:
    """Sides of the end of the post; for round wood those of the square of equal area of the small end."""
    if timber.section_kind == "round":
        side = math.sqrt(math.pi) / 2.0 * timber.width
        return side, side
    return sticks * timber.width, timber.depth


def _post_checks(
    need: PropNeed, column: ColumnAnswer, wood: Strengths, timber: Timber, sticks: int, axial: float
) -> tuple[Check, ...]:
    rule = "NDS 2018 3.7" if sticks == 1 else "NDS 2018 15.3"
    thin = timber.width if sticks == 1 else min(sticks * timber.width, timber.depth)
    off = off_centre_capacity(column, thin, need.off_centre * thin, wood)
    source = f"{rule}; {wood.source} ({wood.status})"
    share = f"{need.off_centre:.0%} of its thickness"
    return (
        ("post: crushes or bows out", axial, column.capacity, source),
        (f"post: load off centre by {share}", axial, off, f"NDS 2018 15.4 (from memory); {wood.source}"),
    )


def _ends(need: PropNeed, boards: Strengths, width: float, depth: float) -> tuple[Check, ...]:
    # the longer side goes along the stem, where a round stem can be touched over its whole length
    along, across = max(width, depth), min(width, depth)
    head = cross_grain_capacity(need.head_cross_grain, along, across, need.stem_diameter)
    foot = cross_grain_capacity(boards.cross_grain, across, along)
    return (
        ("head: wood above crushes across the grain", need.force, head, _BEARING),
        ("foot: board crushes across the grain", need.force, foot, _BEARING),
    )


def _pad_checks(need: PropNeed, foot: Pad) -> tuple[Check, ...]:
    checks: tuple[Check, ...] = (
        ("pad: ground presses in", need.force, foot.ground_capacity, "allowed ground pressure x pad area"),
    )
    if math.isfinite(foot.bending_capacity):
        checks += (("pad: boards bend", need.force, foot.bending_capacity, "statics, each board bending for itself"),)
    return checks


def _stiffness(need: PropNeed, post: float, boards: Strengths, foot: Pad, width: float, depth: float) -> float:
    along, across = max(width, depth), min(width, depth)
    touch = across if need.stem_diameter is None else min(across, bite_width(need.stem_diameter))
    return in_series(
        post * math.cos(need.lean) ** 2,
        crush_stiffness(need.head_cross_grain, along * touch),
        crush_stiffness(boards.cross_grain, width * depth),
        ground_stiffness(foot.side**2, need.ground_pressure_allowed),
    )


def _bracing(column: ColumnAnswer, sticks: int) -> str:
    fasten = "" if sticks == 1 else " Nail the sticks together over their whole length."
    waist = " Brace the middle both ways too." if column.slenderness > 50.0 else ""
    return f"Brace head and foot in two directions, nail the wedges, cleat the head to the wood.{waist}{fasten}"


def _flags(timber: Timber, sticks: int, length: float, column: ColumnAnswer, status: Status) -> tuple[str, ...]:
    flags: list[str] = []
    table = table_load(timber.width, timber.depth, length) if timber.section_kind == "sawn" else None
    if table is not None and column.capacity > sticks * table * (1.0 + 1e-9):
        flags.append(f"rated above the rescue post table (below its first height, that height counts): {TABLE_SOURCE}")
    if timber.section_kind == "round":
        flags.append("round wood: look it over for decay, crooks and big knots; the tapered round rule is from memory")
    if status not in (Status.CONFIRMED, Status.MEASURED):
        flags.append(f"timber strength is {status}")
    return tuple(flags)
