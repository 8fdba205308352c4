"""A job made ready for the engine: tree, pieces, contacts, samples and the state as found."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.errors import NotEnoughKnown
from bolewright.core.contact.actions import Array, join, section_probes
from bolewright.core.contact.flexibility import Integrals, integrate
from bolewright.core.contact.samples import Samples, draw
from bolewright.core.contact.state import Bools, State, System, reduced, solve_states
from bolewright.core.contact.supports import Contact, actions_of, slanted_of
from bolewright.core.tree.assembly import place
from bolewright.core.tree.mass import centre_of_mass
from bolewright.core.tree.spec import STEM
from bolewright.job.model import Job
from bolewright.planning.filled import job_defaults
from bolewright.planning.holding.body import Body, body_of
from bolewright.planning.holding.butt import butt_holds, roll_holder
from bolewright.planning.holding.contacts import declared, lines, possible
from bolewright.planning.holding.feel import felt
from bolewright.planning.holding.readings import Foreseen, filled_spreads, foreseen, learnt, picked
from bolewright.planning.holding.sofar import SoFar, so_far, walked
from bolewright.planning.results import FilledIn, Learnt

OVERSAMPLE = 6  # samples drawn for each kept one when feel by hand picks among them
OVERSAMPLE_READ = 24  # the same where something was read: a gauge leaves fewer
SMALLEST_SCALE = 1.0
UNKNOWN_SHARE = 0.01  # of the weight: force on a limb that its bend does not tell, one standard deviation (judgement)


@dataclass(frozen=True)
class Model:
    """A body on its contacts, with the state as found. rolls: nothing declared keeps the stem from rolling.

    states: as found, then after each step done; the last is the tree as it stands now. learnt: readings beside what was
    foreseen.

    Actions of the system: n contacts, then three slanted unit forces a contact, then six probes a piece at its cut.
    """

    job: Job
    body: Body
    system: System
    found: State
    rolls: bool
    filled: tuple[FilledIn, ...]
    notes: tuple[str, ...]
    states: tuple[State, ...]
    learnt: tuple[Learnt, ...] = ()

    @property
    def contacts(self) -> tuple[Contact, ...]:
        """All unknowns, in order."""
        return self.system.contacts

    @property
    def now(self) -> State:
        """The state as it stands, after the steps that are done."""
        return self.states[-1]

    @property
    def left(self) -> Bools:
        """(P,) pieces that are still on."""
        return self.now.keep

    @property
    def resting(self) -> Bools:
        """(n,) contacts the tree rests on now: what touched as found, props set since, and what it settled onto."""
        now = self.now
        own = now.keep[self.system.integrals.action_piece[: self.system.count]]
        carries = np.median(now.force, axis=1) > 0.0 if own.any() else np.zeros(self.system.count, dtype=bool)
        set_up = np.array([c.touching or c.kind == "prop" for c in self.contacts], dtype=bool)
        return np.asarray(now.present & own & (set_up | carries))

    @property
    def gone(self) -> tuple[str, ...]:
        """Ids of the pieces that are off."""
        return tuple(p.id for p, on in zip(self.body.pieces, self.left, strict=True) if not on)

    def slanted(self) -> slice:
        """The actions with tilted normals and tangents."""
        return slice(self.system.count, 4 * self.system.count)

    def probes(self, piece: int) -> slice:
        """The six probes at the cut of a piece."""
        first = 4 * self.system.count + 6 * piece
        return slice(first, first + 6)


def model_of(job: Job, extra: tuple[Contact, ...] = (), body: Body | None = None) -> Model:
    """Everything about a job that the engine needs. extra: contacts to try beside the declared ones (props)."""
    _needs_heights(job)
    body = body_of(job) if body is None else body
    notes: list[str] = []
    filled = [*body.grown.filled, *job_defaults(job)]
    contacts = declared(job, body.assembly, body.site, filled)
    contacts += butt_holds(job, body.grown, body.assembly, body.site, filled)
    contacts += lines(job, body.assembly)
    ends = [(f"end of {p.id}", p.end) for p in body.pieces if p.member == STEM]
    contacts += possible(job, body.assembly, body.site, ends, notes)
    done = so_far(job, body)
    contacts += done.contacts()
    contacts += list(extra)
    fresh = _settled(job, body, contacts, done, extra)
    rolls = False
    if not _mostly_held(job, fresh.states[0]):
        held = _settled(job, body, [*contacts, roll_holder(body.assembly)], done, extra)
        if _mostly_held(job, held.states[0]):
            fresh, rolls = held, True
    filled += filled_spreads(job)
    notes += _so_far_notes(job)
    return Model(
        job, body, fresh.system, fresh.states[0], rolls, tuple(filled), tuple(notes), fresh.states, fresh.learnt
    )


def _so_far_notes(job: Job) -> list[str]:
    notes = []
    if job.done:
        notes.append(f"{len(job.done)} step{'s are' if len(job.done) > 1 else ' is'} done: this is of what is left.")
    if job.reading:
        count = len(job.reading)
        notes.append(f"{count} reading{'s' if count > 1 else ''} picked among the samples: each shows what was read.")
    return notes


def _needs_heights(job: Job) -> None:
    if job.tree.attached == "standing":
        raise NotEnoughKnown(
            "This tree is entered as standing; what holds it up and the order of cuts are for a tree that lies down.",
            "tree.attached",
        )
    given = [s for s in job.tree.stem if s.height is not None]
    if len(given) < 2 and not job.support:
        raise NotEnoughKnown(
            "What holds the tree up needs the height of the stem at two places at least, and one support.",
            "tree.stem",
        )


def _mostly_held(job: Job, found: State) -> bool:
    return bool(found.held.mean() >= job.limits.share.likely)


@dataclass(frozen=True)
class _Settled:
    system: System
    states: tuple[State, ...]
    learnt: tuple[Learnt, ...]


def _settled(job: Job, body: Body, contacts: list[Contact], done: SoFar, extra: tuple[Contact, ...]) -> _Settled:
    """The system with its samples, picked by what was felt and read, and the states from as found to now."""
    rng = np.random.default_rng(job.limits.seed)
    wanted, feels = job.limits.samples, any(c.feel for c in contacts)
    more = OVERSAMPLE_READ if job.reading else OVERSAMPLE if feels else 1
    system = _system(body, contacts, draw(body.grown.spread, contacts, wanted * more, rng))
    tried = np.array([any(c is e for e in extra) for c in contacts], dtype=bool)
    steps = len(job.done)
    found = _as_found(system)
    if more == 1 or not _mostly_held(job, found):
        return _Settled(*walked(system, found, done, steps, tried), ())
    told: list[Foreseen] = []
    if job.reading:
        whole, states = walked(system, found, done, steps, tried)
        told = foreseen(job, body, whole, states)
    system = system.take(picked(told, felt(contacts, found), wanted, rng))
    system, states = walked(system, _as_found(system), done, steps, tried)
    return _Settled(system, states, learnt(told, foreseen(job, body, system, states)))


def _system(body: Body, contacts: list[Contact], samples: Samples) -> System:
    assembly = body.assembly
    origin = np.asarray(centre_of_mass(assembly), dtype=float)
    carriers = [_carrier_of_cut(body, p) for p in range(len(body.pieces))]
    probes = [section_probes(segment, point) for segment, point in carriers]
    actions = join([actions_of(contacts), slanted_of(contacts), *probes])
    modulus = body.grown.species.stiffness.value
    integrals = integrate(assembly, body.labels, len(body.pieces), actions, modulus, origin)
    samples = _bent_limbs(body, contacts, integrals, samples)
    scale = max(float(np.abs(integrals.wrench[3:5, : len(contacts)]).max(initial=0.0)), SMALLEST_SCALE)
    return System(tuple(contacts), integrals, samples, samples.misfit.copy(), scale)


def _bent_limbs(body: Body, contacts: list[Contact], integrals: Integrals, samples: Samples) -> Samples:
    """Misfits widened where a limb is the support: how far it came to rest bent is not known.

    A slender limb may be bent by a force of UNKNOWN_SHARE of the tree's weight without its shape telling.
    """
    limb = [p for p, piece in enumerate(body.pieces) if piece.member != STEM]
    own = np.einsum("pii->i", integrals.flex[limb][:, : len(contacts), : len(contacts)])
    force = UNKNOWN_SHARE * float(-integrals.weight[:, :4, 2].sum())
    base = np.array([c.misfit for c in contacts])
    on_limb = np.array([c.touching and c.member != STEM and c.misfit > 0.0 for c in contacts], dtype=bool)
    wider = np.where(on_limb, np.hypot(base, own * force) / np.where(base > 0.0, base, 1.0), 1.0)
    return replace(samples, misfit=samples.misfit * wider[:, None])


def _carrier_of_cut(body: Body, piece: int) -> tuple[int, Array]:
    """The last segment on the butt side of a piece's cut, -1 at the butt, and the middle of the cut."""
    p = body.pieces[piece]
    point = place(body.assembly, p.member, p.start).point
    first = int(np.flatnonzero(body.labels == piece)[0])
    return int(body.assembly.parent[first]), point


def _as_found(system: System) -> State:
    """Only what touches carries."""
    pieces = system.integrals.weight.shape[0]
    touching = np.array([c.touching for c in system.contacts], dtype=bool)
    return solve_states(system, [np.ones(pieces, dtype=bool)], [touching])[0]


def with_only(model: Model, which: NDArray[np.int64]) -> Model:
    """The same job with only some of its contacts: what was tried and not used is left out."""
    n = model.system.count
    slanted = (n + 3 * which[:, None] + np.arange(3)).ravel()
    probes = 4 * n + np.arange(6 * len(model.body.pieces))
    system = reduced(model.system, which, np.concatenate([slanted, probes]))
    states = tuple(
        replace(s, present=s.present[which], force=s.force[which], opening=s.opening[which], marks=s.marks[which])
        for s in model.states
    )
    return replace(model, system=system, found=states[0], states=states)
