"""The way out as it is: lengths, gates, turns, slopes, and the places it must not cross."""

from __future__ import annotations

import math
from itertools import accumulate

from shapely.geometry import LineString, box

from bolewright.core.base.errors import BadInput
from bolewright.job.model import Job
from bolewright.job.out import Access, Leg, Machine, NoGo
from bolewright.job.out import Spot as JobSpot
from bolewright.planning.both import both_lengths
from bolewright.planning.passage.results import GateOut, KeepOff, RouteOut, Spot, StretchOut

SOFT = ("lawn", "soil")
LEAST_PASSAGE = 0.4  # m: narrower and nobody gets through with a saw (common practice)
PLAY = 0.05  # m left over at a gate
HALF_PATH = 0.4  # m beside the line of the way where no machine is named
BURIED = ("septic", "drain field", "sprinkler", "line")


def legs_of(access: Access) -> list[tuple[Leg, float]]:
    """The stretches with their lengths [m], taken from the points where none is written."""
    found = []
    last = access.start
    for leg in access.leg:
        if leg.length is not None:
            length = leg.length.likely
        else:
            assert last is not None  # the document's own check refuses a stretch without either
            assert leg.to is not None
            run = leg.to.forward.likely - last.forward.likely, leg.to.right.likely - last.right.likely
            length = math.hypot(*run)
        found.append((leg, length))
        last = leg.to
    return found


def route_of(job: Job) -> RouteOut:
    """The way out. Raises BadInput for a passage nobody gets through, and without any [access]."""
    access = job.access
    if access is None or not access.leg:
        raise BadInput(
            "Nothing is said about the way out: write [access] with an [[access.leg]] for each stretch.", "access.leg"
        )
    for gate in access.gate:
        if gate.width.likely < LEAST_PASSAGE:
            raise BadInput(
                f'The gate "{gate.id}" is {gate.width} wide: nobody gets through it with a saw. Check the number.',
                f'access.gate["{gate.id}"].width',
            )
    legs = legs_of(access)
    narrow = [gate.width.low for gate in access.gate] + [leg.width.low for leg, _ in legs if leg.width is not None]
    slopes = [leg.slope.likely for leg, _ in legs if leg.slope is not None]
    return RouteOut(
        length_m=sum(length for _, length in legs),
        soft_m=sum(length for leg, length in legs if leg.surface in SOFT),
        steepest_rad=max(slopes, key=abs, default=0.0),
        narrowest_m=min(narrow, default=None),
        steps=sum(leg.steps for leg, _ in legs),
        turns_m=tuple(leg.turn.likely for leg, _ in legs if leg.turn is not None),
        crosses=tuple(_crossed(job, access)),
        stretches=_stretches(access, legs),
        gates=tuple(
            GateOut(g.id, g.width.likely, g.height.likely if g.height else None, spot_of(g.at)) for g in access.gate
        ),
        keep_off=tuple(_keep_off(place, _crossed(job, access)) for place in access.no_go),
        track_m=2.0 * _half(job),
    )


def _stretches(access: Access, legs: list[tuple[Leg, float]]) -> tuple[StretchOut, ...]:
    """The stretches with where they begin and end, along the way and on the site plan."""
    ends = list(accumulate(length for _, length in legs))
    spots = [spot_of(access.start), *(spot_of(leg.to) for leg, _ in legs)]
    return tuple(
        StretchOut(
            leg.surface, end - length, end, leg.slope.likely if leg.slope else None,
            leg.width.low if leg.width else None, leg.steps, leg.turn.likely if leg.turn else None,
            spots[n], spots[n + 1],
        )
        for n, ((leg, length), end) in enumerate(zip(legs, ends, strict=True))
    )  # fmt: skip


def spot_of(spot: JobSpot | None) -> Spot | None:
    """A point of the job in the axes of the job: forward, and to the left [m]."""
    return None if spot is None else (spot.forward.likely, -spot.right.likely)


def _keep_off(place: NoGo, crossed: list[str]) -> KeepOff:
    x0, x1, y0, y1 = place.near.likely, place.far.likely, -place.right.likely, place.left.likely
    corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    return KeepOff(place.id, place.kind, corners, place.kind in BURIED, place.id in crossed)


def _half(job: Job) -> float:
    """Half of what the widest machine takes up [m]."""
    return max((machine.width.likely / 2.0 for machine in job.machine), default=HALF_PATH)


def _crossed(job: Job, access: Access) -> list[str]:
    """Ids of the no-go places that the way runs over, as wide as the widest machine."""
    spots = [access.start, *(leg.to for leg in access.leg)]
    points = [(spot.forward.likely, -spot.right.likely) for spot in spots if spot is not None]
    if len(points) < 2:
        return []
    way = LineString(points).buffer(_half(job), cap_style="flat")
    places = ((p.id, box(p.near.likely, -p.right.likely, p.far.likely, p.left.likely)) for p in access.no_go)
    return [name for name, ground in places if way.intersects(ground)]


def why_machine_cannot(machine: Machine, route: RouteOut) -> str:
    """Why a machine cannot go the whole way, in words; "" when it can."""
    if route.narrowest_m is not None and machine.width.likely + PLAY > route.narrowest_m:
        return f"{machine.name} is {machine.width} wide and the narrowest place {both_lengths(route.narrowest_m)}"
    if route.steps and machine.runs_on == "wheels":
        return f"there are {route.steps} steps on the way that wheels do not take"
    tight = min(route.turns_m, default=math.inf)
    if machine.turning is not None and machine.turning.likely > tight:
        return f"{machine.name} needs {machine.turning} to turn and there is {both_lengths(tight)}"
    return ""
