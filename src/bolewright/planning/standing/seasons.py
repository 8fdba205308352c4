"""The same tree in every season: in leaf, bare, wet and iced, against the same wind."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from bolewright.core.base.range import Range
from bolewright.core.standing.failing import worst_direction
from bolewright.core.standing.unknowns import draw_unknowns
from bolewright.job.model import Job
from bolewright.planning.standing import defaults
from bolewright.planning.standing.case import whole_of
from bolewright.planning.standing.limbs import held_limb, limb_draws, limb_stress, worst_for_limb
from bolewright.planning.standing.options import failing_gust
from bolewright.planning.standing.results import SeasonAnswer, StandResult

SEASONS = ("in leaf", "wet", "bare", "iced")
LEAFY = ("in leaf", "wet")


def with_seasons(job: Job, result: StandResult) -> StandResult:
    """The answer with that of every season added; costs about as much again as the answer."""
    return replace(result, seasons=in_every_season(job))


def in_every_season(job: Job) -> tuple[SeasonAnswer, ...]:
    """The gust the tree stands in every season, from the same samples; raises as `stand` does.

    A photograph of the crown counts for the season it was written for and its like (in leaf and wet, bare alone);
    elsewhere the usual filling stands in. Ice is as thick as written, else as is usual.
    """
    return tuple(_season(job, season) for season in SEASONS)


def _season(job: Job, season: str) -> SeasonAnswer:
    standing = job.standing
    judged = standing is not None and standing.season == season
    whole = whole_of(job if judged or standing is None else _changed(job, season))
    each = max(job.limits.samples // defaults.GROUPS, 1)
    draws = draw_unknowns(whole.unknowns, defaults.GROUPS, each, np.random.default_rng(job.limits.seed))
    gust = failing_gust(whole.case, draws, worst_direction(whole.case, whole.unknowns))
    worst: tuple[str, Range] | None = None
    for n in range(len(job.tree.limb)):
        held = held_limb(whole, n)
        stress = limb_stress(held, draws, limb_draws(whole, held, n, draws), worst_for_limb(whole, held))
        share = Range.of_samples(stress[:, :, 0].max(axis=1))
        if worst is None or share.likely > worst[1].likely:
            worst = held.limb.id, share
    return SeasonAnswer(season, judged, Range.of_samples(gust), worst[0] if worst else "", worst[1] if worst else None)


def _changed(job: Job, season: str) -> Job:
    """The record in another season."""
    standing = job.standing
    assert standing is not None
    update: dict[str, object] = {"season": season}
    if standing.season == "iced" or season == "iced" or (season in LEAFY) != (standing.season in LEAFY):
        update["crown_filled"] = None
    if season != "iced":
        update["ice"] = None
    return job.model_copy(update={"standing": standing.model_copy(update=update)})
