"""Getting the wood out: what fits, what must be cut shorter, boards, pressure, ruts, hours and loads."""

from __future__ import annotations

import math

from bolewright.core.base.range import Range
from bolewright.core.base.vectors import GRAVITY
from bolewright.core.ground.haul import Carrier, Item, Packed, pack
from bolewright.core.lifting.crane import chart_of, pick
from bolewright.core.lifting.drag import wheel_pull
from bolewright.job.model import Job
from bolewright.planning.out_filled import filled_out
from bolewright.planning.out_ground import boards_out, ground_out, lawn_of, most_on_machine
from bolewright.planning.out_hours import step_hours
from bolewright.planning.out_loads import loads_of, materials_of
from bolewright.planning.out_pieces import Way, in_order, parts_of, piece_out, shorter
from bolewright.planning.out_results import INSIDE, OUTSIDE, GroundOut, OutResult, PickOut, PieceOut, PushOut, RouteOut
from bolewright.planning.out_route import route_of, why_machine_cannot
from bolewright.planning.out_words import at_path
from bolewright.planning.results import CutsResult, PieceWeight, WeighResult
from bolewright.planning.weigh import weigh
from bolewright.reference.handling import push_filter, route_resistance

BY_HAND = "by hand"
DRAG = 25.0  # kg of brush one person drags at a time (common practice)
LEAST_ROUND = 5.0  # kg: below this a machine that takes less is no help
STARTING = 1.5  # a standing load over a rolling one (from memory)
MOST_PUSHING = 3  # people who find room behind a cart (common practice)


def out(job: Job, cut: CutsResult | None = None, weighed: WeighResult | None = None) -> OutResult:
    """How the wood gets out: pieces, ways, boards, pressure and ruts, trips, hours and loads, all as ranges.

    The pieces are those of the cut order; with a plan they come in its order and its own times are used. Raises
    BadInput for a way out that cannot be, a chart with holes or a machine that carries nothing; NotEnoughKnown with
    too few diameters.
    """
    route = route_of(job)
    pieces = in_order((weighed or weigh(job)).pieces, cut)
    ways, refused = _ways(job, route)
    outs = [piece_out(piece, job, route, ways) for piece in pieces]
    most = max(way.most for way in ways)
    said = [shorter(piece, one, most) for piece, one in zip(pieces, outs, strict=True)]
    moved = {end: _moved(pieces, outs, end) for end in ("low", "likely", "high")}
    packed = {end: _trips(items, ways) for end, items in moved.items()}
    on_wheels = sum(len(one.loads) for one in packed["high"].values())
    main = _busiest(packed["high"], ways)
    carried = _heaviest_trip(packed, main.name)
    brush = _total([one.brush_kg for one in outs])
    hand = [item for way, item in moved["high"] if way == BY_HAND]
    carries = len(hand) + math.ceil(brush.high / DRAG)
    trips = on_wheels or len(hand)
    boards = boards_out(job, route, main.machine, carried.high, trips)
    ground = ground_out(job, route, main.machine, carried, trips)
    push = _push(job, route, main, carried)
    picks = _picks(job, pieces, cut)
    logs = _total([one.log_kg for one in outs])
    items = [item for _, item in moved["high"]]
    materials = materials_of(job, logs, sum(item.room for item in items), brush)
    loads, count, lacking = loads_of(job, materials, items)
    sheets = boards.needed if boards else 0
    more_cuts = sum(len(one.at_m) for one in said if one)
    steps = step_hours(
        job, route, cut, len(pieces), more_cuts, on_wheels, carries, sheets, boards.moves if boards else 0, loads
    )
    outside = _outside(job, route, boards.workable if boards else True, boards.stops if boards else "", ground, push)
    outside += [f"{one.piece} on the hook is {one.words}." for one in picks if not one.inside] + list(lacking)
    return OutResult(
        status=OUTSIDE if outside else INSIDE,
        outside=tuple(outside),
        machine=main.name,
        sheets=sheets,
        trips=trips,
        carries=carries,
        heaviest_kg=_heaviest(moved),
        pressure_kPa=_pressure(ground),
        hours=_total([step.hours for step in steps]),
        route=route,
        pieces=tuple(outs),
        shorter=tuple(one for one in said if one),
        boards=boards,
        ground=ground,
        push=push,
        picks=picks,
        materials=materials,
        loads=loads,
        load_count=count,
        steps=steps,
        notes=(*refused, *_notes(job, cut)),
        filled_in=filled_out(job, main.machine),
    )


def _ways(job: Job, route: RouteOut) -> tuple[list[Way], list[str]]:
    """Machines that go the whole way, then hands; and why each other machine cannot, one sentence each."""
    ways, refused = [], []
    bed = _longest_log(job)
    for machine in job.machine:
        why = why_machine_cannot(machine, route)
        most = machine.payload.likely
        if not why and job.boards is not None and route.soft_m > 0.0:
            most = most_on_machine(job, machine, lawn_of(job)).likely
            why = f"on these boards {machine.name} can carry next to nothing" if most < LEAST_ROUND else ""
        if why:
            refused.append(f"Not by {machine.name}: {why}.")
        else:
            longest = min(machine.longest.likely if machine.longest else math.inf, bed)
            ways.append(Way(machine.name, most, longest, machine))
    ways.append(Way(BY_HAND, job.handling.hand.likely, bed, None))
    return ways, refused


def _longest_log(job: Job) -> float:
    """The longest log that a truck for logs takes [m]; no limit where logs stay or no truck says one."""
    beds = [load for load in job.load if not load.takes or "logs" in load.takes]
    if "logs" in job.haul.stays or not beds:
        return math.inf
    return max(load.length.likely if load.length else math.inf for load in beds)


Moved = list[tuple[str, Item]]


def _moved(pieces: list[PieceWeight], outs: list[PieceOut], end: str) -> Moved:
    return [(one.way, item) for piece, one in zip(pieces, outs, strict=True) for item in parts_of(piece, one, end)]


def _trips(moved: Moved, ways: list[Way]) -> dict[str, Packed]:
    """The trips of every machine, in the order the parts come."""
    return {
        way.name: pack([item for name, item in moved if name == way.name], Carrier(way.name, way.most * (1 + 1e-9)))
        for way in ways
        if way.machine is not None
    }


def _busiest(packed: dict[str, Packed], ways: list[Way]) -> Way:
    """The machine with the heaviest trips, hands without one."""
    heaviest = {name: max((load.mass for load in one.loads), default=0.0) for name, one in packed.items()}
    name = max(heaviest, key=lambda key: heaviest[key], default=BY_HAND)
    return next(way for way in ways if way.name == (name if heaviest.get(name, 0.0) > 0.0 else BY_HAND))


def _heaviest_trip(packed: dict[str, dict[str, Packed]], name: str) -> Range:
    """Mass of the heaviest trip of a machine at the three ends [kg]."""
    ends = [
        max((load.mass for load in packed[end][name].loads), default=0.0) if name in packed[end] else 0.0
        for end in ("low", "likely", "high")
    ]
    return Range(*sorted(ends))


def _heaviest(moved: dict[str, Moved]) -> Range:
    ends = [max((item.mass for _, item in moved[end]), default=0.0) for end in ("low", "likely", "high")]
    return Range(*sorted(ends))


def _total(ranges: list[Range]) -> Range:
    """The sum with its ends added up."""
    return Range(sum(r.low for r in ranges), sum(r.likely for r in ranges), sum(r.high for r in ranges))


def _pressure(ground: GroundOut | None) -> Range:
    """Pressure on the lawn as planned: under boards where there are some."""
    if ground is None:
        return Range.exact(0.0)
    return ground.boards_kPa or ground.bare_kPa


def _push(job: Job, route: RouteOut, way: Way, carried: Range) -> PushOut | None:
    """Push for the heaviest load on the hardest stretch, None where nobody pushes."""
    if way.machine is None or not way.machine.pushed or job.access is None:
        return None
    limit = push_filter()
    surfaces = {
        "boards" if job.boards is not None and leg.surface in ("lawn", "soil") else leg.surface
        for leg in job.access.leg
    }
    slope = max((leg.slope.likely for leg in job.access.leg if leg.slope is not None), default=0.0)
    worst = max((route_resistance(surface) for surface in surfaces), key=lambda found: found.value.likely)
    masses = (way.machine.mass.likely + end for end in (carried.low, carried.likely, carried.high))
    shares = (worst.value.low, worst.value.likely, worst.value.high)
    pulls = [max(wheel_pull(m * GRAVITY, r, slope), 0.0) * STARTING for m, r in zip(masses, shares, strict=True)]
    force = Range(*sorted(pulls))
    people = max(math.ceil(force.likely / limit.value), 1)
    words = f"{people} to push it off from rest on the hardest stretch"
    return PushOut(force, limit.value, people, words, f"{limit.source}; {worst.source}")


def _picks(job: Job, pieces: list[PieceWeight], cut: CutsResult | None) -> tuple[PickOut, ...]:
    """The crane's pieces against its chart: those of the plan, else every piece by itself. Raises BadInput."""
    crane = job.crane
    if crane is None:
        return ()
    with at_path("crane.chart"):
        chart = chart_of(crane.chart)
        taken = tuple(mass.high * GRAVITY for mass in (crane.hook, crane.slings, crane.stowed) if mass is not None)
        lifted = [(s.piece, s.mass_kg) for s in (cut.chosen.steps if cut else ()) if s.method == "crane pick"] or [
            (piece.id, piece.mass_kg) for piece in pieces
        ]
        found = [
            (name, mass, pick(chart, crane.radius.high, mass.high * GRAVITY, taken, crane.margin.likely))
            for name, mass in lifted
        ]
    return tuple(
        PickOut(name, mass, one.gross / GRAVITY, one.net / GRAVITY, one.chart_radius, one.margin, one.inside, one.words)
        for name, mass, one in found
    )


def _outside(
    job: Job, route: RouteOut, workable: bool, stops: str, ground: GroundOut | None, push: PushOut | None
) -> list[str]:
    """What is outside the limits set, one sentence each."""
    found = [f'The way out runs over "{name}": lead it round.' for name in route.crosses]
    if not workable:
        found.append(
            f"The boards do not do under the heaviest load: {stops}. Take thicker or double ones, or less load."
        )
    if ground is not None and _pressure(ground).likely > ground.limit_kPa:
        lay = "" if job.boards is not None else " Lay boards, or wait until it is firmer."
        found.append(
            f"The {ground.surface} gets {_pressure(ground).likely:.0f} kPa and the limit is {ground.limit_kPa:.0f} kPa."
            f"{lay}"
        )
    if push is not None and push.people > MOST_PUSHING:
        found.append(
            f"Pushing the heaviest load takes {push.people} people by the published filter: cut it smaller or winch it."
        )
    return found


def _notes(job: Job, cut: CutsResult | None) -> list[str]:
    assert job.access is not None
    notes = []
    if job.access.owner_told is not True:
        notes.append("The owner has not said what lies under the lawn: ask before a machine goes on it.")
    if cut is None or cut.status != "plan":
        notes.append("There is no cut order in this: times for cutting are counted by the piece.")
    if job.boards is None:
        notes.append("No boards are given: what is said of the lawn is without any.")
    if not job.load:
        notes.append("No truck is given: nothing is said about loads.")
    return notes
