"""A standing tree loaded until it fails: at which gust, where first, and whether that is inside the limits set."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bolewright.core.standing.failing import (
    gust_to_break,
    gust_to_uproot,
    held_by_roots,
    overturning,
    stress_share,
    worst_direction,
)
from bolewright.core.standing.unknowns import Draws, draw_unknowns, likely_draw
from bolewright.core.standing.wind import reference_gust
from bolewright.job.model import Job
from bolewright.planning.both import both_lengths
from bolewright.planning.standing import defaults
from bolewright.planning.standing.case import Place, Whole, whole_of
from bolewright.planning.standing.limbs import limbs_of
from bolewright.planning.standing.results import LimbStand
from bolewright.planning.standing.tests import decay_signs
from bolewright.reference.standing import damage_table

Floats = NDArray[np.float64]
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
