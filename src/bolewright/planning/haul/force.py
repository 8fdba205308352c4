"""What people and hooks have to hold on the way out: pushing, dragging, carrying, and the crane's picks."""

from __future__ import annotations

import math

from bolewright.core.base.range import Range
from bolewright.core.base.vectors import GRAVITY
from bolewright.core.lifting.blocks import simple_advantage
from bolewright.core.lifting.by_hand import HandLift, frequency_multiplier, hand_limit
from bolewright.core.lifting.crane import chart_of, pick
from bolewright.core.lifting.drag import drag_pull, roll_up_pull, wheel_pull
from bolewright.job.model import Job
from bolewright.job.out import Crane
from bolewright.planning.both import both_lengths, both_masses
from bolewright.planning.haul.results import DragOut, Geared, PickOut, PushOut
from bolewright.planning.passage.route import SOFT
from bolewright.planning.passage.ways import Way
from bolewright.planning.passage.words import at_path
from bolewright.planning.results import CutsResult, PieceWeight
from bolewright.planning.shapes import Point
from bolewright.reference.handling import frequency_table, grip_multiplier, push_filter, route_resistance
from bolewright.reference.rigging import rigging

# A standing load over a rolling one (from memory). Taken of the climb too, where only speeding up costs: errs high.
STARTING = 1.5
PULLEYS = (2, 3)  # parts of line at the load: a moving pulley, and a Z
PLANKS = math.radians(20.0)  # of planks or a tailgate ramp a log is rolled up (common practice)
MOST_PUSHING = 3  # people who find room behind a cart (common practice)
# A round picked up off the ground and carried at the waist: hands 40 cm out, 30 cm up to 90 cm, no hold, now and then
# over an hour or two (common practice).
OFF_THE_GROUND = (0.40, 0.30, 0.60, 0.5, "1 to 2 h")


def push_out(job: Job, way: Way, carried: Range) -> PushOut | None:
    """Push for the heaviest load on the hardest stretch, None where nobody pushes."""
    if way.machine is None or not way.machine.pushed or job.access is None:
        return None
    limit = push_filter()
    boards = job.boards is not None
    surfaces = {"boards" if boards and leg.surface in SOFT else leg.surface for leg in job.access.leg}
    worst = max((route_resistance(surface) for surface in surfaces), key=lambda found: found.value.likely)
    masses = (way.machine.mass.likely + end for end in (carried.low, carried.likely, carried.high))
    shares = (worst.value.low, worst.value.likely, worst.value.high)
    climb = _steepest(job)
    pulls = [max(wheel_pull(m * GRAVITY, r, climb), 0.0) * STARTING for m, r in zip(masses, shares, strict=True)]
    force = Range(*sorted(pulls))
    people = max(math.ceil(force.likely / limit.value), 1)
    words = f"{people} to push it off from rest on the hardest stretch"
    back = _held_back(way, carried, surfaces, job)
    return PushOut(force, limit.value, people, words, f"{limit.source}; {worst.source}", back)


def _held_back(way: Way, carried: Range, surfaces: set[str], job: Job) -> Range:
    """Force that holds the heaviest load on the steepest descent where it rolls easiest [N], 0 where it stays put."""
    legs = job.access.leg if job.access is not None else ()
    fall = min((leg.slope.likely for leg in legs if leg.slope is not None), default=0.0)
    if fall >= 0.0 or way.machine is None:
        return Range.exact(0.0)
    easy = min((route_resistance(surface).value for surface in surfaces), key=lambda found: found.low)
    weights = [(way.machine.mass.likely + end) * GRAVITY for end in (carried.low, carried.likely, carried.high)]
    shares = (easy.high, easy.likely, easy.low)
    return Range(*sorted(max(-wheel_pull(w, r, fall), 0.0) for w, r in zip(weights, shares, strict=True)))


def drag_out(job: Job, pieces: tuple[PieceWeight, ...]) -> DragOut | None:
    """Pull that drags the heaviest piece whole over the ground, for a winch; None without a log."""
    heaviest = max(pieces, key=lambda piece: piece.wood_kg.high, default=None)
    if heaviest is None:
        return None
    friction, climb = rigging("drag friction", "log on soil or lawn"), _steepest(job)
    masses = (heaviest.wood_kg.low, heaviest.wood_kg.likely, heaviest.wood_kg.high)
    shares = (friction.value.low, friction.value.likely, friction.value.high)
    pulls = [drag_pull(mass * GRAVITY, mu, climb) for mass, mu in zip(masses, shares, strict=True)]
    pull = Range(*sorted(pulls))
    rolled = Range(*(roll_up_pull(mass * GRAVITY, PLANKS) for mass in masses))
    return DragOut(heaviest.id, pull, friction.source, str(friction.status), _with_pulleys(pull), rolled)


def _with_pulleys(pull: Range) -> tuple[Geared, ...]:
    """The pull at the hand or winch end of simple pulley systems."""
    loss = rigging("pulley efficiency", "good bearing pulley")
    e = loss.value
    found = []
    for parts in PULLEYS:
        gains = [simple_advantage(parts, share) for share in (e.high, e.likely, e.low)]
        ends = (pull.low / gains[0], pull.likely / gains[1], pull.high / gains[2])
        found.append(Geared(f"{parts} to 1", gains[1], Range(*ends), loss.source, str(loss.status)))
    return tuple(found)


def _steepest(job: Job) -> float:
    """The steepest climb on the way out [rad], 0 where all of it falls."""
    legs = job.access.leg if job.access is not None else ()
    return max((leg.slope.likely for leg in legs if leg.slope is not None), default=0.0)


def carry_note(job: Job) -> str:
    """One carry by hand set against the published lifting equation."""
    forward, height, travel, rate, spell = OFF_THE_GROUND
    grip = grip_multiplier("poor", height)
    often = frequency_multiplier(rate, frequency_table(spell))
    limit = hand_limit(HandLift(forward, height, travel, 0.0, often, grip.value))
    people = max(math.ceil(job.handling.hand.likely / limit), 1)
    return (
        f"A carry of {job.handling.hand} takes {people} by the published lifting equation, which gives one person "
        f"{both_masses(limit)} for a round picked up off the ground (NIOSH 94-110; its multiplier for a poor hold is "
        f"{grip.status})."
    )


def picks_out(job: Job, pieces: tuple[PieceWeight, ...], cut: CutsResult | None) -> tuple[PickOut, ...]:
    """The crane's pieces against its chart: those of the plan, else every piece by itself. Raises BadInput."""
    crane = job.crane
    if crane is None:
        return ()
    steps = cut.chosen.steps if cut is not None else ()
    lifted = [(step.piece, step.mass_kg, step.piece_centre_m) for step in steps if step.method == "crane pick"]
    lifted = lifted or [(piece.id, piece.mass_kg, piece.centre_m) for piece in pieces]
    hung = tuple(mass.high * GRAVITY for mass in (crane.hook, crane.slings, crane.stowed) if mass is not None)
    found = []
    with at_path("crane.chart"):
        chart = chart_of(crane.chart)
        for name, mass, centre in lifted:
            radius = _radius(crane, centre)
            if crane.radius is None and radius > chart.radius[-1]:
                words = f"out of reach: {both_lengths(radius)} from the boom, and the chart ends before that"
                found.append(PickOut(name, mass, 0.0, 0.0, chart.radius[-1], 0.0, False, words))
                continue
            one = pick(chart, radius, mass.high * GRAVITY, hung, crane.margin.likely)
            gross, net = one.gross / GRAVITY, one.net / GRAVITY
            found.append(PickOut(name, mass, gross, net, one.chart_radius, one.margin, one.inside, one.words))
    return tuple(found)


def _radius(crane: Crane, centre: Point) -> float:
    """The radius given, else the farther of where the piece lies and where it is set down, from where the boom turns
    [m]."""
    if crane.radius is not None:
        return crane.radius.high
    assert crane.at is not None  # the document's own check refuses a crane without either
    x, y = crane.at.forward.likely, -crane.at.right.likely
    ends = [math.hypot(centre[0] - x, centre[1] - y)]
    if crane.down is not None:
        ends.append(math.hypot(crane.down.forward.likely - x, -crane.down.right.likely - y))
    return max(ends)
