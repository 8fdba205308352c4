"""The assessor's choices through the published tables, the options, the targets and what was looked for."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.range import Range
from bolewright.core.standing.failing import Case, gust_to_break, gust_to_uproot
from bolewright.core.standing.fall import FallReach, fall_reach, reaches
from bolewright.core.standing.unknowns import Draws
from bolewright.job.inspection import Observation
from bolewright.job.model import Job
from bolewright.job.standing import Option, Rating
from bolewright.planning.standing.case import Whole, case_of
from bolewright.planning.standing.results import FallArea, Judgement, Looked, OptionAfter, TargetReach
from bolewright.reference.observations import GROUPS, offered
from bolewright.reference.ratings import SOURCE, combined_likelihood, risk

Floats = NDArray[np.float64]
UNCHANGED = {
    "look again": "The tree stays as it is: the gust it stands does not change, only what is known.",
    "brace": "A brace holds a union together; nothing is computed for the stem and roots.",
    "prop": "A prop carries a limb's own weight; nothing is computed for the wind on the whole tree.",
    "move target": "The tree stays as it is; what it could hit goes.",
    "keep stump": "The crown and the wind on it go; the stump is to be judged by itself.",
    "remove": "Nothing is left to fail.",
}


def judgement(whole: Whole, draws: Draws, direction: float) -> Judgement:
    """The rating as chosen, and each option with the gust the tree stands after it."""
    rating = whole.tree.job.rating or Rating.model_construct(option=())
    combined, rated = _through(rating.failure, rating.impact, rating.consequences)
    return Judgement(
        part=rating.part or "",
        target=rating.target or "",
        failure=rating.failure,
        impact=rating.impact,
        consequences=rating.consequences,
        combined=combined,
        rating=rated,
        time_frame=rating.time_frame or "",
        reinspect=rating.reinspect.isoformat() if rating.reinspect is not None else "",
        why=rating.why or "",
        options=tuple(_after(whole, draws, direction, option) for option in rating.option),
        source=SOURCE,
    )


def _through(failure: str | None, impact: str | None, consequences: str | None) -> tuple[str | None, str | None]:
    if failure is None or impact is None:
        return None, None
    combined = combined_likelihood(failure, impact)
    return combined, None if consequences is None else risk(combined, consequences)


def _after(whole: Whole, draws: Draws, direction: float, option: Option) -> OptionAfter:
    combined, rated = _through(option.failure, option.impact, option.consequences)
    by = option.by.likely if option.by is not None else None
    gust, words = None, UNCHANGED.get(option.kind, "")
    if by is not None:
        case, after = pruned(whole, draws, option.kind, by)
        gust = Range.of_samples(failing_gust(case, after, direction))
        words = f"{option.kind} the crown by {by:.0%}: worked out with the same unknowns as the tree as it is"
    return OptionAfter(option.id, option.kind, by, gust, combined, rated, words)


def pruned(whole: Whole, draws: Draws, kind: str, by: float) -> tuple[Case, Draws]:
    """The tree after a cut: reduce takes from the crown's length at the top, raise at its base, thin from its leaf."""
    tree = whole.tree
    base, top = tree.crown_base, tree.standing.height.likely
    if kind == "thin":
        left = {**draws.values, "filled": draws["filled"] * (1.0 - by)}
        return case_of(tree, whole.places, whole.strengths, whole.roots, share=1.0 - by), Draws(left, draws.groups)
    length = (top - base) * min(by, 0.95)
    crown = (base, top - length) if kind == "reduce" else (base + length, top)
    return case_of(tree, whole.places, whole.strengths, whole.roots, crown, 1.0 - by), draws


def failing_gust(case: Case, draws: Draws, direction: float) -> Floats:
    """Gust (B,) at which stem or roots fail first."""
    stem = gust_to_break(case, draws, direction).min(axis=1)
    return np.asarray(np.minimum(stem, gust_to_uproot(case, draws, direction)))


def fall_of(whole: Whole, worst: float) -> tuple[FallArea, FallReach]:
    """Fall circle, with sectors down the wind that is worst, down the wind named, and along the lean."""
    tree = whole.tree
    ways = [worst]
    if tree.standing.wind_from is not None:
        ways.append(tree.direction(tree.standing.wind_from.likely + math.pi))
    if tree.lean > math.radians(2.0):
        ways.append(float(np.arctan2(tree.towards[1], tree.towards[0])))
    reach = fall_reach(tree.standing.height.likely, tree.standing.crown_width.likely / 2.0, tuple(ways))
    area = FallArea(
        reach.radius,
        reach.crown_radius,
        tuple(tree.compass_deg(way) for way in ways),
        math.degrees(reach.half_angle),
        reach.look,
    )
    return area, reach


def targets_of(whole: Whole, reach: FallReach) -> tuple[TargetReach, ...]:
    """How every target lies to the fall."""
    return tuple(
        TargetReach(
            id=target.id,
            what=target.what,
            distance_m=target.distance.likely,
            towards_deg=math.degrees(target.towards.likely) % 360.0,
            reach=reaches(reach, target.distance.likely, whole.tree.direction(target.towards.likely)),
            occupancy=target.occupancy or "not known",
            protection=target.protection,
            movable=target.movable,
        )
        for target in whole.tree.job.target
    )


def looked_for(job: Job) -> tuple[Looked, ...]:
    """What was seen, not seen, could not be seen, and was not written down, group by group."""
    observations = job.inspection.observation if job.inspection is not None else ()
    found = []
    for group in GROUPS:
        own = [o for o in observations if o.group == group]
        by_state = {state: tuple(_as_written(o) for o in own if o.state == state) for state in _STATES}
        written = {o.what.lower() for o in own}
        left = tuple(what for what in offered()[group] if what.lower() not in written)
        found.append(Looked(group, by_state["seen"], by_state["not seen"], by_state["could not see"], left))
    return tuple(found)


def _as_written(observation: Observation) -> str:
    """What was looked for, with side, height and size where they were written: "conk (NE, 4 ft, 9 in across)"."""
    told = (observation.side, observation.height, observation.size)
    more = ", ".join(str(part) for part in told if part is not None)
    return f"{observation.what} ({more})" if more else observation.what


_STATES = ("seen", "not seen", "could not see")
