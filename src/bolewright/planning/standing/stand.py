"""How far a standing tree is from failing, where first, in what wind, and what is not known."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.range import Range
from bolewright.core.sections import formulas_beside, wall_mode
from bolewright.core.standing.curve import fragility
from bolewright.core.standing.decay import cavity_share, rules_of_thumb
from bolewright.core.standing.failing import (
    Case,
    gust_to_break,
    gust_to_uproot,
    held_by_roots,
    overturning,
    stress_share,
    worst_direction,
)
from bolewright.core.standing.strength import loss_band, outline_of
from bolewright.core.standing.unknowns import Draws, draw_unknowns, likely_draw
from bolewright.core.standing.wind import reference_gust
from bolewright.core.tree.mass import group_masses
from bolewright.job.model import Job
from bolewright.planning.both import both_lengths
from bolewright.planning.standing import defaults
from bolewright.planning.standing.case import Place, Whole, whole_of
from bolewright.planning.standing.judgement import fall_of, hidden_notes, judgement, looked_for, targets_of
from bolewright.planning.standing.limbs import limbs_of
from bolewright.planning.standing.lookback import look_back
from bolewright.planning.standing.narrow import narrows_of
from bolewright.planning.standing.options import failing_gust
from bolewright.planning.standing.results import (
    Anchorage,
    FragilityCurve,
    LimbStand,
    LossBeside,
    RuleBeside,
    StandResult,
    StandSection,
)
from bolewright.planning.standing.roots import plate_check
from bolewright.planning.standing.shelter import shelter_of
from bolewright.planning.standing.tests import decay_signs
from bolewright.reference.standing import damage_table

Floats = NDArray[np.float64]
CURVE = np.arange(0.0, 81.0, 2.0)  # m/s of the fragility curve
DEFAULT_DEGREE = 3  # of the published damage table: up to a fifth of mature trees down


@dataclass(frozen=True)
class Failing:
    """A tree loaded until it fails: samples (B,) and where it gives first; what `stand` and `screen` start from."""

    whole: Whole
    draws: Draws
    worst: float  # direction [rad] of the wind that is worst
    design: float
    why: str
    stem: Floats  # (B, S)
    roots: Floats  # (B,)
    first: Floats  # (B,)
    place: Place | None  # None for the roots
    standing: float  # share of samples that stand the design gust
    limbs: tuple[LimbStand, ...]
    status: str
    words: str


def failing(job: Job) -> Failing:
    """The gusts at which the tree of a job fails. Raises NotEnoughKnown without size or crown."""
    whole = whole_of(job)
    each = max(job.limits.samples // defaults.GROUPS, 1)
    draws = draw_unknowns(whole.unknowns, defaults.GROUPS, each, np.random.default_rng(job.limits.seed))
    worst = worst_direction(whole.case, whole.unknowns)
    design, why = design_gust(job)
    stem = gust_to_break(whole.case, draws, worst)
    roots = gust_to_uproot(whole.case, draws, worst)
    first = np.minimum(stem.min(axis=1), roots)
    limbs = limbs_of(whole, draws, design)
    standing = float(np.mean(first >= design))
    status, words = _status(whole, standing, limbs)
    place = _breaks_first(whole, worst)
    return Failing(whole, draws, worst, design, why, stem, roots, first, place, standing, limbs, status, words)


def stand(job: Job) -> StandResult:
    """The standing tree of a job against the wind it is to stand. Raises NotEnoughKnown without size or crown."""
    f = failing(job)
    whole, draws, worst, design, why, stem, roots, first, place = (
        f.whole, f.draws, f.worst, f.design, f.why, f.stem, f.roots, f.first, f.place,
    )  # fmt: skip
    standing, limbs, status, words = f.standing, f.limbs, f.status, f.words
    named = _named_wind(whole, draws)
    area, reach = fall_of(whole, worst)
    targets = targets_of(whole, reach, limbs)
    return StandResult(
        status=status,
        words=words,
        design_gust_m_s=design,
        design_gust_why=why,
        share_standing=standing,
        gust_m_s=Range.of_samples(first),
        breaks_first=first_words(place),
        breaks_first_height_m=0.0 if place is None else place.height,
        worst_towards_deg=whole.tree.compass_deg(worst),
        stem_gust_m_s=Range.of_samples(stem.min(axis=1)),
        sections=_sections(whole, draws, worst, design, stem),
        roots=_anchorage(whole, draws, worst, design, roots),
        limbs=limbs,
        wind_towards_deg=None if named is None else named[0],
        wind_gust_m_s=None if named is None else named[1],
        fragility=_curve(first, draws.groups),
        narrows=narrows_of(whole, draws, worst),
        shelter=shelter_of(whole, first),
        mass_kg=_mass(whole, draws),
        sail_m2=float(whole.tree.slices().area.sum()),
        height_m=whole.tree.standing.height.likely,
        tests=whole.tested.reads,
        looked=looked_for(job),
        fall=area,
        targets=targets,
        judgement=judgement(whole, draws, worst, design, targets),
        look_back=look_back(whole, draws, worst),
        filled_in=whole.filled,
        notes=_notes(whole),
    )


def design_gust(job: Job) -> tuple[float, str]:
    """The gust to stand [m/s at 10 m in open country], and why that one."""
    standing = job.standing
    if standing is not None and standing.design_gust is not None:
        gust = reference_gust(standing.design_gust.likely, standing.design_gust_is)
        if standing.design_gust_is == "mean":
            return gust, f"set as a 10-minute mean of {standing.design_gust.text}, raised once to the gust in it"
        return gust, f"set in the job: {standing.design_gust.text}"
    row = damage_table()[DEFAULT_DEGREE - 1]
    return row.gust.likely, f"none set: the gust at which a published table expects {row.damage} ({row.source})"


def _status(whole: Whole, standing: float, limbs: tuple[LimbStand, ...]) -> tuple[str, str]:
    """Inside or outside by the share of samples that stand the design gust, the tree's and every limb's; or not enough
    known."""
    job = whole.tree.job
    wanted = job.limits.share.likely
    signs = decay_signs(job)
    said = f"{standing:.0%} of the samples stand the gust it is held against; {wanted:.0%} were asked for."
    weak = [limb for limb in limbs if limb.status == "outside"]
    if weak:
        names = ", ".join(f"{limb.id} {limb.share_standing:.0%}" for limb in weak)
        said += f" Of limbs: {names}."
    split = [limb.id for limb in limbs if limb.status == "not enough known"]
    if signs and not any(place.readings for place in whole.places):
        return "not enough known", f"Signs of decay ({', '.join(signs)}) and no depth of sound wood measured. {said}"
    if standing < wanted or weak:
        return "outside", said
    if split:
        return (
            "not enough known",
            f"An open crack in the union of {', '.join(split)}: what it holds is not known. {said}",
        )
    return "inside", said


def _breaks_first(whole: Whole, worst: float) -> Place | None:
    """The place of the least gust, likely values; None for the roots."""
    draws, case = likely_draw(whole.unknowns), whole.case
    stem = gust_to_break(case, draws, worst)[0]
    roots = float(gust_to_uproot(case, draws, worst)[0])
    lowest = int(np.argmin(stem))
    if min(float(stem[lowest]), roots) < case.loads.gust[-1]:
        return whole.places[lowest] if stem[lowest] <= roots else None
    shares = [float(stress_share(case, draws, worst, n)[0, -1]) for n in range(len(whole.places))]
    moment = float(np.linalg.norm(overturning(case, draws, worst, 0)[0, -1]))
    nearest = int(np.argmax(shares))  # neither fails in any gust looked at: the one nearer to it
    return whole.places[nearest] if shares[nearest] >= moment / float(held_by_roots(case, draws)[0]) else None


def first_words(place: Place | None) -> str:
    """Where the tree fails first, in words."""
    return "roots" if place is None else f"stem at {both_lengths(place.height)}"


def _named_wind(whole: Whole, draws: Draws) -> tuple[float, Range] | None:
    """The wind named in the job: where it blows to [deg], and the gust to fail in it."""
    wind = whole.tree.standing.wind_from
    if wind is None:
        return None
    way = whole.tree.direction(wind.likely + math.pi)
    return whole.tree.compass_deg(way), Range.of_samples(failing_gust(whole.case, draws, way))


def at_gust(case: Case, values: Floats, gust: float) -> Floats:
    """Values (B, G) read at one gust, (B,)."""
    grid = case.loads.gust
    k = int(np.clip(np.searchsorted(grid, gust) - 1, 0, grid.size - 2))
    share = min(max((gust - grid[k]) / (grid[k + 1] - grid[k]), 0.0), 1.0)
    return np.asarray(values[:, k] * (1.0 - share) + values[:, k + 1] * share)


def _sections(whole: Whole, draws: Draws, worst: float, design: float, stem: Floats) -> tuple[StandSection, ...]:
    found = []
    for n, place in enumerate(whole.places):
        stress = at_gust(whole.case, stress_share(whole.case, draws, worst, n), design)
        margin = Range.of_samples(1.0 / np.maximum(stress, 1e-6))
        found.append(_section(whole, n, place, Range.of_samples(stem[:, n]), margin))
    return tuple(found)


def _section(whole: Whole, n: int, place: Place, gust: Range, margin: Range) -> StandSection:
    tree, strength = whole.tree, whole.strengths[n]
    kept = strength.kept
    width = place.opening[1] if place.opening is not None else 0.0
    share = cavity_share(place.diameter, place.readings) if place.readings else 0.0
    around = math.pi * place.diameter
    losses = formulas_beside(kept, share, width / around) if place.readings else ()
    rules = rules_of_thumb(place.diameter, place.readings, width) if place.readings else ()
    thinnest = min((depth for _, depth in place.readings), default=place.diameter / 2.0)
    closed = bool(place.readings) and width <= 0.0 and thinnest > 0.0
    outer, inner = outline_of(place.diameter, place.readings or ((12.0, place.diameter / 2.0),), place.opening)
    weakest = (math.degrees(tree.bearing) + 180.0 - 30.0 * kept.worst_clock) % 180.0 if place.readings else None
    return StandSection(
        id=f"S{n + 1}",
        height_m=place.height,
        at_m=place.at,
        diameter_m=place.diameter,
        loss_of_strength=max(1.0 - kept.strength_worst, 0.0),
        loss_of_area=max(1.0 - kept.area, 0.0),
        loss_range=loss_band(strength, whole.tested.shell if place.readings else Range.exact(0.0)),
        area_m2=kept.area * math.pi / 4.0 * place.diameter**2,
        modulus_m3=kept.strength_worst * math.pi / 32.0 * place.diameter**3,
        weakest_deg=weakest,
        gust_m_s=gust,
        margin=margin,
        measured=place.measured,
        shell=tuple((math.degrees(turn) % 360.0, depth) for turn, depth in place.sides),
        opening_m=width,
        outline=_from_above(outer, tree.bearing),
        void=_from_above(inner, tree.bearing) if place.readings else (),
        formulas=tuple(LossBeside(f.name, f.source, f.loss, f.error) for f in losses),
        rules=tuple(RuleBeside(r.name, r.value, r.limit, r.within, r.applies, r.source) for r in rules),
        wall=wall_mode(thinnest, place.diameter / 2.0) if closed else "",
        note=place.note,
    )


def _from_above(points: Floats, bearing: float) -> tuple[tuple[float, float], ...]:
    """Section points (right of the bearing, back along it) as (east, north)."""
    right, back = points[:, 0], points[:, 1]
    east = right * math.cos(bearing) - back * math.sin(bearing)
    north = -right * math.sin(bearing) - back * math.cos(bearing)
    return tuple((float(e), float(n)) for e, n in zip(east, north, strict=True))


def _anchorage(whole: Whole, draws: Draws, worst: float, design: float, gust: Floats) -> Anchorage:
    moment = np.linalg.norm(overturning(whole.case, draws, worst, 0), axis=-1)
    asked = at_gust(whole.case, moment, design)
    held = held_by_roots(whole.case, draws)
    own = np.linalg.norm(whole.case.loads.own_moment[0].sum(axis=0))
    return Anchorage(
        capacity_Nm=Range.of_samples(held),
        moment_Nm=Range.of_samples(asked),
        own_weight_Nm=float(own),
        margin=Range.of_samples(held / np.maximum(asked, 1.0)),
        gust_m_s=Range.of_samples(gust),
        loss=whole.roots.loss,
        plate_Nm=plate_check(whole.tree),
        measured=whole.roots.measured,
        source=whole.roots.source,
        status=str(whole.roots.status),
    )


def _curve(first: Floats, groups: int) -> FragilityCurve:
    curve = fragility(first, groups, CURVE)
    gust, share, low, high = (tuple(map(float, a)) for a in (curve.gust, curve.share, curve.low, curve.high))
    return FragilityCurve(gust, share, low, high)


def _mass(whole: Whole, draws: Draws) -> Range:
    likely = group_masses(whole.tree.assembly) + whole.tree.rest
    factors = np.stack([draws["density"] * draws["size"] ** 2] * 2 + [draws["crown_mass"], draws["foliage_mass"]])
    return Range.of_samples(likely[:4] @ factors)


def _notes(whole: Whole) -> tuple[str, ...]:
    standing = whole.tree.standing
    notes = list(whole.tested.notes)
    notes.append("Above the crown base the stem is not looked at: limbs and tops can fail in less wind than the tree.")
    notes.append("Sway is taken neither to raise nor to lower the load of a gust: published findings disagree.")
    if not whole.roots.measured:
        notes.append("The hold of the roots is a band from pulled conifers: it gives the scale, not this tree.")
    if standing.rooting == "shallow":
        notes.append("Shallow rooting is not reckoned with by a number: take the low end for the roots.")
    notes += hidden_notes(whole.tree.job)
    if not any(place.measured for place in whole.places):
        notes.append("No section was tested: all wood is taken as sound, which nobody has shown.")
    return tuple(notes)
