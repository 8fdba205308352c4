"""Which prop: every way the timber to hand can carry the load, best first."""

from __future__ import annotations

import math

from bolewright.core.base.errors import BadInput
from bolewright.core.props.bearing import cross_grain_capacity, ground_stiffness, in_series, pad
from bolewright.core.props.crib import (
    LOG_CROSSINGS,
    SOURCE,
    Crib,
    crib_capacity,
    crib_height_limit,
    crib_of_height,
    crib_stiffness,
    top_layer_capacity,
)
from bolewright.core.props.lateral import bracing_force
from bolewright.core.props.option import Check, PropNeed, PropOption
from bolewright.core.props.post import post_option
from bolewright.core.props.timber import INCH, Strengths, Timber, adjusted

_ORDER = ("single post", "doubled post", "tripled post", "crib")
_LEAST_CRIB_TIMBER = 3.5 * INCH - 1e-9


def choose_prop(need: PropNeed, timbers: tuple[Timber, ...]) -> tuple[PropOption, ...]:
    """Every way to prop the need [N, m] with these timbers: inside the limits first, then fewest sticks side by side.

    Order: inside before outside; single posts, doubled, tripled, cribs; timber from the truck before wood cut from
    the tree; then the larger margin of the timber (the pad is built to suit). What cannot be built at all (too
    short, too few, too slender, too high for a crib) is left out, so an empty answer says that no timber fits.

    Source: the checks of `post_option` and `crib_option`.
    Checked by: tests/unit/props/test_choose.py
    """
    found: list[PropOption] = []
    for timber in timbers:
        found += [option for n in (1, 2, 3) if (option := post_option(need, timber, n)) is not None]
        crib = crib_option(need, timber)
        if crib is not None:
            found.append(crib)
    return tuple(sorted(found, key=_rank))


def crib_option(need: PropNeed, timber: Timber) -> PropOption | None:
    """A crib of two sticks a layer under the need; None when it cannot be built from these sticks.

    Picture: a log across the middle of the crib. Two crossings of the four are counted on, the sticks under the
    log are checked as beams and for crushing, the closed bottom layer as the pad. Loads in [N]. Errs low on a
    crib whose four corners are well packed, high when the log can roll: chock it.

    Source: see core.props.crib.
    Checked by: tests/unit/props/test_choose.py
    """
    if timber.section_kind != "sawn" or timber.width != timber.depth or timber.width < _LEAST_CRIB_TIMBER:
        return None
    if need.lean > 0.0:
        return None
    try:
        crib = crib_of_height(timber.width, need.height)
    except BadInput:
        return None
    wood = adjusted(timber, need.temporary)
    each = math.floor(timber.length / crib.stick + 1e-9)
    top = _top_sticks(need, crib, wood)
    sticks = crib.sticks + top - crib.members
    if each * timber.count < sticks or crib.height > crib_height_limit(timber.width, crib.width) + 1e-9:
        return None
    side = _crib_pad(need, crib, wood)[0]
    return PropOption(
        kind="crib",
        form="crib",
        timber=timber.name,
        origin=timber.origin,
        sticks=sticks,
        cut_length=crib.stick,
        force=need.force,
        checks=_crib_checks(need, crib, wood, top),
        pad_side=side,
        pad_layers=1,
        brace_force=bracing_force(need.force),
        euler=math.inf,
        from_tree=timber.origin != "from the truck",
        bracing=f"Close the bottom layer, lay {top} sticks on top, pack the last gap solid, chock the log both sides.",
        stiffness=in_series(crib_stiffness(crib), ground_stiffness(side**2, need.ground_pressure_allowed)),
        flags=(
            "a log on a crib is counted on two crossings, not four (common practice)",
            "a softwood crib may crush a fifth of its height, with noise, before it gives way",
        ),
    )


def _top_sticks(need: PropNeed, crib: Crib, wood: Strengths) -> int:
    """Fewest sticks in the top layer that carry the load as beams; the closed layer when none do."""
    one = top_layer_capacity(crib, wood, 1)
    return min(max(math.ceil(need.force / one - 1e-9), crib.members), crib.bottom)


def _crib_pad(need: PropNeed, crib: Crib, wood: Strengths) -> tuple[float, float, float]:
    """Side, ground capacity and board capacity of what lies under the crib: its own bottom layer, or boards."""
    own = crib.stick**2 * need.ground_pressure_allowed
    if own >= need.force:
        return crib.stick, own, math.inf
    boards = pad(
        need.force,
        need.ground_pressure_allowed,
        crib.stick,
        wood,
        need.board_thickness,
        max(need.largest_pad, crib.stick),
        most_layers=1,
    )
    return boards.side, boards.ground_capacity, boards.bending_capacity


def _crib_checks(need: PropNeed, crib: Crib, wood: Strengths, top: int) -> tuple[Check, ...]:
    _, ground, boards = _crib_pad(need, crib, wood)
    touch = cross_grain_capacity(
        min(need.head_cross_grain, wood.cross_grain), crib.side, crib.stick, need.stem_diameter
    )
    # only two of the top sticks are counted on where the round log presses into them: it is never quite straight
    checks: tuple[Check, ...] = (
        ("crib: crossings crush", need.force, crib_capacity(crib.side, crib.members, carries=LOG_CROSSINGS), SOURCE),
        ("crib: top sticks break", need.force, top_layer_capacity(crib, wood, top), f"simple beam; {wood.source}"),
        ("head: log or top sticks crush", need.force, crib.members * touch, "NDS 2018 3.10.2, 3.10.4"),
        ("pad: ground presses in", need.force, ground, "allowed ground pressure x area of the bottom layer"),
    )
    if math.isfinite(boards):
        checks += (("pad: boards bend", need.force, boards, "statics"),)
    return checks


def _rank(option: PropOption) -> tuple[bool, int, bool, float, str]:
    return (not option.inside, _ORDER.index(option.form), option.from_tree, option.timber_ratio, option.timber)
