"""The tree of a job, cut into pieces, where it lies."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bolewright.core.contact.actions import Array
from bolewright.core.contact.samples import Spread
from bolewright.core.cutting.handling import HandlingLimits
from bolewright.core.tree.assembly import Assembly, build_assembly
from bolewright.core.tree.pieces import Piece, divide, label_segments, piece_parents
from bolewright.job.model import Job
from bolewright.planning.both import both_lengths, both_masses
from bolewright.planning.holding.contacts import split_places
from bolewright.planning.passage.ways import Passing, passing
from bolewright.planning.pieces import chosen_cuts, cuts_that_get_out
from bolewright.planning.site import Site, site_of
from bolewright.planning.trees import Grown, grown


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
    passing: Passing | None = None  # what the way out lets come off at once


def handling_of(job: Job, crane: bool = False, out: Passing | None = None) -> HandlingLimits:
    """The crew's limits, with what the way out sets; the crane only when asked for."""
    h = job.handling
    return HandlingLimits(
        carry=h.hand.likely,
        drop=h.drop.likely,
        drop_height=h.drop_height.likely,
        roll=h.roll.likely,
        line=h.line.likely,
        crane=h.crane.likely if crane and h.crane is not None else 0.0,
        heaviest=out.heaviest if out is not None else np.inf,
        longest=out.longest if out is not None else np.inf,
        passing=out.words if out is not None else "",
        split=out.split if out is not None else 0.0,
        in_split=out.in_split if out is not None else 0.0,
        mass_words=both_masses,
        length_words=both_lengths,
    )


def body_of(job: Job) -> Body:
    """The tree of a job, cut into pieces."""
    places = split_places(job)
    first = grown(job, places)
    rough = build_assembly(first.spec)
    out = passing(job)
    site, limits = site_of(job), handling_of(job, out=out)
    heavy = _heavy(first.spread)
    cuts = chosen_cuts(job, rough, site, limits, heavy)
    if out is not None:
        cuts = cuts_that_get_out(job, rough, cuts, limits, out, heavy)
    final = grown(job, places + tuple(cuts))
    assembly = build_assembly(final.spec)
    pieces = divide(assembly, cuts)
    labels = label_segments(assembly, pieces)
    parents = piece_parents(assembly, labels, len(pieces))
    return Body(final, site, assembly, pieces, labels, parents, limits, out)


def _heavy(spread: Spread) -> Array:
    """(5,) factors from likely to heavy, per mass group."""
    wood = spread.wood.high * spread.size.high**2
    return np.array([wood, wood, spread.small_wood.high, spread.foliage.high, spread.soil.high])
