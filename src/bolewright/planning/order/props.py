"""Props to try: where the ground is free under the stem, what they carry over a plan, and what timber does it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from bolewright.core.base.errors import BadInput
from bolewright.core.contact.supports import Contact
from bolewright.core.props.bearing import ground_allowed
from bolewright.core.props.choose import choose_prop
from bolewright.core.props.green import green_round_strengths
from bolewright.core.props.option import PropNeed, PropOption
from bolewright.core.props.timber import Timber
from bolewright.core.tree.assembly import place
from bolewright.core.tree.spec import STEM
from bolewright.job.model import Job
from bolewright.planning.holding.body import Body
from bolewright.planning.holding.posts import PropPlace, post_under
from bolewright.reference.timber import cross_grain_of, timber_of

MOST_PLACES = 5
JACKED = (0.0, 0.15, 0.30)  # of the tree's weight, brought to by a jack or wedges after it is snug
SMALLEST_ROUND = 0.12  # m, thinner limbs make no post
SURE_FORCE = 500.0  # N, so that even an idle prop is a real one


def prop_places(body: Body) -> list[PropPlace]:
    """Middles of the stem's pieces that have free ground under them, at most MOST_PLACES, spread out."""
    found: list[PropPlace] = []
    for piece in body.pieces:
        if piece.member == STEM and piece.end - piece.start > 0.3:
            post = post_under(body, f"prop under {piece.id}", 0.5 * (piece.start + piece.end))
            if post is not None:
                found.append(post)
    if len(found) <= MOST_PLACES:
        return found
    pick = np.unique(np.linspace(0, len(found) - 1, MOST_PLACES).round().astype(int))
    return [found[i] for i in pick]


def tightened(places: list[PropPlace], weight: float) -> list[Contact]:
    """Every place with every tightness, two contacts each: snug, and jacked to a share of the weight [N]."""
    return [replace(side, jacked=0.5 * share * weight) for p in places for share in JACKED for side in p.sides]


def option_for(job: Job, body: Body, prop: PropPlace, force: float) -> PropOption | None:
    """The best way to build a prop here for this load [N]; None when no timber fits at all."""
    timbers = truck_timber(job)
    surface = job.ground.surface or "lawn"
    given = job.ground.bearing.low if job.ground.bearing is not None else None
    grain = cross_grain_of(body.grown.species.scientific_name).value
    need = PropNeed(
        height=prop.height,
        force=max(force, SURE_FORCE),
        ground_pressure_allowed=ground_allowed(surface, given).value,
        head_cross_grain=grain,
        stem_diameter=place(body.assembly, STEM, prop.at).diameter,
    )
    options = choose_prop(need, timbers) if timbers else ()
    if not any(o.inside for o in options):
        options = (*options, *choose_prop(need, tree_timber(body, prop.height)))
    inside = [o for o in options if o.inside]
    return next(iter(inside or options), None)


def truck_timber(job: Job) -> tuple[Timber, ...]:
    """What is on the truck."""
    return tuple(timber_of(t.section.text, t.length.likely, t.count, t.species or "", t.grade or "") for t in job.truck)


def tree_timber(body: Body, height: float) -> tuple[Timber, ...]:
    """Round wood that could be cut from the tree's own limbs for a post of this height."""
    species = body.grown.species
    try:
        strengths = green_round_strengths(
            species.compression_parallel.value,
            species.bending_strength.value,
            species.stiffness.value,
            species.shear_parallel.value,
            cross_grain_of(species.scientific_name).value,
            species.kind == "broadleaf",
        )
    except BadInput:
        return ()
    out: list[Timber] = []
    for limb in body.grown.spec.limbs:
        near, far = body.assembly.stub_of(limb.id) + 0.2, body.assembly.length_of(limb.id)
        end = near + height
        if end > far:
            continue
        thick, thin = (place(body.assembly, limb.id, s).diameter for s in (near, end))
        if thin >= SMALLEST_ROUND:
            name = f"round wood {thin * 100:.0f} to {thick * 100:.0f} cm"
            out.append(Timber(name, "round", thin, thick, height + 0.1, 1, strengths, False, f"cut from {limb.id}"))
    return tuple(out)
