"""What a prop has to do, and what one way of doing it comes to."""

from __future__ import annotations

from dataclasses import dataclass

from bolewright.core.base.errors import BadInput
from bolewright.core.props.timber import INCH, Strengths

Check = tuple[str, float, float, str]  # name, demand, capacity [N], source
OFF_CENTRE = 0.1  # of the post's thickness; common practice
WEDGES = 1.5 * INCH  # room for a pair of folding wedges under the post
PAD_CHECKS = ("pad: boards bend", "pad: ground presses in")  # sized to the load, so they say nothing about the post


@dataclass(frozen=True)
class PropNeed:
    """What is asked of a prop: SI, the force at the high end of its range."""

    height: float  # from the ground to the underside of the wood
    force: float
    ground_pressure_allowed: float
    head_cross_grain: float  # what the green wood above bears across the grain, allowable
    temporary: bool = True  # full load on for seven days at most
    stem_diameter: float | None = None  # round wood on a flat head; None for a notched or flat seat
    lean: float = 0.0  # rad off plumb
    ground_friction: float = 0.25  # holds the foot of a leaning prop; IBC 2012 Table 1806.2, sand
    boards: Strengths | None = None  # of the pad, adjusted; None: as the post, or weak wet ones under round wood
    board_thickness: float = 1.5 * INCH
    off_centre: float = OFF_CENTRE
    largest_pad: float = 1.2

    def __post_init__(self) -> None:
        if self.height <= 0.0 or self.force <= 0.0:
            raise BadInput("A prop needs a height and a force above zero.")
        if self.ground_pressure_allowed <= 0.0 or self.head_cross_grain <= 0.0:
            raise BadInput("A prop needs ground and wood above it that bear something.")


@dataclass(frozen=True)
class PropOption:
    """One way to prop, with every check in newtons. `ratio` is the largest demand over capacity."""

    kind: str  # prop | crib
    form: str  # single post | doubled post | tripled post | crib
    timber: str
    origin: str
    sticks: int
    cut_length: float
    force: float  # vertical load it was checked for
    checks: tuple[Check, ...]
    pad_side: float
    pad_layers: int
    brace_force: float
    bracing: str
    stiffness: float  # N/m, ground to wood
    euler: float  # elastic buckling load of the bare post, a look beside [N]; inf for a crib
    from_tree: bool = False
    flags: tuple[str, ...] = ()

    @property
    def governing(self) -> Check:
        """The check that is nearest to its limit."""
        return max(self.checks, key=lambda check: check[1] / check[2])

    @property
    def ratio(self) -> float:
        """Demand over capacity of the governing check; above 1 is outside the limits."""
        return self.governing[1] / self.governing[2]

    @property
    def inside(self) -> bool:
        """Whether every check is inside its limit."""
        return self.ratio <= 1.0

    @property
    def capacity(self) -> float:
        """Vertical load at which the first check is used up, with the pad as built [N]."""
        return self.force / self.ratio

    @property
    def timber_ratio(self) -> float:
        """Governing ratio without the pad, which is built to suit the load."""
        return max(check[1] / check[2] for check in self.checks if check[0] not in PAD_CHECKS)
