"""What was measured of a standing tree, value by value with its error, to lay two inspections side by side."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from bolewright.core.base.range import Range
from bolewright.core.standing.change import with_error
from bolewright.job.compass import POINTS
from bolewright.job.inspection import Test
from bolewright.job.model import Job
from bolewright.job.quantity import Quantity
from bolewright.planning import defaults as common
from bolewright.planning.both import both_lengths
from bolewright.planning.standing import defaults
from bolewright.planning.standing.tests import SAME_HEIGHT, depths_of, path_of

SAME_SIDE = math.radians(15.0)  # readings nearer than this are of one side
SIZES = (  # field of [standing], its name, kind of number, usual error: (share of the value, and as much again)
    ("height", "height of the tree", "length", (defaults.HEIGHT_SPREAD, 0.0)),
    ("crown_width", "crown width", "length", (defaults.WIDTH_SPREAD, 0.0)),
    ("crown_base", "height of the crown base", "length", (defaults.HEIGHT_SPREAD, 0.3)),
    ("crown_filled", "share of the crown filled", "share", (0.0, defaults.SHARE_ERROR)),
    ("crown_offset", "crown off the foot", "length", (defaults.WIDTH_SPREAD, 0.3)),
    ("lean", "lean", "angle", (0.0, defaults.LEAN_SPREAD)),
    ("sweep", "sweep", "length", (0.0, 0.1)),
    ("roots_lost", "roots lost", "share", (0.0, defaults.SHARE_ERROR)),
    ("trench", "trench from the trunk", "length", (0.0, 0.1)),
)


@dataclass(frozen=True)
class Reading:
    """One measured value in SI. Two readings are of the same thing when `key` agrees and place and side are near."""

    group: str  # "size" | "tests"
    key: str
    what: str
    kind: str
    value: Range
    usual_error: bool
    height: float = 0.0
    side: float | None = None  # azimuth [rad]

    def same_thing(self, other: Reading) -> bool:
        """Whether the other reading is of the same thing at the same place."""
        if self.key != other.key or abs(self.height - other.height) > SAME_HEIGHT:
            return False
        if self.side is None or other.side is None:
            return self.side is other.side
        return abs(math.remainder(self.side - other.side, math.tau)) <= SAME_SIDE


def measured_of(job: Job) -> tuple[Reading, ...]:
    """Every value measured of a standing tree, each once, sizes first."""
    return (*_sizes(job), *_stem(job), *_tests(job))


def _reading(key: str, what: str, kind: str, given: Quantity, error: tuple[float, float], **where: object) -> Reading:
    usual = error[0] * abs(given.likely) + error[1]
    value = with_error(given.likely, given.low, given.high, usual)
    group = "tests" if key.startswith("test") else "size"
    return Reading(group, key, what, kind, value, not given.has_spread, **where)  # type: ignore[arg-type]


def _sizes(job: Job) -> Iterator[Reading]:
    if job.tree.dbh is not None:
        yield _reading("dbh", "diameter at breast height", "size", job.tree.dbh, (common.SIZE_SPREAD, 0.0))
    for field, what, kind, error in SIZES:
        given = getattr(job.standing, field)
        if given is not None:
            yield _reading(field, what, kind, given, error)


def _stem(job: Job) -> Iterator[Reading]:
    for station in job.tree.stem:
        where = both_lengths(station.at.likely)
        yield _reading(
            "stem", f"diameter at {where}", "size", station.diameter, (common.SIZE_SPREAD, 0.0),
            height=station.at.likely,
        )  # fmt: skip


def _tests(job: Job) -> Iterator[Reading]:
    for n, test in enumerate(job.inspection.test if job.inspection is not None else ()):
        yield from _test(test, n)


def _test(test: Test, n: int) -> Iterator[Reading]:
    height = test.height.likely if test.height is not None else 0.0
    side = test.side.likely if test.side is not None else None
    for turn, depth in depths_of(test, path_of(test, n)):
        value = with_error(depth.likely, depth.low, depth.high, defaults.SHELL_SPREAD)
        what = f"sound wood at {both_lengths(height)}, {point(turn)}"
        yield Reading("tests", "test shell", what, "size", value, depth.low == depth.high, height, turn)
    place = f"{both_lengths(height)}{', ' + point(side) if side is not None else ''}"
    if test.width is not None:
        yield _reading("test opening", f"opening at {place}", "size", test.width, (0.0, 0.02), height=height, side=side)
    if test.depth is not None:
        yield _reading("test probe", f"probe at {place}", "size", test.depth, (0.0, 0.02), height=height, side=side)


def point(azimuth: float) -> str:
    """The nearest of sixteen points of the compass of an azimuth [rad]."""
    return POINTS[round(azimuth / (math.tau / 16.0)) % 16]
