"""The assessor's choices through the published tables, the options, the targets and what was looked for."""

from __future__ import annotations

import math

import numpy as np

from bolewright.core.standing.fall import FallReach, fall_reach, reaches
from bolewright.core.standing.unknowns import Draws
from bolewright.job.inspection import Observation
from bolewright.job.model import Job
from bolewright.job.standing import Rating
from bolewright.planning.standing.case import Whole
from bolewright.planning.standing.looked import Looked
from bolewright.planning.standing.options import options_after
from bolewright.planning.standing.pairs import pairs_rated, through_tables, worst_of
from bolewright.planning.standing.rated import FallArea, Judgement, TargetReach
from bolewright.planning.standing.results import LimbStand
from bolewright.reference.observations import GROUPS, offered
from bolewright.reference.ratings import SOURCE


def judgement(
    whole: Whole, draws: Draws, direction: float, design: float, targets: tuple[TargetReach, ...]
) -> Judgement:
    """The rating as chosen, and each option with the gust the tree stands after it."""
    rating = whole.tree.job.rating or Rating.model_construct(pair=(), option=(), left=())
    combined, rated = through_tables(rating.failure, rating.impact, rating.consequences)
    pairs = pairs_rated(rating)
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
        options=options_after(whole, draws, direction, design, targets),
        source=SOURCE,
        pairs=pairs,
        worst=worst_of(pairs),
    )


def fall_of(whole: Whole, worst: float) -> tuple[FallArea, FallReach]:
    """Fall circle, with sectors down the wind that is worst, down the wind named, and along the lean."""
    tree = whole.tree
    ways = {"worst wind": worst}
    if tree.standing.wind_from is not None:
        ways["wind named"] = tree.direction(tree.standing.wind_from.likely + math.pi)
    if tree.lean > math.radians(2.0):
        ways["lean"] = float(np.arctan2(tree.towards[1], tree.towards[0]))
    length = tree.standing.height.likely / math.cos(tree.lean)  # from foot to top, what lies there when it is down
    reach = fall_reach(length, tree.standing.crown_width.likely / 2.0, tuple(ways.values()))
    area = FallArea(
        reach.radius,
        reach.crown_radius,
        tuple(tree.compass_deg(way) for way in ways.values()),
        tuple(ways),
        math.degrees(reach.half_angle),
        reach.look,
    )
    return area, reach


def targets_of(whole: Whole, reach: FallReach, limbs: tuple[LimbStand, ...]) -> tuple[TargetReach, ...]:
    """How every target lies to the fall, and which parts would come down on it."""
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
            height_m=target.height.likely if target.height is not None else None,
            parts=_parts(reach, target.id, target.distance.likely, limbs),
        )
        for target in whole.tree.job.target
    )


def _parts(reach: FallReach, name: str, distance: float, limbs: tuple[LimbStand, ...]) -> tuple[str, ...]:
    whole = ("whole tree",) if distance <= reach.radius else ()
    return (*whole, *(limb.id for limb in limbs if name in limb.over))


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


OPEN = {
    "roots": "what the roots hold rests on the band alone there",
    "stem": "the wood there is taken as sound",
    "branches": "limbs there may be weaker than they are reckoned",
    "crown": "wind and weight of it are filled in",
    "site": "the ground or the wind may be otherwise",
    "targets": "someone or something more may be in reach",
    "loads": "more may pull on it than is reckoned",
}


def hidden_notes(job: Job) -> list[str]:
    """For every group in which something could not be seen, what that leaves open."""
    observations = job.inspection.observation if job.inspection is not None else ()
    found = []
    for group in GROUPS:
        names = [_as_written(o) for o in observations if o.group == group and o.state == "could not see"]
        if names:
            found.append(f"Could not be seen, {group}: {', '.join(names)}. So {OPEN[group]}.")
    return found


def _as_written(observation: Observation) -> str:
    """What was looked for, with side, height and size where they were written: "conk (NE, 4 ft, 9 in across)"."""
    told = (observation.side, observation.height, observation.size)
    more = ", ".join(str(part) for part in told if part is not None)
    return f"{observation.what} ({more})" if more else observation.what


_STATES = ("seen", "not seen", "could not see")
