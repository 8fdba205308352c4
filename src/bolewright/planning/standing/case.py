"""A standing tree put together for the engine: places with their strength, loads, roots, and what is not known."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.range import Range
from bolewright.core.standing.decay import Readings, checked_readings
from bolewright.core.standing.failing import GUSTS, Case
from bolewright.core.standing.loads import loads, sway_share
from bolewright.core.standing.strength import Strength, decayed_strength, sound_strength
from bolewright.core.standing.unknowns import Unknowns
from bolewright.core.tree.spec import STEM
from bolewright.job.model import Job
from bolewright.planning.both import both_lengths
from bolewright.planning.results import FilledIn
from bolewright.planning.standing.defaults import TEST_REACH
from bolewright.planning.standing.roots import Roots, roots_of
from bolewright.planning.standing.tests import Measured, Tested, tests_of
from bolewright.planning.standing.tree import Stood, places_along, stood
from bolewright.planning.standing.unknowns import unknowns_of

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Place:
    """A place along the stem, with what was measured there; no readings where it is taken as sound."""

    at: float
    height: float
    diameter: float
    readings: Readings
    opening: tuple[float, float] | None
    sides: tuple[tuple[float, float], ...]
    measured: bool
    note: str = ""


@dataclass(frozen=True)
class Whole:
    """A standing tree ready for the engine."""

    tree: Stood
    tested: Tested
    places: tuple[Place, ...]
    strengths: tuple[Strength, ...]
    unknowns: Unknowns
    roots: Roots
    case: Case
    filled: tuple[FilledIn, ...]


def whole_of(job: Job) -> Whole:
    """Everything about a standing tree that the engine needs."""
    tree = stood(job)
    tested = tests_of(tree)
    filled = list(tree.filled)
    unknowns = unknowns_of(tree, tested, filled)
    roots = roots_of(tree, filled)
    unknowns = replace(unknowns, anchorage=roots.factor)
    places = _places(tree, tested)
    strengths = tuple(_strength(place, tested.shell) for place in places)
    case = case_of(tree, places, strengths, roots)
    return Whole(tree, tested, places, strengths, unknowns, roots, case, tuple(filled))


def case_of(
    tree: Stood,
    places: tuple[Place, ...],
    strengths: tuple[Strength, ...],
    roots: Roots,
    crown: tuple[float | None, float | None] = (None, None),
    share: float = 1.0,
) -> Case:
    """The tree loaded, with its crown or one from another base to another top, `share` of its unmeasured mass on."""
    standing = tree.standing
    upright = tree.loaded(np.array([p.at for p in places]), tree.slices(*crown), share)
    table = loads(upright, GUSTS, standing.wind_form, standing.terrain)
    modulus = tree.grown.species.stiffness.value
    stiffness = modulus * np.array([float(s.inertia.min()) for s in strengths])
    sway = sway_share(upright, table.crown_moment[:, -1], stiffness)
    return Case(table, strengths, roots.capacity, sway, roots.measured)


def _places(tree: Stood, tested: Tested) -> tuple[Place, ...]:
    found = {round(m.at, 6): m for m in tested.sections}
    return tuple(_place(tree, float(a), found) for a in places_along(tree, tuple(found)))


def _place(tree: Stood, at: float, tested: dict[float, Measured]) -> Place:
    height = tree.height_at(at)
    m = tested.get(at)
    if m is not None:
        return Place(at, m.height, m.diameter, m.readings, m.opening, m.sides, True)
    diameter = tree.diameter_at(at)
    for n, decay in enumerate(tree.job.tree.decay):
        if decay.member == STEM and decay.from_.likely - 1e-6 <= at <= decay.to.likely + 1e-6:
            given = [(clock, min(depth.likely, diameter / 2.0)) for clock, depth in decay.shells]
            readings = checked_readings(diameter, given, f"tree.decay[{n}]")
            sides = tuple((tree.bearing + math.pi - clock * math.pi / 6.0, depth) for clock, depth in readings)
            return Place(at, height, diameter, readings, None, sides, True)
    return _untested(at, height, diameter, tested)


def _untested(at: float, height: float, diameter: float, tested: dict[float, Measured]) -> Place:
    """A place nobody tested: with the shell of the nearest test within a metre, else sound."""
    near = min(tested.values(), key=lambda m: abs(m.at - at), default=None)
    if near is None or abs(near.at - at) > TEST_REACH:
        return Place(at, height, diameter, (), None, (), False, "taken as sound: not tested here")
    readings = tuple((clock, min(depth, diameter / 2.0)) for clock, depth in near.readings)
    note = f"shell of the test at {both_lengths(near.height)}: not tested here"
    return Place(at, height, diameter, readings, None, near.sides, False, note)


def _strength(place: Place, shell: Range) -> Strength:
    if not place.readings:
        return sound_strength(place.diameter)
    return decayed_strength(place.diameter, place.readings, place.opening, error_steps(shell))


def error_steps(shell: Range) -> Floats:
    """Shell errors to table: a centimetre apart, half as far again as the range."""
    reach = 1.5 * max(-shell.low, shell.high)
    count = min(max(math.ceil(reach / 0.01), 1), 6)
    return np.linspace(-reach, reach, 2 * count + 1) if reach > 0.0 else np.zeros(1)
