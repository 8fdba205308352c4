"""How far a standing tree is from failing, where first, in what wind, and what is not known."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.range import Range
from bolewright.core.standing.curve import fragility
from bolewright.core.standing.failing import (
    held_by_roots,
    overturning,
)
from bolewright.core.standing.unknowns import Draws
from bolewright.core.tree.mass import group_masses
from bolewright.job.model import Job
from bolewright.planning.standing.case import Whole
from bolewright.planning.standing.failing import failing, first_words
from bolewright.planning.standing.judgement import fall_of, hidden_notes, judgement, looked_for, targets_of
from bolewright.planning.standing.lookback import look_back
from bolewright.planning.standing.narrow import narrows_of
from bolewright.planning.standing.options import failing_gust
from bolewright.planning.standing.results import (
    Anchorage,
    FragilityCurve,
    StandResult,
)
from bolewright.planning.standing.roots import plate_check
from bolewright.planning.standing.sections import at_gust, sections_of
from bolewright.planning.standing.shelter import shelter_of

Floats = NDArray[np.float64]
CURVE = np.arange(0.0, 81.0, 2.0)  # m/s of the fragility curve


def stand(job: Job) -> StandResult:
    """The standing tree of a job against the wind it is to stand. Raises NotEnoughKnown without size or crown."""
    found = failing(job)
    whole, draws, worst, design = found.whole, found.draws, found.worst, found.design
    named = _named_wind(whole, draws)
    area, reach = fall_of(whole, worst)
    targets = targets_of(whole, reach, found.limbs)
    return StandResult(
        status=found.status,
        words=found.words,
        design_gust_m_s=design,
        design_gust_why=found.why,
        share_standing=found.standing,
        gust_m_s=Range.of_samples(found.first),
        breaks_first=first_words(found.place),
        breaks_first_height_m=0.0 if found.place is None else found.place.height,
        worst_towards_deg=whole.tree.compass_deg(worst),
        stem_gust_m_s=Range.of_samples(found.stem.min(axis=1)),
        sections=sections_of(whole, draws, worst, design, found.stem),
        roots=_anchorage(whole, draws, worst, design, found.roots),
        limbs=found.limbs,
        wind_towards_deg=None if named is None else named[0],
        wind_gust_m_s=None if named is None else named[1],
        fragility=_curve(found.first, draws.groups),
        narrows=narrows_of(whole, draws, worst),
        shelter=shelter_of(whole, found.first),
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


def _named_wind(whole: Whole, draws: Draws) -> tuple[float, Range] | None:
    """The wind named in the job: where it blows to [deg], and the gust to fail in it."""
    wind = whole.tree.standing.wind_from
    if wind is None:
        return None
    way = whole.tree.direction(wind.likely + math.pi)
    return whole.tree.compass_deg(way), Range.of_samples(failing_gust(whole.case, draws, way))


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
    if standing.roots_lost is not None and standing.trench is not None:
        notes.append("Of lost roots and the trench the greater loss is taken, as if the trench had cut the same roots.")
    if standing.rooting == "shallow":
        notes.append("Shallow rooting is not reckoned with by a number: take the low end for the roots.")
    notes += hidden_notes(whole.tree.job)
    if not any(place.measured for place in whole.places):
        notes.append("No section was tested: all wood is taken as sound, which nobody has shown.")
    return tuple(notes)
