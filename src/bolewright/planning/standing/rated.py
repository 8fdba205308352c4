"""What a fall would reach, what the assessor chose and what the published tables make of it: frozen results of `stand`.

Units and directions as in `results`.
"""

from __future__ import annotations

from dataclasses import dataclass

from bolewright.core.base.range import Range


@dataclass(frozen=True)
class TargetReach:
    """A target and how it lies to a fall."""

    id: str
    what: str
    distance_m: float
    towards_deg: float
    reach: str
    occupancy: str
    protection: str
    movable: bool
    height_m: float | None
    parts: tuple[str, ...]  # what would come down on it: "whole tree", ids of limbs


@dataclass(frozen=True)
class FallArea:
    """Fall circle and sectors round the foot."""

    radius_m: float
    crown_radius_m: float
    sectors_deg: tuple[float, ...]  # middles
    sector_names: tuple[str, ...]  # why each: "worst wind", "wind named", "lean"
    half_angle_deg: float
    look_m: float  # within which targets are looked for


@dataclass(frozen=True)
class PairRated:
    """One part and the target it could hit, as chosen, and what the two published tables make of it."""

    id: str  # "" for the pair written in [rating] itself
    part: str
    target: str
    failure: str | None
    impact: str | None
    consequences: str | None
    combined: str | None
    rating: str | None
    worst: bool  # no pair is rated worse
    why: str


@dataclass(frozen=True)
class OptionAfter:
    """One option, the gust the tree or the limb stands after it, and what the assessor chose for what is left."""

    id: str
    kind: str
    by: float | None
    part: str  # limb it is done to; "" for the tree
    gust_m_s: Range | None  # that breaks the tree (or the limb) after it; None where nothing is computed
    share_standing: float | None  # of the samples, at the design gust
    support_N: Range | None  # that a prop or brace carries at the design gust
    support_at_m: float | None  # along the limb
    targets_left: tuple[str, ...]  # ids still within reach of a fall
    failure: str | None
    impact: str | None
    consequences: str | None
    combined: str | None
    rating: str | None
    reinspect: str  # "" where no day was named
    words: str
    note: str
    pairs: tuple[PairRated, ...] = ()  # what is left of every pair, as chosen; all of them, chosen or not
    worst: str | None = None  # the worst rating left; None where none was chosen


@dataclass(frozen=True)
class Judgement:
    """The assessor's choices and what the two published tables make of them. None where a choice is missing."""

    part: str
    target: str
    failure: str | None
    impact: str | None
    consequences: str | None
    combined: str | None
    rating: str | None
    time_frame: str
    reinspect: str
    why: str
    options: tuple[OptionAfter, ...]
    source: str
    pairs: tuple[PairRated, ...] = ()  # that of [rating] itself first, where anything of it was chosen
    worst: str | None = None  # the worst rating of all pairs; None where none can be combined
