"""What holds the tree up, as found."""

from __future__ import annotations

import numpy as np

from bolewright.core.base.range import Range
from bolewright.core.base.vectors import unit
from bolewright.core.contact.actions import Array
from bolewright.core.contact.bounds import upper_bounds
from bolewright.core.contact.margins import Stability, roll_curvature, stability
from bolewright.core.contact.state import Bools, State, reach, total_weight, weight_of
from bolewright.core.contact.supports import Contact
from bolewright.job.model import Job
from bolewright.planning.holding.full import least_friction, typical_sample, vertical_forces, worse
from bolewright.planning.holding.model import Model, model_of
from bolewright.planning.holding.motions import falling
from bolewright.planning.holding.plates import plate_outcomes
from bolewright.planning.holding.roles import roles_of
from bolewright.planning.results import HoldResult, Margins, SupportForce
from bolewright.planning.shapes import Point

ROLL_HOLDER = "roll holder"
NEUTRAL = 0.02  # m: a stem that rolls once its weight shifts this little is not held against rolling
NEAR = 0.6  # m: a surface further away than this is not worth a line
NOTICE = 0.002  # of the whole weight: a force below this is nothing


def hold(job: Job, model: Model | None = None) -> HoldResult:
    """What holds the tree up: forces with ranges and hard bounds, roles of the pieces, margins, and the root plate.

    Raises NotEnoughKnown when heights or supports are missing, BadInput for a job that cannot be.
    """
    model = model_of(job) if model is None else model
    now, keep, touching = model.now, model.left, model.resting
    notes = [*model.notes]
    if not keep.any():
        return _nothing_left(model, notes)
    held = bool(now.held.mean() >= job.limits.share.likely)
    loose = 1.0 - float(now.held.mean())
    if held and loose > 0.0:
        notes.append(f"In {100.0 * loose:.0f} % of the samples nothing holds it: its balance is close.")
    if not held:
        return _not_held(model, touching, notes)
    sample = typical_sample(now)
    friction = least_friction(model, keep, touching, sample)
    full = _full_forces(model, notes)
    bounds = hard_bounds(model, keep, touching)
    margins = _margins(model, touching, sample, friction)
    status = _status(model, friction, margins)
    notes += _sharing_notes(model, full, status)
    return HoldResult(
        status=status,
        supports=supports_of(model, now, bounds, full),
        pieces=roles_of(model),
        total_N=Range.of_samples(total_weight(model.system, keep)),
        building_N=Range.of_samples(building_load(model, now)),
        margins=margins,
        motion=None,
        plate=plate_outcomes(model),
        residual=float(now.residual[now.held].max()),
        samples=len(model.system.samples),
        notes=tuple(notes),
        filled_in=model.filled,
        gone=model.gone,
        learnt=model.learnt,
    )


def _nothing_left(model: Model, notes: list[str]) -> HoldResult:
    none = Range.exact(0.0)
    notes.append("Nothing of the tree is left on what it lay on.")
    return HoldResult(
        status="held",
        supports=(),
        pieces=(),
        total_N=none,
        building_N=none,
        margins=None,
        motion=None,
        plate=(),
        residual=0.0,
        samples=len(model.system.samples),
        notes=tuple(notes),
        filled_in=model.filled,
        gone=model.gone,
        learnt=model.learnt,
    )


def building_load(model: Model, state: State) -> Array:
    """(B,) sum of the forces on roof and wall [N]."""
    on = np.array([c.building for c in model.contacts], dtype=bool)
    return np.asarray(state.force[on].sum(axis=0))


def hard_bounds(model: Model, keep: Bools, present: Bools) -> Array:
    """(n,) the most each contact can carry over every equilibrium and every sample [N]; nan where it is not there."""
    here = reach(model.system, keep, present)
    columns = model.system.rows(slice(0, model.system.count))[:, here]
    low = np.array([c.low for c in model.contacts])[here]
    high = np.array([c.high for c in model.contacts])[here]
    best = upper_bounds(columns, weight_of(model.system, keep), low, high)
    out = np.full(model.system.count, np.nan)
    out[here] = np.where(np.isnan(best).all(axis=1), np.nan, np.nanmax(best, axis=1, initial=-np.inf))
    return out


def _status(model: Model, friction: float | None, margins: Margins) -> str:
    if model.rolls or margins.rolling_m < NEUTRAL:
        return "can roll"
    low = _lowest_friction(model)
    return "can slide" if friction is None or friction > low else "held"


def _lowest_friction(model: Model) -> float:
    resting = [c for c, on in zip(model.contacts, model.resting, strict=True) if on]
    return min((c.mu_low for c in resting if c.mu_low > 0.0), default=0.0)


def supports_of(model: Model, state: State, bounds: Array, full: dict[str, float]) -> tuple[SupportForce, ...]:
    """The supports with what they carry, saddles as one."""
    weight = float(np.median(total_weight(model.system, state.keep)))
    out: list[SupportForce] = []
    there = state.keep[model.system.integrals.action_piece[: model.system.count]]
    for name in dict.fromkeys(c.id for c, on in zip(model.contacts, there, strict=True) if on and _worth_listing(c)):
        rows = [i for i, c in enumerate(model.contacts) if c.id == name]
        out.append(_support(model, state, name, rows, bounds, full.get(name), weight))
    return tuple(out)


def _worth_listing(contact: Contact) -> bool:
    """What touches, and what the wood could settle onto: near it, or to be protected."""
    if contact.kind == ROLL_HOLDER or not np.any(contact.force):
        return False
    return contact.touching or contact.kind != "possible" or contact.gap <= NEAR


def _support(
    model: Model, state: State, name: str, rows: list[int], bounds: Array, full: float | None, weight: float
) -> SupportForce:
    c = model.contacts[rows[0]]
    force = state.force[rows].sum(axis=0)
    band = Range.of_samples(force)
    point = np.mean([model.contacts[i].point for i in rows], axis=0)
    note = ""
    if full is not None and not band.low - NOTICE * weight <= full <= band.high + NOTICE * weight:
        note = "with friction and tilted surfaces it comes out outside this range; the worse is shown"
        band = worse(band, full)
    touching = bool(model.resting[rows].any())
    word = "not touching" if not touching else "carries" if abs(band.likely) > NOTICE * weight else _idle(band, weight)
    return SupportForce(
        id=name,
        kind=c.kind,
        member=c.member,
        at_m=c.at,
        point=_point(point),
        direction=_point(c.normal),
        force_N=band,
        cannot_exceed_N=float(np.nansum(bounds[rows])) if touching else float("nan"),
        full_force_N=full,
        on_building=c.building,
        gap_m=None if touching else Range.exact(c.gap),
        state=word,
        limit_N=c.limit,
        note=note,
    )


def _idle(band: Range, weight: float) -> str:
    return "carries" if band.high > 0.02 * weight else "touches, carries nothing"


def _point(vector: Array) -> Point:
    return (float(vector[0]), float(vector[1]), float(vector[2]))


def _full_forces(model: Model, notes: list[str]) -> dict[str, float]:
    """Vertical force of each support in the full problem; empty when it has no answer."""
    full = vertical_forces(model, model.now)
    if full is None:
        notes.append(
            "With the low friction it does not stay by friction alone; forces with friction are for the high one."
        )
        full = vertical_forces(model, model.now, high_friction=True)
    if full is None:
        notes.append("The problem with friction and tilted surfaces has no answer; vertical reactions are shown.")
    return full or {}


def _sharing_notes(model: Model, full: dict[str, float], status: str) -> list[str]:
    notes = []
    if status == "can roll" and not model.rolls:
        notes.append("Nothing entered keeps the stem from rolling: it lies balanced on one line. Chock it first.")
    elif status == "can roll":
        rows = [i for i, c in enumerate(model.contacts) if c.kind == ROLL_HOLDER]
        moment = Range.of_samples(model.now.force[rows].sum(axis=0))
        side = "right" if moment.likely < 0.0 else "left"
        notes.append(
            "Nothing entered keeps the stem from rolling: its supports lie on one line. "
            f"It wants to roll to the {side} with {abs(moment.likely):.0f} N m. Chock it or tie it back first."
        )
    if not full:
        notes.append("Load sharing is from vertical reactions alone.")
    return notes


def stability_of(model: Model, keep: Bools, present: Bools, sample: int) -> Stability:
    """How far the weight of what is kept may shift before it tips or rolls, in one sample."""
    here = reach(model.system, keep, present)
    columns = model.system.rows(slice(0, model.system.count))[:, here]
    columns[1:] *= model.system.scale
    weight = weight_of(model.system, keep)[:, sample].copy()
    weight[1:] *= model.system.scale
    low = np.array([c.low for c in model.contacts])[here]
    high = np.array([c.high for c in model.contacts])[here]
    return stability(columns, weight, low, high, _stem_axis(model))


def _margins(model: Model, touching: Bools, sample: int, friction: float | None) -> Margins:
    s = stability_of(model, model.left, touching, sample)
    mu = _lowest_friction(model)
    ratio = None if friction is None else float("inf") if friction <= 0.0 else mu / friction
    return Margins(s.tipping, s.tipping_towards, s.rolling, s.rolling_towards, friction, mu, ratio, _roll_note(model))


def _stem_axis(model: Model) -> Array:
    own = model.body.assembly.of("stem")
    return unit(model.body.assembly.end[own.stop - 1] - model.body.assembly.start[own.start])


def _roll_note(model: Model) -> str:
    """The second-order check: would the round stem roll on by itself once nudged?"""
    resting = [c for c, on in zip(model.contacts, model.resting, strict=True) if on]
    stem = [c for c in resting if c.member == "stem" and c.segment >= 0 and np.any(c.force)]
    if not stem:
        return ""
    c = stem[0]
    axis_z = float(model.body.assembly.end[c.segment][2])
    radius = axis_z - float(c.point[2])
    height = float(model.system.integrals.origin[2]) - float(c.point[2])
    if radius <= 0.0 or height <= 0.0:
        return ""
    return roll_curvature(height, radius).words


def _not_held(model: Model, touching: Bools, notes: list[str]) -> HoldResult:
    keep = model.left
    return HoldResult(
        status="not held",
        supports=(),
        pieces=(),
        total_N=Range.of_samples(total_weight(model.system, keep)),
        building_N=Range.exact(0.0),
        margins=None,
        motion=falling(model, keep, touching, 0),
        plate=plate_outcomes(model),
        residual=float("nan"),
        samples=len(model.system.samples),
        notes=(
            *notes,
            f"{100.0 * (1.0 - float(model.now.held.mean())):.0f} % of the samples have no equilibrium on the "
            "supports entered. Look again at what it rests on before anyone goes near.",
        ),
        filled_in=model.filled,
        gone=model.gone,
        learnt=model.learnt,
    )
