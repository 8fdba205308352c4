"""What the roots hold: the published band or a pull test, what is taken off for lost roots, and the plate's weight."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bolewright.core.base.range import Range
from bolewright.core.base.sourced import Status
from bolewright.core.standing.anchorage import (
    DEEP_GAIN,
    plate_capacity,
    pull_test_capacity,
    roots_cut,
    trench_loss,
    turning_capacity,
)
from bolewright.core.tree.mass import group_masses
from bolewright.planning.results import FilledIn
from bolewright.planning.standing import defaults
from bolewright.planning.standing.tree import Stood
from bolewright.planning.trees import breast_diameter
from bolewright.reference.standing import anchorage_for

FOOT_POUNDS = 0.45359237 / 1.3558179483  # pound feet per pound of mass in a newton metre per kilogram


@dataclass(frozen=True)
class Roots:
    """Likely turning capacity [N m], its range as a factor, and where it comes from."""

    capacity: float
    factor: Range
    loss: Range
    measured: bool
    source: str
    status: Status


def roots_of(tree: Stood, filled: list[FilledIn]) -> Roots:
    """The hold of the roots of a job."""
    standing = tree.standing
    loss = _loss(tree)
    pulled = _pull_test(tree)
    left = Range(1.0 - loss.high, 1.0 - loss.likely, 1.0 - loss.low)
    if pulled is not None:
        capacity = pulled.likely
        factor = Range(pulled.low / capacity, 1.0, pulled.high / capacity)
        source = "pull test of this tree; Forests 2023, 14(3):533, 2.5 times the moment at 0.25 degree"
        return Roots(capacity, factor, Range.exact(0.0), True, source, Status.MEASURED)
    slope = anchorage_for(tree.grown.species.scientific_name)
    stem = float(group_masses(tree.assembly)[0])
    steps = [slope.value, left]
    if standing.rooting == "deep":
        steps.append(DEEP_GAIN)
    if standing.soil_state == "saturated":
        steps.append(defaults.SATURATED)
        words = f"{defaults.SATURATED.likely:.0%} of the hold"
        why = "saturated ground holds less; the published damage table says so without a number"
        filled.append(FilledIn("standing.soil_state", words, why, "judgement", Status.COMMON_PRACTICE))
    likely = math.prod(step.likely for step in steps)
    down = math.sqrt(sum(math.log(step.likely / max(step.low, 0.02 * step.likely)) ** 2 for step in steps))
    up = math.sqrt(sum(math.log(step.high / step.likely) ** 2 for step in steps))
    capacity = float(turning_capacity(stem, likely))
    words = f"{slope.value.likely:.0f} N m per kg of stem ({slope.value.low:.0f} to {slope.value.high:.0f})"
    low, middle, high = (value * FOOT_POUNDS for value in (slope.value.low, slope.value.likely, slope.value.high))
    us = f"{middle:.0f} lb ft per lb of stem ({low:.0f} to {high:.0f})"
    filled.append(FilledIn("anchorage", words, "no pull test: scale only", slope.source, slope.status, us))
    return Roots(capacity, Range(math.exp(-down), 1.0, math.exp(up)), loss, False, slope.source, slope.status)


def _loss(tree: Stood) -> Range:
    """Share of anchorage lost: the greater of lost roots and trench, each at its range."""
    standing = tree.standing
    found = [Range.exact(0.0)]
    if standing.roots_lost is not None:
        ends = [roots_cut(min(share, 0.97)) for share in (
            standing.roots_lost.low, standing.roots_lost.likely, standing.roots_lost.high)]  # fmt: skip
        found.append(Range(ends[0].low, ends[1].likely, ends[2].high))
    if standing.trench is not None:
        found.append(trench_loss(standing.trench.likely, breast_diameter(tree.job)))
    worst = max(found, key=lambda r: r.likely)
    return Range(min(worst.low, 0.98), min(worst.likely, 0.98), min(worst.high, 0.98))


def _pull_test(tree: Stood) -> Range | None:
    tests = tree.job.inspection.test if tree.job.inspection is not None else ()
    found = [
        pull_test_capacity(t.pull.likely * t.height.likely, t.tilt.likely)
        for t in tests
        if t.kind == "pull" and t.pull is not None and t.height is not None and t.tilt is not None
    ]
    return min(found, key=lambda r: r.likely) if found else None


def plate_check(tree: Stood) -> float | None:
    """Turning moment by the plate-weight model [N m], None when the plate's size is not given."""
    standing = tree.standing
    if standing.plate_diameter is None or standing.plate_depth is None:
        return None
    return plate_capacity(standing.plate_diameter.likely, standing.plate_depth.likely, defaults.PLATE_DENSITY)
