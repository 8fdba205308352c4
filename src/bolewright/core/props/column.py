"""A prop as a column: what it bears before it crushes or bows out, standing straight, leaning or loaded off centre."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bolewright.core.base.errors import BadInput
from bolewright.core.props.timber import Strengths

SAWN, ROUND, LAMINATED = 0.8, 0.85, 0.9  # c of NDS 3.7.1: how straight such sticks are
SLENDER, SLENDER_TEMPORARY = 50.0, 75.0  # greatest length over thickness, NDS 3.7.1.4
_BUCKLING = 0.822  # pi squared over 12, as the rule prints it
_BUILT_UP_NAILED, _BUILT_UP_BOLTED = 0.60, 0.75  # NDS 15.3.2
TAPER_ENDS = {
    "large end fixed": 0.7,
    "small end fixed": 0.3,
    "both ends simply supported": 0.5,
    "both ends simply supported, tapered both ways": 0.7,
}
EFFECTIVE_LENGTH = {  # design values, NDS Appendix G (from memory)
    "fixed, fixed": 0.65,
    "fixed, pinned": 0.8,
    "fixed, fixed, free to sway": 1.2,
    "pinned, pinned": 1.0,
    "fixed, free": 2.1,
    "pinned, fixed, free to sway": 2.4,
}


@dataclass(frozen=True)
class ColumnAnswer:
    """What a column bears and the steps on the way, so that the sum can be followed on paper."""

    slenderness: float  # effective length over thickness
    crushing: float  # Fc*, stress at which a short block is used up [Pa]
    buckling: float  # FcE [Pa]
    stability: float  # CP, 0..1
    stress: float  # Fc' [Pa]
    area: float
    capacity: float  # N
    euler: float  # load at which a straight elastic column of average stiffness bows out [N]
    too_slender: bool


def stability_factor(buckling: float, crushing: float, c: float = SAWN) -> float:
    """Column stability factor CP, 0..1: the share of the short-block strength a column of this length keeps.

    Picture: stocky posts crush, slender ones bow out, in between they do some of both. Meant for a straight post
    with the load down its middle; errs high when the load sits to one side (see `off_centre_capacity`).

    Parameters: buckling and crushing stress [Pa, FcE and Fc*]; c 0.8 sawn, 0.85 round, 0.9 laminated.
    Raises: BadInput when a stress is not above zero.
    Source: NDS 2018 3.7.1, Eq. 3.7-1.
    Checked by: tests/handbook/test_columns.py
    """
    if buckling <= 0.0 or crushing <= 0.0:
        raise BadInput("A column needs a strength and a stiffness above zero.")
    ratio = buckling / crushing
    middle = (1.0 + ratio) / (2.0 * c)
    # same root as middle - sqrt(middle^2 - ratio/c), written so that nothing cancels for very slender posts
    return (ratio / c) / (middle + math.sqrt(middle * middle - ratio / c))


def buckling_stress(modulus_min: float, slenderness: float) -> float:
    """Stress at which a column bows out, FcE [Pa], from the buckling stiffness and length over thickness [-].

    Source: NDS 2018 3.7.1.5.
    Checked by: tests/handbook/test_columns.py
    """
    if slenderness <= 0.0:
        raise BadInput("A column needs a length and a thickness above zero.")
    return _BUCKLING * modulus_min / slenderness**2


def euler_load(modulus: float, inertia: float, length: float, effective: float = 1.0) -> float:
    """Load at which a perfect elastic column bows out [N]: pi^2 E I / (K L)^2. A look beside, never a limit.

    Source: Euler; checked values SOLVIA B46 and Bathe fig. 6.22.
    Checked by: tests/handbook/test_columns.py
    """
    return math.pi**2 * modulus * inertia / (effective * length) ** 2


def equal_square(diameter: float) -> float:
    """Side of the square with the area of a round post [m]: 0.886 D.

    Errs low by about 2 % on buckling (the circle is 4.5 % less stiff than the square, but c is higher).
    Source: NDS 2018 3.7.3 (from memory).
    Checked by: tests/handbook/test_columns.py (closed form)
    """
    return math.sqrt(math.pi) / 2.0 * diameter


def tapered_diameter(small: float, large: float, ends: str = "") -> float:
    """Diameter of the straight post that stands in for a tapered one [m].

    Without a known end condition a third of the way from small to large. The crushing load is never taken over
    more than the small end (see `round_column`).
    Source: NDS 2018 3.7.2 (from memory).
    Checked by: tests/handbook/test_columns.py
    """
    if not 0.0 < small <= large:
        raise BadInput("A tapered post needs a small end above zero and no thicker than its large end.")
    if ends not in TAPER_ENDS:
        return small + (large - small) / 3.0
    return small + (large - small) * (TAPER_ENDS[ends] - 0.15 * (1.0 - small / large))


def sawn_column(width: float, depth: float, length: float, wood: Strengths, temporary: bool = True) -> ColumnAnswer:
    """What a sawn post free to turn at both ends bears [N]; it bows across its smaller side.

    Parameters: sides and length [m], strengths already adjusted for duration, wetness and size.
    Raises: BadInput on sizes not above zero.
    Source: NDS 2018 3.7.1.
    Checked by: tests/handbook/test_columns.py
    """
    if min(width, depth, length) <= 0.0:
        raise BadInput("A post needs a width, a depth and a length above zero.")
    thin = min(width, depth)
    inertia = max(width, depth) * thin**3 / 12.0
    return _answer(thin, width * depth, inertia, length, wood, SAWN, temporary)


def round_column(small: float, large: float, length: float, wood: Strengths, temporary: bool = True) -> ColumnAnswer:
    """What a round, perhaps tapered, post free to turn at both ends bears [N].

    Buckling is taken on the stand-in diameter, crushing on the small end. Errs low for a butt-down post.
    Source: NDS 2018 3.7.2, 3.7.3 (from memory).
    Checked by: tests/handbook/test_columns.py
    """
    if min(small, large, length) <= 0.0:
        raise BadInput("A round post needs diameters and a length above zero.")
    middle = tapered_diameter(small, large)
    area = math.pi / 4.0 * middle**2
    answer = _answer(equal_square(middle), area, math.pi / 64.0 * middle**4, length, wood, ROUND, temporary)
    end_limit = wood.compression * math.pi / 4.0 * small**2
    if answer.capacity <= end_limit:
        return answer
    return ColumnAnswer(**{**answer.__dict__, "capacity": end_limit})


def built_up_column(
    thickness: float,
    depth: float,
    sticks: int,
    length: float,
    wood: Strengths,
    temporary: bool = True,
    bolted: bool = False,
) -> ColumnAnswer:
    """What two to five sticks fastened side by side bear as one post [N]: the weaker of its two directions.

    Picture: across the joints the fasteners slip, so only 0.6 (nailed) or 0.75 (bolted) of the solid post counts;
    along them each stick bows for itself. Never less than the sticks standing singly.
    Source: NDS 2018 15.3.2; 0.6 after Aghayere & Vigil (2007) Ex. 5.7.
    Checked by: tests/handbook/test_columns.py
    """
    if not 2 <= sticks <= 5:
        raise BadInput("A built-up post has two to five sticks.")
    total = sticks * thickness
    area, keep = total * depth, (_BUILT_UP_BOLTED if bolted else _BUILT_UP_NAILED)
    across = _answer(total, area, depth * total**3 / 12.0, length, wood, SAWN, temporary, keep)
    along = _answer(depth, area, total * depth**3 / 12.0, length, wood, SAWN, temporary)
    weaker = min(across, along, key=lambda answer: answer.capacity)
    single = sawn_column(thickness, depth, length, wood, temporary)
    if single.capacity * sticks > weaker.capacity and not single.too_slender:
        return ColumnAnswer(**{**single.__dict__, "area": area, "capacity": single.capacity * sticks})
    return weaker


def off_centre_capacity(answer: ColumnAnswer, thickness: float, offset: float, wood: Strengths) -> float:
    """Load a post bears when it sits `offset` [m] to one side of the middle [N]; offset 0 gives the full capacity.

    Picture: a load off the middle bends the post, and the bow makes the offset grow. Solved for the load at which
    the stress sum reaches 1.
    Source: NDS 2018 15.4.1 (from memory): (fc/Fc')^2 + fc (6e/d)(1 + 0.234 fc/FcE) / (Fb' (1 - fc/FcE)) = 1.
    Checked by: tests/handbook/test_columns.py (secant formula for an elastic post)
    """
    if offset < 0.0:
        raise BadInput("How far a load sits off centre cannot be negative.")
    low, high = 0.0, min(answer.stress, answer.buckling * (1.0 - 1e-9))

    def used(stress: float) -> float:
        share = stress / answer.buckling
        bending = stress * 6.0 * offset / thickness * (1.0 + 0.234 * share)
        return (stress / answer.stress) ** 2 + bending / (wood.bending * (1.0 - share))

    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if used(middle) <= 1.0 else (low, middle)
    return min(low * answer.area, answer.capacity)


def beam_column_use(stress: float, allowed: float, bending: float, bending_allowed: float, buckling: float) -> float:
    """Share of a post used up by load along it and a bending stress from a side load [-]; 1 is full.

    Parameters: stresses [Pa], those acting and those allowed, and the buckling stress FcE.

    Source: NDS 2018 3.9.2, Eq. 3.9-3 (one direction).
    Checked by: tests/handbook/test_columns.py
    """
    return (stress / allowed) ** 2 + bending / (bending_allowed * (1.0 - stress / buckling))


def leaning(vertical: float, lean: float) -> tuple[float, float]:
    """Force along a prop and sideways thrust at its foot [N], for a vertical load on a prop `lean` rad off plumb.

    Picture: the prop carries more than the load, and kicks out at the foot with V tan(lean); a cleat, stake or
    notch has to hold that, or friction. Holds for a head that can pass the same thrust into the wood above.
    Raises: BadInput when the lean is not between 0 and 60 degrees.
    Source: statics.
    Checked by: tests/handbook/test_columns.py
    """
    if not 0.0 <= lean <= math.radians(60.0):
        raise BadInput("A prop may lean between 0 and 60 degrees off plumb.")
    return vertical / math.cos(lean), vertical * math.tan(lean)


def _answer(
    thin: float,
    area: float,
    inertia: float,
    length: float,
    wood: Strengths,
    c: float,
    temporary: bool,
    keep: float = 1.0,
) -> ColumnAnswer:
    slenderness = length / thin
    buckling = buckling_stress(wood.modulus_min, slenderness)
    stability = keep * stability_factor(buckling, wood.compression, c)
    stress = stability * wood.compression
    limit = SLENDER_TEMPORARY if temporary else SLENDER
    return ColumnAnswer(
        slenderness=slenderness,
        crushing=wood.compression,
        buckling=buckling,
        stability=stability,
        stress=stress,
        area=area,
        capacity=stress * area,
        euler=euler_load(wood.modulus, inertia, length),
        too_slender=slenderness > limit,
    )
