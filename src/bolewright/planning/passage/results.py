"""The way out as it is: frozen, SI with the unit in the name."""

from __future__ import annotations

from dataclasses import dataclass

Spot = tuple[float, float]  # on the site plan, in the axes of the job: forward, and to the left [m]


@dataclass(frozen=True)
class StretchOut:
    """One stretch of the way, in the order walked from the tree to the street."""

    surface: str
    from_m: float  # along the way
    to_m: float
    slope_rad: float | None
    width_m: float | None
    steps: int
    turn_m: float | None
    start: Spot | None  # None where the job does not say
    end: Spot | None


@dataclass(frozen=True)
class GateOut:
    """A gate or passage, with its place where the job says it."""

    id: str
    width_m: float
    height_m: float | None
    at: Spot | None


@dataclass(frozen=True)
class KeepOff:
    """Ground that nothing may stand on or cross."""

    id: str
    kind: str
    corners: tuple[Spot, ...]
    buried: bool  # under the lawn, not to be seen
    crossed: bool  # the way runs over it


@dataclass(frozen=True)
class RouteOut:
    """The way out: lengths, what is narrow, steep or in the way."""

    length_m: float
    soft_m: float  # over lawn and bare soil
    steepest_rad: float  # + climbing on the way out
    narrowest_m: float | None
    steps: int
    turns_m: tuple[float, ...]
    crosses: tuple[str, ...]  # no-go places the way runs over
    stretches: tuple[StretchOut, ...] = ()
    gates: tuple[GateOut, ...] = ()
    keep_off: tuple[KeepOff, ...] = ()
    track_m: float = 0.8  # as wide as what goes on it
