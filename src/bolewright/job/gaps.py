"""What is missing to judge a standing tree, and what is filled in for it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bolewright.job.model import Job


@dataclass(frozen=True)
class Missing:
    """Something the job does not say. Without a `needed` one there is no answer; the others are filled in."""

    path: str
    sentence: str
    needed: bool


# field of [standing], and what stands in its place
_FILLED = {
    "crown_base": "The crown base is not given: a third of the height is taken.",
    "crown_shape": "The outline of the crown is not given: pointed for conifers, round for the rest.",
    "crown_filled": "How much of the crown's outline is leaf and wood is filled in with a wide spread: photograph it.",
    "lean": "No lean is given: the stem is taken as plumb.",
    "roots_lost": "Nothing is said about lost roots: the anchorage is taken as whole.",
    "design_gust": "No wind is set: the tree is held against 115 km/h (71 mph), at which a published table expects "
    "up to a fifth of mature trees down.",
    "soil_state": "The state of the ground is not given: firm is taken.",
}


def standing_gaps(job: Job) -> Iterator[Missing]:
    """For a standing tree: its size, its crown, its wind, its decay, its roots, its targets and its rating."""
    if job.standing is None:
        sentence = "A standing tree needs the table [standing] with its height and crown width."
        yield Missing("standing", sentence, needed=True)
        return
    if job.tree.dbh is None and not job.tree.stem:
        sentence = "Give the diameter at breast height, or stations along the stem."
        yield Missing("tree.dbh", sentence, needed=True)
    for field, sentence in _FILLED.items():
        if getattr(job.standing, field) is None:
            yield Missing(f"standing.{field}", sentence, needed=False)
    if len(job.tree.stem) < 2:
        sentence = "Only one diameter is given: the taper above it is filled in with a wide spread."
        yield Missing("tree.stem", sentence, needed=False)
    yield from _looked(job)


def _looked(job: Job) -> Iterator[Missing]:
    inspection = job.inspection
    tests = [t for t in inspection.test if t.kind in ("drilling", "opening")] if inspection else []
    if not tests and not job.tree.decay:
        sentence = "No test for decay is given: the wood is taken as sound, which nobody has shown."
        yield Missing("inspection.test", sentence, needed=False)
    looked = {o.group for o in inspection.observation if o.state != "could not see"} if inspection else set()
    if "roots" not in looked:
        sentence = "Nobody has written down what the roots and the root collar look like."
        yield Missing("inspection.observation", sentence, needed=False)
    if not job.target:
        yield Missing("target", "No target is given: nothing is said about what the tree would hit.", needed=False)
    rating = job.rating
    seen = inspection.date if inspection is not None else None
    if rating is not None and rating.reinspect is not None and seen is not None and rating.reinspect < seen:
        sentence = f"The day to look again, {rating.reinspect}, lies before the inspection of {seen}: set a new one."
        yield Missing("rating.reinspect", sentence, needed=False)
    if rating is None or None in (rating.failure, rating.impact, rating.consequences):
        yield Missing("rating", "The assessor has not chosen a rating: none is worked out in its place.", needed=False)
