"""From a found order to the steps the crew reads: forces before and after, bind, movement, where to stand, and why."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from bolewright.core.base.range import Range
from bolewright.core.base.vectors import GRAVITY
from bolewright.core.contact.actions import Array
from bolewright.core.contact.state import Bools, State, rise_of_contacts, solve_states
from bolewright.core.contact.supports import is_couple
from bolewright.core.cutting.bind import BindKind
from bolewright.core.cutting.handling import LEFT_ON_PLATE
from bolewright.core.cutting.judge import bits_to_mask, pieces_of
from bolewright.core.cutting.order import Judged
from bolewright.core.cutting.saw import where_to_stand
from bolewright.core.tree.pieces import piece_centres, subtree
from bolewright.planning.holding.full import typical_sample, vertical_forces, worse
from bolewright.planning.holding.hold import NEUTRAL, building_load, stability_of
from bolewright.planning.holding.model import Model
from bolewright.planning.holding.motions import HELD, falling
from bolewright.planning.order import phrases
from bolewright.planning.order.facts import drop_zone
from bolewright.planning.order.recheck import rechecked
from bolewright.planning.order.search import Found
from bolewright.planning.order.sections import CutPlace, bind_of, cut_place
from bolewright.planning.results import Bind, CutStep, Motion
from bolewright.planning.shapes import Point
from bolewright.planning.weigh import WITHOUT_SOIL

NOTHING_MOVES = 0.002  # m
SUPPORTS = "its supports"
GROUND = "the ground"
STANDS = "may stand up with its root plate once this piece is off: everyone clear of stub, plate and hole"
SMALL_PULL = 0.005  # of the whole weight
REACH = 1.8  # m above the ground: a saw is not worked higher than the shoulder (common practice)


@dataclass(frozen=True)
class Before:
    """All that is known of one step before it is put into words."""

    model: Model
    judged: Judged
    takes: tuple[int, ...]
    before: State
    after: State
    present: Bools
    ends: frozenset[int]
    clear: bool = False  # the work ends here, with wood still lying beside the building


def steps_of(model: Model, found: Found, first_number: int) -> tuple[CutStep, ...]:
    """The cut steps of an order, numbered on from `first_number`."""
    order, present, count = found.order, found.present, len(model.body.pieces)
    through = [bits_to_mask(bits, count) for bits in (found.start, *(s.move.after for s in order.steps))]
    states = solve_states(model.system, through, [present] * len(through)) if order.steps else []
    out = []
    for i, judged in enumerate(order.steps):
        takes = tuple(pieces_of(judged.move.takes))
        after, tree = judged.move.after, found.tree
        clear = tree.clear(after)
        facts = Before(model, judged, takes, states[i], states[i + 1], present, tree.ends, clear)
        last = tree.done(after) and not after & tree.stays and not clear
        out.append(_step(facts, first_number + i, last))
    return tuple(out)


@dataclass(frozen=True)
class _Seen:
    """What of a step is said in more than one place."""

    cut: CutPlace
    leaves_beyond: bool  # whether what is beyond the cut comes off, not what is behind it
    bind: Bind | None
    stays: Motion
    now: Array  # load on the building before, by sample
    then: Array
    full: dict[str, float] | None


def _seen(b: Before) -> _Seen:
    model, at = b.model, b.judged.move.at
    piece = _cut_piece(b)
    cut, leaves_beyond = cut_place(model, piece), piece in b.takes
    beyond = subtree(model.body.parents)[piece]
    return _Seen(
        cut,
        leaves_beyond,
        bind_of(model, b.before, b.after, cut, beyond, leaves_beyond) if at >= 0 else None,
        _stays(b),
        building_load(model, b.before),
        building_load(model, b.after),
        vertical_forces(model, b.after) if b.after.keep.any() and b.after.held.any() else {},
    )


def _cut_piece(b: Before) -> int:
    """The piece whose base is cut, or the one taken away without a cut."""
    return b.judged.move.at if b.judged.move.at >= 0 else b.takes[0]


def _step(b: Before, n: int, last: bool) -> CutStep:
    model, judged, seen = b.model, b.judged, _seen(b)
    body, now, then = model.body, seen.now, seen.then
    sudden = 1.0 if judged.method == "crane pick" else 2.0
    after = forces_by_support(model, b.after, b.present)
    return CutStep(
        n=n,
        action="cut" if judged.move.at >= 0 else "remove",
        method=judged.method,
        piece=body.pieces[_cut_piece(b) if seen.leaves_beyond else b.takes[0]].id,
        takes=tuple(body.pieces[p].id for p in b.takes),
        member=seen.cut.member,
        at_m=seen.cut.at,
        point=_point(seen.cut.point),
        diameter_m=seen.cut.section.diameter,
        mass_kg=Range.of_samples(_mass(b)),
        piece_centre_m=_centre(b),
        bind=seen.bind,
        forces_before=forces_by_support(model, b.before, b.present),
        forces_after={name: worse(band, (seen.full or {}).get(name)) for name, band in after.items()},
        building_before_N=Range.of_samples(now),
        building_after_N=Range.of_samples(then),
        building_peak_N=Range.of_samples(now + np.maximum(sudden * (then - now), 0.0)),
        stays=seen.stays,
        leaves=_leaves(b),
        drop_zone=_zone(b),
        stand=_stand(b, seen.bind, seen.cut, seen.stays, seen.leaves_beyond),
        why=phrases.why(_share(b, then - now), judged.method, _carried(b), last, float(np.median(now)) > 1.0),
        watch=_watch(b, seen),
        stop=phrases.stop(model.job, _rising(b), seen.bind),
        minutes=judged.minutes,
        recheck=rechecked(model, b.after),
    )


def _watch(b: Before, seen: _Seen) -> tuple[str, ...]:
    """What to keep an eye on."""
    held = b.after.held.mean() if b.after.keep.any() and b.judged.move.after not in b.ends else 1.0
    return (
        *phrases.watch(_rising(b), seen.bind, seen.stays, b.judged.method, seen.full is None, _can_roll(b)),
        *(phrases.HELD_DOWN[name] for name in _pulls(b)),
        *phrases.loose(held),
        *phrases.reached(_cares_reached(b)),
        *(phrases.LEFT_LYING if b.clear else ()),
    )


def _mass(b: Before) -> Array:
    weight = b.model.system.integrals.weight[list(b.takes), :4, 2].sum(axis=0)
    return np.asarray(-(weight @ b.model.system.samples.mass[:4]) / GRAVITY)


def _centre(b: Before) -> Point:
    body = b.model.body
    centres = piece_centres(body.assembly, body.labels, len(body.pieces), WITHOUT_SOIL)[list(b.takes)]
    weights = -b.model.system.integrals.weight[list(b.takes), :4, 2].sum(axis=1)
    return _point((weights @ centres) / max(float(weights.sum()), 1e-9))


def _point(v: Array) -> Point:
    return (float(v[0]), float(v[1]), float(v[2]))


def _zone(b: Before) -> tuple[Point, ...]:
    if b.judged.method == LEFT_ON_PLATE:
        return ()
    zone = drop_zone(b.model.body, b.takes, b.judged.method)
    return tuple((float(x), float(y), b.model.body.site.ground_at(float(x))) for x, y in zone.exterior.coords[:-1])


def _cares_reached(b: Before) -> list[str]:
    """Things to protect that the drop zone reaches."""
    if b.judged.method == LEFT_ON_PLATE:
        return []
    zone = drop_zone(b.model.body, b.takes, b.judged.method)
    return [care.id for care in b.model.body.site.cares if zone.intersects(care.plan)]


def forces_by_support(model: Model, state: State, present: Bools) -> dict[str, Range]:
    """Forces by support, those in place whose wood is still there."""
    out: dict[str, Range] = {}
    on = state.keep[model.system.integrals.action_piece[: model.system.count]] & present
    for name in dict.fromkeys(c.id for c in model.contacts):
        rows = [i for i, c in enumerate(model.contacts) if c.id == name and on[i] and np.any(c.force)]
        if not rows:
            continue
        force = Range.of_samples(state.force[rows].sum(axis=0))
        if model.contacts[rows[0]].kind != "possible" or force.high > 0.0:
            out[name] = force
    return out


def _share(b: Before, change: Array) -> float:
    """Likely change of the building's load as a share of what it carried as found."""
    start = float(np.median(building_load(b.model, b.model.found)))
    return float(np.median(change)) / start if start > 0.0 else 0.0


def _carried(b: Before) -> list[str]:
    """Supports that leave with the pieces."""
    own = b.model.system.integrals.action_piece
    names = [
        c.id
        for i, c in enumerate(b.model.contacts)
        if int(own[i]) in b.takes and b.present[i] and np.any(c.force) and float(np.median(b.before.force[i])) > 1.0
    ]
    return list(dict.fromkeys(names))


def _rising(b: Before) -> list[str]:
    """Supports that come to carry clearly more: by 2 % of the whole weight."""
    weight = float(-b.model.system.integrals.weight[:, :4, 2].sum())
    change = np.median(b.after.force - b.before.force, axis=1)
    return list(
        dict.fromkeys(c.id for i, c in enumerate(b.model.contacts) if change[i] > 0.02 * weight and np.any(c.force))
    )


def _pulls(b: Before) -> list[str]:
    """Holds at the butt that pushed up before and have to hold the butt down after."""
    before, after = (np.median(s.force, axis=1) for s in (b.before, b.after))
    small = SMALL_PULL * float(-b.model.system.integrals.weight[:, :4, 2].sum())
    names = [c.id for i, c in enumerate(b.model.contacts) if before[i] >= 0.0 and after[i] < -small]
    return [name for name in names if name in phrases.HELD_DOWN]


def _can_roll(b: Before) -> bool:
    """Whether what stays lies balanced on one line, so that nothing keeps it from rolling."""
    if not b.after.keep.any() or not b.after.held.any() or b.judged.move.after in b.ends:
        return False
    margin = stability_of(b.model, b.after.keep, b.present, typical_sample(b.after)).rolling
    return bool(margin < NEUTRAL)


def _stays(b: Before) -> Motion:
    """Movement of what stays: the largest rise or drop of its contacts and the rigid movement in words."""
    if not b.after.keep.any():
        return Motion("nothing is left", "held", (0.0, 0.0, 0.0), (0.0, 0.0, 0.0), 0.0, "")
    if b.judged.move.after in b.ends:
        return Motion(STANDS, "tips", (0.0, 0.0, 0.0), (0.0, -1.0, 0.0), None, "its root plate")
    system = b.model.system
    both = b.before.held & b.after.held
    if not both.any():
        return HELD
    on = b.after.keep[system.integrals.action_piece[: system.count]] & ~is_couple(list(system.contacts))
    moved = np.median((rise_of_contacts(system, b.after) - rise_of_contacts(system, b.before))[:, both], axis=1)
    moved = np.where(on, moved, 0.0)
    most = int(np.abs(moved).argmax())
    if abs(float(moved[most])) < NOTHING_MOVES:
        return Motion("stays where it is", "held", (0.0, 0.0, 0.0), (0.0, 0.0, 0.0), abs(float(moved[most])), SUPPORTS)
    way, kind = ("rises", "tips") if moved[most] > 0.0 else ("settles", "drops")
    words = f"{way} a little, most at {b.model.contacts[most].id}"
    return Motion(words, kind, (0.0, 0.0, float(moved[most])), (0.0, 0.0, 0.0), abs(float(moved[most])), SUPPORTS)


def _leaves(b: Before) -> Motion:
    """How the cut part goes."""
    method = b.judged.method
    words = {
        "lower on a line": "hangs on the line and is let down",
        "crane pick": "hangs on the hook and is lifted clear",
        "carry": "is held by hand and carried off",
        LEFT_ON_PLATE: f"stays behind; the root plate {phrases.plate_words(b.model)}",
    }
    if method in words:
        return Motion(words[method], "held", (0.0, 0.0, 0.0), (0.0, 0.0, 0.0), None, "")
    if b.judged.move.at < 0:
        return Motion("is brought down off what it rests on", "drops", (0.0, 0.0, -1.0), (0.0, 0.0, 0.0), None, GROUND)
    sample = int(np.flatnonzero(b.before.held)[0]) if b.before.held.any() else 0
    gone = bits_to_mask(b.judged.move.takes, len(b.model.body.pieces))
    going = falling(b.model, gone, b.present & _touched(b), sample)
    return going if going.kind == "held" else replace(going, rests_on=going.rests_on.split(" over ")[-1] or GROUND)


def _touched(b: Before) -> Bools:
    """Contacts that carried before the cut: what the cut part may still rest on at once."""
    return np.asarray(np.median(b.before.force, axis=1) > 0.0)


def _stand(b: Before, bind: Bind | None, cut: CutPlace, stays: Motion, far_leaves: bool) -> str:
    if bind is None:
        return phrases.take_away(b.judged.method, b.model.job.tree.attached == "hinge")
    rolls = next((side for side in ("left", "right") if f"rolls to the {side}" in stays.words), "")
    slope = b.model.body.site.slope
    downhill = np.array([-slope, 0.0, 0.0]) if slope else None
    part = "butt" if far_leaves else "tip"
    kind = BindKind(bind.kind)
    words = where_to_stand(kind, bind.compression_clock, cut.axis, rolls, downhill, part, bind.spring_pole).words
    above = float(cut.point[2]) - b.model.body.site.ground_at(float(cut.point[0]))
    return f"{words} {phrases.ALOFT}" if above > REACH else words
