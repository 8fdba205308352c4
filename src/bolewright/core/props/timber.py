"""Timber for props: what a stick can bear, and how load duration and wetness change that.

Strengths are allowable (working) stresses: they already hold a margin against breaking, so a demand is compared
with them directly and no further factor is put on top unless a check says so.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from bolewright.core.base.errors import BadInput
from bolewright.core.base.sourced import Sourced, Status

INCH = 0.0254
PSI = 4.4482216152605 / INCH**2  # Pa

# Load duration: how long the full load stays on. Bearing across the grain and stiffness have no such factor.
DURATION = {
    "permanent": Sourced(0.9, "NDS 2018 Table 2.3.2", Status.MEMORY),
    "seven days": Sourced(1.25, "NDS 2018 Table 2.3.2", Status.MEMORY),
}
WET_CROSS_GRAIN = 0.67  # NDS Supplement 2018 Tables 4A and 4B, adjustment factors
_WET_SAWN = {"bending": 0.85, "shear": 0.97, "compression": 0.8, "modulus": 0.9}  # Table 4A, from memory
_WET_TIMBER = {"bending": 1.0, "shear": 1.0, "compression": 0.91, "modulus": 1.0}  # Table 4D, from memory
TIMBER_FROM = 4.5 * INCH  # dressed sides from here up are "timbers" (nominal 5 in and more), below "dimension lumber"


@dataclass(frozen=True)
class Strengths:
    """Allowable stresses and stiffness of one grade [Pa], before duration, wetness and size are counted."""

    bending: float
    tension: float
    shear: float
    cross_grain: float  # bearing across the grain, at 0.04 in (1 mm) dent
    compression: float  # along the grain, short block
    modulus: float  # average stiffness
    modulus_min: float  # stiffness used for buckling
    source: str
    status: Status


WEAK_BOARDS = Strengths(  # what lies under round wood when nothing is said: any species, soaked
    bending=850.0 * 0.85 * PSI, tension=450.0 * PSI, shear=135.0 * 0.97 * PSI,
    cross_grain=405.0 * WET_CROSS_GRAIN * PSI,
    compression=1150.0 * 0.8 * PSI, modulus=1.3e6 * 0.9 * PSI, modulus_min=0.47e6 * 0.9 * PSI,
    source="lowest No.2 values of four species groups, wet; NDS Supplement 2018 Table 4A", status=Status.MEMORY,
)  # fmt: skip


@dataclass(frozen=True)
class Timber:
    """Sticks of one kind to hand. For round wood `width` is the small end and `depth` the large end diameter."""

    name: str  # "4x4", "2x6", "round 8 in"
    section_kind: Literal["sawn", "round"]
    width: float
    depth: float
    length: float
    count: int
    strengths: Strengths
    wet: bool = False  # soaked or unseasoned; leave False where the strengths are green values already
    origin: str = "from the truck"  # or "cut from L4"

    def __post_init__(self) -> None:
        if min(self.width, self.depth, self.length) <= 0.0:
            raise BadInput(f"The timber {self.name} needs a width, a depth and a length above zero.")
        if self.count < 0:
            raise BadInput(f"The timber {self.name} cannot be there {self.count} times.")
        if self.width > self.depth:
            raise BadInput(f"Give the smaller side of the timber {self.name} as its width (round wood: the small end).")


def duration_factor(temporary: bool) -> Sourced[float]:
    """Factor on strength along the grain for how long the prop stays loaded [-].

    Temporary means the full load is on for seven days at most over the life of the prop. A prop that is left
    standing for good takes the permanent factor.

    Source: NDS 2018 Table 2.3.2 (from memory).
    Checked by: tests/handbook/test_columns.py
    """
    return DURATION["seven days" if temporary else "permanent"]


def compression_size_factor(depth: float) -> float:
    """Size factor on strength along the grain for dimension lumber of this depth [m]; 1 for timbers (5 in and up).

    Source: NDS Supplement 2018 Table 4A, adjustment factors.
    Checked by: tests/handbook/test_columns.py
    """
    nominal = round(depth / INCH + 0.5)
    steps = ((4, 1.15), (6, 1.10), (8, 1.05), (12, 1.0))
    return next((factor for limit, factor in steps if nominal <= limit), 0.9)


def adjusted(timber: Timber, temporary: bool) -> Strengths:
    """The strengths of a stick with duration, wetness and size counted in [Pa].

    Picture: wood bears more for a week than for ten years, less when soaked, and thin boards are graded so that
    they come out a little stronger along the grain. Errs low where bending is concerned: the favourable size and
    flat-use factors of bending are left out.

    Source: NDS 2018 Table 4.3.1; wet factors from memory but for 0.67 across the grain.
    Checked by: tests/handbook/test_columns.py, tests/unit/props/test_timber.py
    """
    raw = timber.strengths
    time = duration_factor(temporary).value
    heavy = timber.width >= TIMBER_FROM
    size = 1.0 if heavy or timber.section_kind == "round" else compression_size_factor(timber.depth)
    wet = (_WET_TIMBER if heavy else _WET_SAWN) if timber.wet else {}
    crushing = raw.compression * size
    if not heavy and crushing <= 750.0 * PSI:
        wet = {**wet, "compression": 1.0}  # the table's own exception for weak grades
    return Strengths(
        bending=raw.bending * time * wet.get("bending", 1.0),
        tension=raw.tension * time,
        shear=raw.shear * time * wet.get("shear", 1.0),
        cross_grain=raw.cross_grain * (WET_CROSS_GRAIN if timber.wet else 1.0),
        compression=crushing * time * wet.get("compression", 1.0),
        modulus=raw.modulus * wet.get("modulus", 1.0),
        modulus_min=raw.modulus_min * wet.get("modulus", 1.0),
        source=raw.source,
        status=raw.status,
    )
