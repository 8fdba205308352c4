"""A standing tree put together for the engine: places with their strength, loads, roots, and what is not known."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.range import Range
from bolewright.core.base.sourced import Status
from bolewright.core.standing.anchorage import DEEP_GAIN, pull_test_capacity, roots_cut, trench_loss, turning_capacity
from bolewright.core.standing.crown import iced_solidity
from bolewright.core.standing.decay import Readings, checked_readings
from bolewright.core.standing.failing import GUSTS, Case
from bolewright.core.standing.loads import loads, sway_share
from bolewright.core.standing.strength import Strength, decayed_strength, sound_strength
from bolewright.core.standing.unknowns import Unknowns
from bolewright.core.tree.mass import group_masses
from bolewright.core.tree.spec import STEM
from bolewright.core.wood import POWER_LAWS, green_strength
from bolewright.planning import standing_defaults as defaults
from bolewright.planning.phrases import both_lengths
from bolewright.planning.results import FilledIn
from bolewright.planning.standing_tests import Measured, Tested, tests_of
from bolewright.planning.standing_tree import Stood, band, places_along, stood
from bolewright.planning.trees import breast_diameter
from bolewright.reference import cite
from bolewright.reference.standing import anchorage_for, drag_for

Floats = NDArray[np.float64]
NEAR = 1.0  # m from a test within which its shell is taken on (common practice)


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
class Roots:
    """Likely turning capacity [N m], its range as a factor, and where it comes from."""

    capacity: float
    factor: Range
    loss: Range
    measured: bool
    source: str
    status: Status


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


def whole_of(job: object) -> Whole:
    """Everything about a standing tree that the engine needs."""
    tree = stood(job)  # type: ignore[arg-type]
    tested = tests_of(tree)
    filled = list(tree.filled)
    unknowns = _unknowns(tree, tested, filled)
    roots = _roots(tree, filled)
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
    if near is None or abs(near.at - at) > NEAR:
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


def _unknowns(tree: Stood, tested: Tested, filled: list[FilledIn]) -> Unknowns:
    species, standing, spread = tree.grown.species, tree.standing, tree.grown.spread
    drag, filling = _crown(tree, filled)
    bending = species.bending_strength
    scatter = POWER_LAWS[species.kind, "bending"].scatter if bending.status is Status.ESTIMATE else 0.0
    strength = green_strength(bending.value, "bending", scatter)
    words = f"{strength.likely / 1e6:.1f} MPa ({strength.low / 1e6:.1f} to {strength.high / 1e6:.1f})"
    why = f"0.8 (from memory) of clear green {species.common_name}; upper limit of what a stem does"
    filled.append(FilledIn("bending strength", words, why, cite(bending.source), bending.status))
    return Unknowns(
        drag=drag,
        filled=filling,
        strength=strength,
        width=band(standing.crown_width, defaults.WIDTH_SPREAD),
        height=band(standing.height, defaults.HEIGHT_SPREAD),
        size=spread.size,
        density=spread.wood,
        crown_mass=spread.small_wood,
        foliage_mass=defaults.ICE_SPREAD if standing.season == "iced" else spread.foliage,
        lean=_lean_band(tree),
        stiffness=spread.stiffness,
        shell=tested.shell if tested.sections or tree.job.tree.decay else Range.exact(0.0),
    )


def _lean_band(tree: Stood) -> Range:
    lean = tree.standing.lean
    if lean is not None and lean.has_spread and lean.likely > 0.0:
        return band(lean, 0.0)
    if tree.lean <= 0.0:
        return Range.exact(1.0)
    share = min(defaults.LEAN_SPREAD / tree.lean, 0.5)
    return Range(1.0 - share, 1.0, 1.0 + share)


def _crown(tree: Stood, filled: list[FilledIn]) -> tuple[Range, Range]:
    """Drag number and filled share for the season judged."""
    species, standing = tree.grown.species, tree.standing
    bare = standing.season in ("bare", "iced") and species.kind == "broadleaf"
    drag = drag_for(species.scientific_name, species.kind)
    if bare:
        drag = defaults.BARE_DRAG
    if standing.season == "iced":
        drag = defaults.ICED_DRAG
    kind = "bare" if bare else "in leaf"
    share = defaults.FILLED[kind]
    value = share.value
    if standing.crown_filled is not None:
        given = standing.crown_filled
        value = Range(max(given.low, 0.02), max(given.likely, 0.02), max(given.high, 0.02))
    else:
        text = f"{value.likely:.0%} ({value.low:.0%} to {value.high:.0%})"
        filled.append(FilledIn("standing.crown_filled", text, f"a crown {kind}", share.source, share.status))
    if standing.season == "iced":
        thickness = standing.ice.likely if standing.ice is not None else defaults.ICE
        ends = iced_solidity([value.low, value.likely, value.high], thickness)
        value = Range(float(ends[0]), float(ends[1]), float(ends[2]))
        words = f"{thickness * 1000:.0f} mm of ice on twigs of 4 mm"
        why = "weight and area of ice follow from the mean twig"
        filled.append(FilledIn("standing.ice", words, why, "geometry; mean twig by judgement", Status.COMMON_PRACTICE))
    words = f"{drag.value.likely:.2f} ({drag.value.low:.2f} to {drag.value.high:.2f}) at 20 m/s and above"
    why = "drag number on the area seen in still air; large crowns were never in a tunnel"
    filled.append(FilledIn("drag of the crown", words, why, drag.source, drag.status))
    return drag.value, value


def _roots(tree: Stood, filled: list[FilledIn]) -> Roots:
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
    filled.append(FilledIn("anchorage", words, "no pull test: scale only", slope.source, slope.status))
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
