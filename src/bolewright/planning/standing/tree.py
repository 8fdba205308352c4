"""The standing tree of a job: stem leant over, crown in slices, places along the stem, and the loads on them."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.errors import NotEnoughKnown
from bolewright.core.base.range import Range
from bolewright.core.base.sourced import Status
from bolewright.core.standing.crown import Slices, crown_slices, ice_mass
from bolewright.core.standing.upright import Masses, Upright, crown_masses, leaned, stem_at_height, stem_points, upright
from bolewright.core.tree.assembly import Assembly, build_assembly
from bolewright.core.tree.spec import STEM
from bolewright.core.wood import crown_allowance
from bolewright.job.model import Job, Station
from bolewright.job.quantity import Dimension, Quantity
from bolewright.job.standing import Standing
from bolewright.planning.both import in_feet, in_metres
from bolewright.planning.results import FilledIn
from bolewright.planning.standing import defaults
from bolewright.planning.trees import BREAST_HEIGHT, Grown, breast_diameter, grown
from bolewright.reference import crown_relation, find_species

Floats = NDArray[np.float64]
SPACING = 0.5  # m between places looked at along the stem
MOST_PLACES = 40


@dataclass(frozen=True)
class Stood:
    """The tree as it stands. `bearing` [rad] is the compass direction of x. bark: wood over outside diameter."""

    job: Job
    standing: Standing
    grown: Grown
    bearing: float
    lean: float
    towards: Floats  # (2,)
    assembly: Assembly
    crown_base: float
    crown_shape: str
    rest: Floats  # (5,) kg of crown beyond what was measured
    offset: Floats  # (2,)
    bark: float
    filled: tuple[FilledIn, ...]

    def direction(self, azimuth: float) -> float:
        """Angle from x to y [rad] of a compass direction [rad]."""
        return self.bearing - azimuth

    def compass_deg(self, direction: float) -> float:
        """Compass direction in degrees of an angle from x to y [rad]."""
        return math.degrees(self.bearing - direction) % 360.0

    def slices(self, base: float | None = None, top: float | None = None) -> Slices:
        """The crown's outline, or that of a crown raised or cut back."""
        return crown_slices(
            self.crown_base if base is None else base,
            self.standing.height.likely if top is None else top,
            self.standing.crown_width.likely,
            self.crown_shape,
        )

    def diameter_at(self, at: float) -> float:
        """Diameter of the wood, bark off, at a distance along the stem."""
        own = self.assembly.of(STEM)
        s = np.append(self.assembly.s_start[own], self.assembly.s_end[own][-1])
        d = np.append(self.assembly.diameter_start[own], self.assembly.diameter_end[own][-1])
        return float(np.interp(at, s, d)) * self.bark

    def height_at(self, at: float) -> float:
        """Height of the stem's centre line at a distance along it."""
        return round(float(stem_points(self.assembly, [at])[0, 2]), 9)  # the foot is at 0, not at 5e-17

    def at_height(self, height: float) -> float:
        """Distance along the stem at a height."""
        return float(stem_at_height(self.assembly, [height])[0])

    def loaded(self, places: Floats, slices: Slices, share: float = 1.0) -> Upright:
        """The tree with its crown, `share` of the unmeasured crown left on it."""
        extra: Masses = crown_masses(self.assembly, slices, self.offset, self.rest * share)
        return upright(self.assembly, places, slices, extra)


def stood(job: Job) -> Stood:
    """The standing tree of a job. Raises NotEnoughKnown without [standing] or any diameter."""
    standing = job.standing
    if standing is None:
        raise NotEnoughKnown("A standing tree needs the table [standing] with its height and crown width.", "standing")
    if job.tree.dbh is None and not job.tree.stem:
        raise NotEnoughKnown("Give the diameter at breast height, or stations along the stem.", "tree.dbh")
    filled: list[FilledIn] = []
    lean, bearing = _lean(job, standing), _bearing(job, standing)
    towards_azimuth = standing.lean_towards.likely if standing.lean_towards is not None else bearing
    turn = bearing - towards_azimuth
    towards = np.array([math.cos(turn), math.sin(turn)])
    _assumed(standing, filled)
    whole = _in_season(_with_whole_stem(job, standing, lean, filled), standing)
    tree = grown(whole)
    wet = wet_leaves(standing)
    plumb = replace(
        tree.spec, leaf_per_area=wet * tree.spec.leaf_per_area, needle_per_area=wet * tree.spec.needle_per_area
    )
    plumb = replace(plumb, stations=tuple(replace(s, height=s.at, offset=0.0) for s in tree.spec.stations))
    bow = standing.sweep.likely if standing.sweep is not None else 0.0
    assembly = leaned(build_assembly(plumb), lean, towards, bow)
    base = _crown_base(standing, filled)
    shape = _crown_shape(standing, tree.species.kind, filled)
    offset = _offset(standing, bearing)
    partial = Stood(
        job, standing, tree, bearing, lean, towards, assembly, base, shape, np.zeros(5), offset,
        math.sqrt(1.0 / (1.0 + tree.species.bark_share.value)), (),
    )  # fmt: skip
    rest = _rest_of_crown(partial, whole)
    return replace(partial, rest=rest, filled=(*tree.filled, *filled))


_ASSUMED = {
    "terrain": "open country: the most wind of the inland kinds",
    "season": "in leaf: the most wind on a crown without ice",
    "wind_form": "profile of the gust with height",
}


def _assumed(standing: Standing, filled: list[FilledIn]) -> None:
    """What the document itself takes where nothing is written."""
    for field, why in _ASSUMED.items():
        if field not in standing.model_fields_set:
            value = str(getattr(standing, field))
            filled.append(FilledIn(f"standing.{field}", value, why, "judgement", Status.COMMON_PRACTICE))
    if standing.season == "wet":
        water = defaults.WET_LEAVES
        words = f"{water.value.likely:.1f} times the weight of the leaves"
        filled.append(FilledIn("weight of wet leaves", words, "rain on the crown", water.source, water.status))


def _in_season(job: Job, standing: Standing) -> Job:
    """The job with its limbs in the season judged, but for those that carry no twigs at all."""
    conifer = find_species(job.tree.species).kind == "conifer"
    leaves = "needle" if conifer else "leaf" if standing.season in ("in leaf", "wet") else "bare"
    limbs = tuple(
        limb if limb.foliage == "none" else limb.model_copy(update={"foliage": leaves}) for limb in job.tree.limb
    )
    return job.model_copy(update={"tree": job.tree.model_copy(update={"limb": limbs})})


def _bearing(job: Job, standing: Standing) -> float:
    for given in (job.tree.bearing, standing.lean_towards):
        if given is not None:
            return given.likely
    return 0.0


def _lean(job: Job, standing: Standing) -> float:
    if standing.lean is not None:
        return standing.lean.likely
    taken = [(s.at.likely, s.height.likely) for s in job.tree.stem if s.height is not None]
    if len(taken) < 2 or taken[-1][0] <= taken[0][0]:
        return 0.0
    rise = (taken[-1][1] - taken[0][1]) / (taken[-1][0] - taken[0][0])
    return math.acos(min(max(rise, 0.0), 1.0)) if rise < 0.9999 else 0.0


def _length(value: float) -> Quantity:
    return Quantity(value, value, value, f"{value:.3f} m", Dimension.LENGTH)


def _with_whole_stem(job: Job, standing: Standing, lean: float, filled: list[FilledIn]) -> Job:
    """The job with its stem drawn up to the top; taper is filled in above the last diameter measured."""
    top = standing.height.likely / math.cos(lean)
    known = [(s.at.likely, s.diameter.likely) for s in job.tree.stem]
    if len(known) < 2:
        breast = breast_diameter(job) if job.tree.dbh is not None else known[0][1]
        known = [(0.0, breast), (min(BREAST_HEIGHT, 0.3 * top), breast)]
        why = "one diameter given: no flare below breast height, above it the taper of a cone"
        filled.append(_taper(why, standing))
    last, thick = known[-1]
    if last < top - 0.05:
        heights = list(np.linspace(last, top, 8)[1:-1])
        known += [(float(h), thick * ((top - h) / (top - last)) ** defaults.TAPER_POWER) for h in heights]
        known.append((top, 0.02 * thick))
        if len(job.tree.stem) >= 2:
            filled.append(_taper("above the last diameter measured: the taper of a cone", standing))
    stem = tuple(Station.model_construct(at=_length(at), diameter=_length(d)) for at, d in known)
    return job.model_copy(update={"tree": job.tree.model_copy(update={"stem": stem})})


def _taper(why: str, standing: Standing) -> FilledIn:
    metric, us = (f"down to nothing at {said(standing.height.likely)}" for said in (in_metres, in_feet))
    return FilledIn("tree.stem", metric, why, "Ormerod 1973, p = 1, from memory", Status.MEMORY, us)


def _crown_base(standing: Standing, filled: list[FilledIn]) -> float:
    if standing.crown_base is not None:
        return standing.crown_base.likely
    base = defaults.CROWN_BASE * standing.height.likely
    filled.append(
        FilledIn(
            "standing.crown_base", f"{base:.1f} m", "a third of the height", "judgement", Status.COMMON_PRACTICE,
            in_feet(base),
        )
    )  # fmt: skip
    return base


def _crown_shape(standing: Standing, kind: str, filled: list[FilledIn]) -> str:
    if standing.crown_shape is not None:
        return standing.crown_shape
    shape = defaults.SHAPE[kind]
    filled.append(FilledIn("standing.crown_shape", shape, f"a {kind}", "judgement", Status.COMMON_PRACTICE))
    return shape


def _offset(standing: Standing, bearing: float) -> Floats:
    if standing.crown_offset is None or standing.crown_towards is None:
        return np.zeros(2)
    turn = bearing - standing.crown_towards.likely
    return standing.crown_offset.likely * np.array([math.cos(turn), math.sin(turn)])


def _rest_of_crown(tree: Stood, whole: Job) -> Floats:
    """Mass by group of the crown that no named limb accounts for: the stem's basal area less that of the limbs."""
    species, breast = tree.grown.species, breast_diameter(whole)
    allowance = crown_allowance(breast, crown_relation(species, breast), species.kind, species.wood_moisture.value)
    area = math.pi / 4.0 * breast**2
    named = sum(math.pi / 4.0 * limb.diameter.likely**2 for limb in tree.job.tree.limb if limb.on == STEM)
    left = max(area - named, 0.0)
    leafy = tree.standing.season in ("in leaf", "wet") or species.kind == "conifer"
    wet = wet_leaves(tree.standing)
    foliage = allowance.foliage_per_area.likely * wet * left if leafy else 0.0
    ice = crown_ice(tree)
    return np.array([0.0, 0.0, allowance.branch_per_area.likely * left, foliage + ice, 0.0])


def wet_leaves(standing: Standing) -> float:
    """What rain makes of the weight of the leaves [-]."""
    return defaults.WET_LEAVES.value.likely if standing.season == "wet" else 1.0


def crown_ice(tree: Stood) -> float:
    """Mass of ice [kg] on the whole crown, 0 in any season but iced."""
    if tree.standing.season != "iced":
        return 0.0
    thickness = tree.standing.ice.likely if tree.standing.ice is not None else defaults.ICE
    bare = defaults.FILLED["bare"].value.likely * float(tree.slices().area.sum())
    return float(ice_mass(bare, thickness))


def places_along(tree: Stood, extra: tuple[float, ...]) -> Floats:
    """Distances along the stem to look at: the ground, half-metre steps to the crown base or the highest diameter
    measured, and every place tested."""
    measured = [s.at.likely for s in tree.job.tree.stem]
    top = tree.at_height(tree.standing.height.likely)
    end = max(tree.at_height(tree.crown_base), min(max(measured, default=0.0), 0.85 * top))
    steps = min(max(math.ceil(end / SPACING), 2), MOST_PLACES)
    return np.unique(np.round(np.concatenate([np.linspace(0.0, end, steps + 1), np.array(extra)]), 6))


def band(quantity: Quantity | None, spread: float) -> Range:
    """A measured value as a factor on itself: its own spread, or the usual one."""
    if quantity is None or quantity.likely <= 0.0:
        return Range.exact(1.0)
    if quantity.has_spread:
        return Range(max(quantity.low, 0.2 * quantity.likely) / quantity.likely, 1.0, quantity.high / quantity.likely)
    return Range(1.0 / (1.0 + spread), 1.0, 1.0 + spread)
