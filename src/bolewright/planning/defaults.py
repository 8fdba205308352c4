"""What is used where the job says nothing. Every value here is filled in, and travels to the report as such."""

from __future__ import annotations

from dataclasses import dataclass

from bolewright.core.base.sourced import Sourced, Status

_PRACTICE = "judgement of what such places give under a load; no published value found"


@dataclass(frozen=True)
class Surface:
    """How a kind of support behaves. stiffness [N/m], spread: standard deviation of its logarithm, friction low and
    high, misfit [m]: standard deviation of how far it has crushed or settled."""

    stiffness: float
    spread: float
    mu_low: float
    mu_high: float
    misfit: float
    building: bool


SURFACES: dict[str, Surface] = {
    "roof": Surface(3.0e5, 0.7, 0.30, 0.70, 0.006, True),
    "wall": Surface(3.0e6, 0.6, 0.30, 0.60, 0.004, True),
    "ground": Surface(1.0e6, 0.7, 0.40, 0.80, 0.008, False),
    "fence": Surface(1.0e5, 0.7, 0.20, 0.60, 0.008, False),
    "prop": Surface(3.0e6, 0.4, 0.30, 0.60, 0.003, False),
    "crib": Surface(3.0e6, 0.5, 0.40, 0.60, 0.003, False),
    "chock": Surface(1.0e6, 0.6, 0.40, 0.60, 0.003, False),
    "tree": Surface(5.0e5, 0.7, 0.40, 0.80, 0.006, False),
}
STIFFNESS_SOURCE: Sourced[str] = Sourced("support stiffness and misfit", _PRACTICE, Status.COMMON_PRACTICE)
FRICTION_SOURCE: Sourced[str] = Sourced(
    "friction of wood and bark",
    "wood on metal 0.2 to 0.6 from engineering tables; no published value for bark on shingles, so a wide range",
    Status.COMMON_PRACTICE,
)

RIGID = 1.0e9  # N/m, for "rigid"
ROPE = 5.0e4  # N/m, a working length of rope with its anchor
ROLL_GIVE = 1.0e-6  # rad per N m of a hinge or root plate in roll

TIP_SHARE = 0.25  # tip diameter over base diameter of a limb where it was not measured
SIZE_SPREAD = 0.03  # of a taped diameter, 5 to 95 %
STIFFNESS_SPREAD = 0.36  # of green stiffness: coefficient of variation 22 %, Wood Handbook FPL-GTR-282 ch. 5
MODULUS = 8.0e9  # N/m2 where the species table has none

HINGE_SHARE = 0.3  # of the section still joined at a break, where not given
TORN_FIBRE = 0.3  # strength of torn fibre over clear wood

READ_WITHIN = {  # 5..95 % half-width of a reading that came without one: judgement
    "force": 0.10,  # of what jack, gauge or hook showed
    "mass": 0.03,  # of what the scale showed
    "settled": 0.006,  # m, against a pencil mark
}

SOIL_DENSITY = {"clay": 1900.0, "loam": 1600.0, "sand": 1700.0}  # kg/m3 moist, with roots
SOIL_SPREAD = 0.35
ROOT_HOLD = 0.3  # of the plate's weight: what roots still in the ground hold down
