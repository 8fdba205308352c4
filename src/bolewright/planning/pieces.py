"""Where to cut: the pieces the tree would come off in, small enough for the ways out, clear of supports and unions."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise
from math import prod

import numpy as np
import shapely
from numpy.typing import NDArray

from bolewright.core.base.errors import BadInput
from bolewright.core.contact.actions import Array
from bolewright.core.cutting.handling import LOW_ENOUGH_TO_ROLL, HandlingLimits
from bolewright.core.tree.assembly import Assembly, Place, place
from bolewright.core.tree.mass import run_mass
from bolewright.core.tree.spec import STEM
from bolewright.job.model import Job
from bolewright.planning.passage.ways import Passing
from bolewright.planning.site import Site

MOST_PIECES = 20  # the search is exact up to here, however the limbs sit
MOST_STATES = 500  # of work, that more pieces may have: a long stem with few limbs has few states
STEP = 0.15  # m between candidate cuts
CLEAR = 0.25  # m at least from a support or union, and half a diameter: room for saw and wedge (common practice)
ROOM = 0.3  # m round a piece that it needs to come down
SHORTEST = 0.4  # m, shorter rounds are not worth a cut of their own
SHORTEST_LOG = 0.3  # m: shorter rounds are split along the grain instead (common practice)
GROWTH = 1.2

Cuts = list[tuple[str, float]]


def chosen_cuts(job: Job, assembly: Assembly, site: Site, limits: HandlingLimits, heavy: Array) -> Cuts:
    """The cuts of the job, and found ones on members that have none.

    heavy (5,): factors from likely to heavy, per mass group. The piece count is kept to what the search can
    take, by longer pieces.
    """
    own = [(c.member, c.at.likely) for c in job.cut]
    given = {member for member, _ in own}
    stub = _stub(job)
    share = 1.0
    while True:
        found = list(own)
        for member in assembly.members:
            if member not in given:
                found.extend(_member_cuts(job, assembly, site, member, _scaled(limits, share), heavy, stub))
        if can_be_ordered(job, assembly, found) or share > 20.0:
            return found
        share *= GROWTH


def can_be_ordered(job: Job, assembly: Assembly, cuts: Cuts) -> bool:
    """Whether an order can be looked for among the pieces these cuts make."""
    return len(cuts) + len(assembly.members) <= MOST_PIECES or states_of_work(job, assembly, cuts) <= MOST_STATES


def states_of_work(job: Job, assembly: Assembly, cuts: Cuts) -> int:
    """How many states the work can be in: the connected parts of the tree that these cuts can leave.

    Of the parts whose piece nearest the butt is p there are prod(1 + parts of q) over the pieces q that p carries.
    """
    edges = {m: [0.0, *sorted(at for name, at in cuts if name == m), assembly.length_of(m)] for m in assembly.members}

    @cache
    def parts(member: str, n: int) -> int:
        low, high = edges[member][n], edges[member][n + 1]
        last = n + 2 == len(edges[member])
        limbs = [b.id for b in job.tree.limb if b.on == member and low <= b.at.likely and (b.at.likely < high or last)]
        carried = [(limb, 0) for limb in limbs if limb in edges] + ([] if last else [(member, n + 1)])
        return prod(1 + parts(*q) for q in carried)

    return sum(parts(m, n) for m, marks in edges.items() for n in range(len(marks) - 1))


def cuts_that_get_out(
    job: Job, assembly: Assembly, cuts: Cuts, limits: HandlingLimits, out: Passing, heavy: Array
) -> Cuts:
    """The cuts with those added that leave no log heavier or longer than gets out.

    For wood that cannot be cut again where it lands. heavy (5,): factors from likely to heavy. The stub on a root plate
    stays as it is. Raises BadInput when that makes more pieces than an order can be looked for among.
    """
    found = list(cuts)
    for member in assembly.members:
        marks = sorted(at for name, at in cuts if name == member)
        edges = [assembly.stub_of(member), *marks, assembly.length_of(member)]
        stub = member == STEM and job.tree.attached == "root plate"
        for start, end in list(pairwise(edges))[1 if stub and marks else 0 :]:
            found += [(member, at) for at in _shorter(job, assembly, (member, start, end), limits, out.chipped, heavy)]
    count = len(found) + len(assembly.members)
    if len(found) > len(cuts) and not can_be_ordered(job, assembly, found):
        raise BadInput(
            f"With logs of at most {out.words}, the tree comes off in about {count} pieces, more than an order can be "
            "looked for among: let wood be cut again where it lands, or take a machine that carries more.",
            "access.cut_again",
        )
    return found


def _shorter(
    job: Job, assembly: Assembly, run: tuple[str, float, float], limits: HandlingLimits, chipped: float, heavy: Array
) -> list[float]:
    """Where to cut a piece (member, start, end) again so that its parts get out: in equal lengths, as few as will do,
    clear of supports."""
    member, start, end = run
    if place(assembly, member, start).diameter <= chipped:
        return []
    blocked = _blocked(job, member)
    at: list[float] = []
    for parts in range(1, max(int((end - start) / SHORTEST_LOG), 1) + 1):
        at = [_beside(start + (end - start) * n / parts, blocked) for n in range(1, parts)]
        edges = [start, *sorted(at), end]
        logs = [(run_mass(assembly, member, a, b, heavy), b - a) for a, b in pairwise(edges)]
        if all(limits.gets_out(mass, length) for mass, length in logs):
            break
    return sorted(at)


def _beside(at: float, blocked: list[float]) -> float:
    """The place moved clear of the nearest support or union."""
    near = min(blocked, key=lambda other: abs(other - at), default=None)
    if near is None or abs(near - at) >= CLEAR:
        return at
    return near + (CLEAR if at >= near else -CLEAR)


def _scaled(limits: HandlingLimits, share: float) -> HandlingLimits:
    """The limits as if every way out took more, to get fewer and longer pieces."""
    return replace(
        limits,
        carry=limits.carry * share,
        drop=limits.drop * share,
        roll=limits.roll * share,
        line=limits.line * share,
    )


def _stub(job: Job) -> float:
    """Stem left on a root plate: longer than the plate is high above its hinge, so that it cannot fall on a person
    cutting (storm-damage guides; common practice)."""
    plate = job.tree.root_plate
    return plate.diameter.likely + 0.2 if job.tree.attached == "root plate" and plate is not None else 0.0


@dataclass(frozen=True)
class _Grid:
    """Places along one member where a cut could be: distance, heavy mass from the base to there, whether anything but
    the ground lies under it, height of its underside, and whether it is clear of supports and unions."""

    at: Array
    mass: Array
    tied: NDArray[np.bool_]
    air: Array
    clear: NDArray[np.bool_]

    def most(self, start: int, end: int, limits: HandlingLimits) -> float:
        """Most that a piece from `start` to `end` may weigh [kg], by the ways out that its place leaves it."""
        ways = [limits.carry, limits.line]
        if not self.tied[start : end + 1].any():
            height = float(self.air[(start + end) // 2])
            ways += [limits.drop] if height <= limits.drop_height else []
            ways += [limits.roll] if height <= LOW_ENOUGH_TO_ROLL else []
        return max(ways)


def _grid(job: Job, assembly: Assembly, site: Site, member: str, base: float, heavy: Array) -> _Grid:
    tip = assembly.length_of(member)
    at = np.linspace(base, tip, max(round((tip - base) / STEP), 1) + 1)
    places = [place(assembly, member, float(s)) for s in at]
    blocked = np.array(_blocked(job, member))
    room = np.array([max(CLEAR, p.diameter / 2.0) for p in places])
    away = np.abs(at[:, None] - blocked).min(axis=1, initial=np.inf)
    return _Grid(
        at=at,
        mass=np.array([run_mass(assembly, member, 0.0, float(s), heavy) for s in at]),
        tied=_tied(site, places),
        air=np.array([float(p.point[2]) - p.diameter / 2.0 - site.ground_at(float(p.point[0])) for p in places]),
        clear=away >= room,
    )


def _tied(site: Site, places: list[Place]) -> NDArray[np.bool_]:
    """Whether wood at each place is over, or too near to, a building or something to protect."""
    spots = shapely.points(np.array([p.point[:2] for p in places]))
    near = ROOM + np.array([p.diameter for p in places]) / 2.0
    plans = [*(roof.plan for roof in site.roofs), *(care.plan for care in site.cares)]
    found = np.zeros(len(places), dtype=bool)
    for plan in plans:
        found |= shapely.distance(plan, spots) <= near
    return found


def _member_cuts(
    job: Job, assembly: Assembly, site: Site, member: str, limits: HandlingLimits, heavy: Array, stub: float
) -> Cuts:
    """Cuts along one member, worked out from its tip towards its base. limits: most a piece may weigh."""
    base = assembly.stub_of(member)
    grid = _grid(job, assembly, site, member, base, heavy)
    first = int(np.searchsorted(grid.at, stub)) if member == STEM and stub > 0.0 else 0
    beyond = _beyond_supports(job, member, grid)
    end, cuts = len(grid.at) - 1, []
    while end > first:
        floor = max([first, *(i for i in beyond if i < end and grid.at[end] - grid.at[i] >= SHORTEST)])
        start = _start_of_piece(grid, floor, end, limits)
        if start <= first:
            break
        cuts.append((member, float(grid.at[start])))
        end = start
    if first > 0:
        cuts.append((member, float(grid.at[_nearest_clear(grid, first)])))
    return sorted(set(cuts))


def _beyond_supports(job: Job, member: str, grid: _Grid) -> list[int]:
    """The first clear place on the tip side of each support: what overhangs comes off before what carries."""
    out = []
    for support in job.support:
        if support.member == member:
            options = np.flatnonzero(grid.clear & (grid.at > support.at.likely))
            out += [int(options[0])] if len(options) else []
    return out


def _start_of_piece(grid: _Grid, first: int, end: int, limits: HandlingLimits) -> int:
    """Index of the base end of the longest piece that ends at `end` and may be handled: `first` when all of the rest
    may, and that of the shortest piece that can be cut when even that may not."""
    best = shortest = None
    for start in range(end - 1, first - 1, -1):
        if grid.at[end] - grid.at[start] < SHORTEST or not (grid.clear[start] or start == first):
            continue
        shortest = start if shortest is None else shortest
        if grid.mass[end] - grid.mass[start] > grid.most(start, end, limits):
            return shortest if best is None else best
        if start == first or grid.at[start] - grid.at[first] >= SHORTEST:
            best = start
    return first


def _nearest_clear(grid: _Grid, index: int) -> int:
    """The clear place nearest to an index, or the index itself."""
    options = np.flatnonzero(grid.clear)
    return int(options[np.abs(options - index).argmin()]) if len(options) else index


def _blocked(job: Job, member: str) -> list[float]:
    places = [s.at.likely for s in job.support if s.member == member]
    places += [line.at.likely for line in job.line if line.member == member]
    places += [limb.at.likely for limb in job.tree.limb if limb.on == member]
    return places
