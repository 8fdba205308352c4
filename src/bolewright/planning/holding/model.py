"""A job made ready for the engine: tree, pieces, contacts, samples and the state as found."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.errors import NotEnoughKnown
from bolewright.core.contact.actions import Array, join, section_probes
from bolewright.core.contact.flexibility import Integrals, integrate
from bolewright.core.contact.samples import Samples, Spread, draw
from bolewright.core.contact.state import Bools, State, System, reduced, settle_gaps, solve_states
from bolewright.core.contact.supports import Contact, actions_of, slanted_of
from bolewright.core.cutting.handling import HandlingLimits
from bolewright.core.tree.assembly import Assembly, build_assembly, place
from bolewright.core.tree.mass import centre_of_mass
from bolewright.core.tree.pieces import Piece, divide, label_segments, piece_parents
from bolewright.core.tree.spec import STEM
from bolewright.job.defaults import filled_in
from bolewright.job.model import Job
from bolewright.planning.holding.contacts import butt_holds, declared, lines, possible, roll_holder, split_places
from bolewright.planning.holding.feel import condition
from bolewright.planning.pieces import chosen_cuts
from bolewright.planning.results import FilledIn
from bolewright.planning.site import Site, site_of
from bolewright.planning.trees import Grown, grown

OVERSAMPLE = 6  # samples drawn for each kept one when feel by hand picks among them
SMALLEST_SCALE = 1.0
UNKNOWN_SHARE = 0.01  # of the weight: force on a limb that its bend does not tell, one standard deviation (judgement)


@dataclass(frozen=True)
class Body:
    """The tree in pieces. parents (P,): the piece each is carried by. labels (K,)."""

    grown: Grown
    site: Site
    assembly: Assembly
    pieces: tuple[Piece, ...]
    labels: NDArray[np.int64]
    parents: NDArray[np.int64]
    limits: HandlingLimits


@dataclass(frozen=True)
class Model:
    """A body on its contacts, with the state as found. rolls: nothing declared keeps the stem from rolling.

    Actions of the system: n contacts, then three slanted unit forces a contact, then six probes a piece at its cut.
    """

    job: Job
    body: Body
    system: System
    found: State
    rolls: bool
    filled: tuple[FilledIn, ...]
    notes: tuple[str, ...]

    @property
    def contacts(self) -> tuple[Contact, ...]:
        """All unknowns, in order."""
        return self.system.contacts

    @property
    def everything(self) -> Bools:
        """(P,) all pieces on."""
        return np.ones(len(self.body.pieces), dtype=bool)

    def slanted(self) -> slice:
        """The actions with tilted normals and tangents."""
        return slice(self.system.count, 4 * self.system.count)

    def probes(self, piece: int) -> slice:
        """The six probes at the cut of a piece."""
        first = 4 * self.system.count + 6 * piece
        return slice(first, first + 6)


def handling_of(job: Job, crane: bool = False) -> HandlingLimits:
    """The crew's limits; the crane only when asked for."""
    h = job.handling
    return HandlingLimits(
        carry=h.hand.likely,
        drop=h.drop.likely,
        drop_height=h.drop_height.likely,
        roll=h.roll.likely,
        line=h.line.likely,
        crane=h.crane.likely if crane and h.crane is not None else 0.0,
    )


def body_of(job: Job) -> Body:
    """The tree of a job, cut into pieces."""
    places = split_places(job)
    first = grown(job, places)
    rough = build_assembly(first.spec)
    site, limits = site_of(job), handling_of(job)
    heavy = _heavy(first.spread)
    cuts = chosen_cuts(job, rough, site, limits, heavy)
    final = grown(job, places + tuple(cuts))
    assembly = build_assembly(final.spec)
    pieces = divide(assembly, cuts)
    labels = label_segments(assembly, pieces)
    parents = piece_parents(assembly, labels, len(pieces))
    return Body(final, site, assembly, pieces, labels, parents, limits)


def _heavy(spread: Spread) -> Array:
    """(5,) factors from likely to heavy, per mass group."""
    wood = spread.wood.high * spread.size.high**2
    return np.array([wood, wood, spread.small_wood.high, spread.foliage.high, spread.soil.high])


def model_of(job: Job, extra: tuple[Contact, ...] = (), body: Body | None = None) -> Model:
    """Everything about a job that the engine needs. extra: contacts to try beside the declared ones (props)."""
    _needs_heights(job)
    body = body_of(job) if body is None else body
    notes: list[str] = []
    filled = [*body.grown.filled, *_job_defaults(job)]
    contacts = declared(job, body.assembly, body.site, filled)
    contacts += butt_holds(job, body.grown, body.assembly, body.site, filled)
    contacts += lines(job, body.assembly)
    ends = [(f"end of {p.id}", p.end) for p in body.pieces if p.member == STEM]
    contacts += possible(job, body.assembly, body.site, ends, notes)
    contacts += list(extra)
    system, found = _settled(job, body, contacts)
    rolls = False
    if not _mostly_held(job, found):
        held, state = _settled(job, body, [*contacts, roll_holder(body.assembly)])
        if _mostly_held(job, state):
            system, found, rolls = held, state, True
    return Model(job, body, settle_gaps(system, found), found, rolls, tuple(filled), tuple(notes))


def _job_defaults(job: Job) -> list[FilledIn]:
    """What the job document itself fills in."""
    return [FilledIn(f.path, f.value, f.why, "judgement", f.status) for f in filled_in(job)]


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


def _settled(job: Job, body: Body, contacts: list[Contact]) -> tuple[System, State]:
    """The system with its samples, picked by feel where the crew felt, and the state as found."""
    rng = np.random.default_rng(job.limits.seed)
    felt = any(c.feel for c in contacts)
    wanted = job.limits.samples
    samples = draw(body.grown.spread, contacts, wanted * (OVERSAMPLE if felt else 1), rng)
    system = _system(body, contacts, samples)
    found = _as_found(system)
    if felt:
        pick = condition(contacts, found, wanted, rng)
        system = system.take(pick)
        found = _as_found(system)
    return system, found


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
    n, found = model.system.count, model.found
    slanted = (n + 3 * which[:, None] + np.arange(3)).ravel()
    probes = 4 * n + np.arange(6 * len(model.body.pieces))
    system = reduced(model.system, which, np.concatenate([slanted, probes]))
    state = replace(
        found,
        present=found.present[which],
        force=found.force[which],
        opening=found.opening[which],
        marks=found.marks[which],
    )
    return replace(model, system=system, found=state)
