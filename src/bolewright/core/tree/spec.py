"""What was measured of a tree, as plain SI numbers: stations along the stem, limbs, decay, root plate.

Distances "at" run along a member from its base: the stem's from the butt, a limb's from the centre line of what it
grows from. Clock positions are those of `core.base.vectors`.
"""

from __future__ import annotations

from dataclasses import dataclass

FOLIAGE_KINDS = ("leaf", "bare", "needle", "none")
STEM = "stem"


@dataclass(frozen=True)
class Station:
    """A place along the stem where the diameter was taken, with the height of the underside above the ground."""

    at: float
    diameter: float
    height: float | None = None  # None: not taken
    offset: float = 0.0  # sideways, + to the right looking butt to tip


@dataclass(frozen=True)
class Limb:
    """A limb: straight, growing from the centre line of `on` at `at`, with its base diameter just outside the bark."""

    id: str
    on: str
    at: float
    clock: float
    angle_rad: float  # from the parent's axis, towards its tip
    length: float  # from the parent's centre line to the tip
    diameter: float
    tip_diameter: float
    foliage: str = "bare"


@dataclass(frozen=True)
class Hollow:
    """Decay inside a member from `start` to `end`: depth of sound shell at clock positions, one entry for all round."""

    member: str
    start: float
    end: float
    shell: tuple[tuple[float, float], ...]  # (clock, depth of sound wood in from the bark)


@dataclass(frozen=True)
class Plate:
    """A root plate as a disc behind the butt, square to the stem; `density` of soil and roots together."""

    diameter: float
    thickness: float
    density: float


@dataclass(frozen=True)
class TreeSpec:
    """A whole tree. Rates are kg per m2 of limb basal area; 0 leaves that group out."""

    stations: tuple[Station, ...]
    limbs: tuple[Limb, ...] = ()
    hollows: tuple[Hollow, ...] = ()
    plate: Plate | None = None
    wood_density: float = 0.0  # green, bark included, kg/m3
    small_wood_per_area: float = 0.0
    leaf_per_area: float = 0.0
    needle_per_area: float = 0.0
    split_at: tuple[tuple[str, float], ...] = ()  # (member, distance along it)
    longest: float = 0.5  # longest segment
    decayed_share: float = 0.3  # density of decayed wood over sound (common practice)
    stem_foliage: str = "none"  # what the stem's own top carries
