"""What a comparison of two inspections of the same tree answers: frozen, placed and rounded by others.

SI throughout. A value before or after is its measurement, 5 to 95 %.
"""

from __future__ import annotations

from dataclasses import dataclass

from bolewright.core.base.range import Range
from bolewright.planning.standing.results import StandResult

CHANGED, WITHIN, ONLY_NOW, ONLY_THEN = "changed", "within the measurement", "only now", "only then"


@dataclass(frozen=True)
class Change:
    """One thing measured or worked out at both inspections, or at one of them."""

    group: str  # "size" | "tests" | "answer"
    what: str
    kind: str  # of number: "length" | "size" | "angle" | "share" | "speed" | "moment" | "factor"
    before: Range | None
    after: Range | None
    change: float | None  # of the likely values, after less before
    per_year: float | None
    verdict: str  # "changed" | "within the measurement" | "only now" | "only then"
    usual_error: bool  # no spread was written: the usual one of such a measurement stands in


@dataclass(frozen=True)
class WordChange:
    """Something put in words at both inspections."""

    group: str
    what: str
    before: str  # "" where nothing was written
    after: str
    changed: bool
    words: str


@dataclass(frozen=True)
class Comparison:
    """Two inspections of the same tree: what changed, by how much, and whether it is more than the measurement."""

    earlier_title: str
    later_title: str
    earlier_date: str  # "" where none was written
    later_date: str
    years: float | None
    earlier_inspector: str
    later_inspector: str
    doubts: tuple[str, ...]  # signs that these are not two records of one tree, or not made alike
    measured: tuple[Change, ...]
    answers: tuple[Change, ...]
    gust_ratio: Range  # gust to fail now over then, under the same conditions, sampled in pairs
    stands: str  # "less wind than then" | "more wind than then" | "no difference that can be told"
    conditions: tuple[str, ...]  # taken from the later record for both
    observations: tuple[WordChange, ...]
    targets: tuple[WordChange, ...]
    rating: tuple[WordChange, ...]
    due: str  # the look again asked for, against the day it was done
    words: tuple[str, ...]  # the comparison in sentences
    earlier: StandResult
    later: StandResult
