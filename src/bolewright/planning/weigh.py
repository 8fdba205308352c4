"""What the tree weighs, piece by piece."""

from __future__ import annotations

import numpy as np

from bolewright.core.base.errors import NotEnoughKnown
from bolewright.core.base.range import Range
from bolewright.core.contact.actions import Array
from bolewright.core.contact.samples import draw
from bolewright.core.tree.pieces import piece_centres, piece_diameters, piece_masses
from bolewright.job.model import Job
from bolewright.planning.holding.body import Body, body_of
from bolewright.planning.results import PieceWeight, WeighResult

WOOD, SMALL, FOLIAGE, SOIL = slice(0, 2), slice(2, 3), slice(3, 4), slice(4, 5)
WITHOUT_SOIL = (1.0, 1.0, 1.0, 1.0, 0.0)  # factors on the mass groups: a root plate is no part of a piece to be cut


def weigh(job: Job, body: Body | None = None) -> WeighResult:
    """Mass of the tree and of every piece as ranges, with the centre of each piece.

    Needs diameters along the stem; heights and supports are not used. Raises NotEnoughKnown with fewer than two
    stations, BadInput for sizes that cannot be.
    """
    if len(job.tree.stem) < 2:
        raise NotEnoughKnown("The weight needs the stem's diameter at two places at least.", "tree.stem")
    body = body_of(job) if body is None else body
    count = len(body.pieces)
    rng = np.random.default_rng(job.limits.seed)
    factors = draw(body.grown.spread, [], job.limits.samples, rng).mass
    masses = piece_masses(body.assembly, body.labels, count)
    centres = piece_centres(body.assembly, body.labels, count, WITHOUT_SOIL)
    diameters = piece_diameters(body.assembly, body.pieces)
    wood = masses[:, :4] @ factors[:4]
    pieces = tuple(_piece(body, p, masses[p], factors, centres[p], diameters[p]) for p in range(count))
    soil = masses[:, SOIL].sum(axis=0) @ factors[SOIL]
    density = body.grown.density
    return WeighResult(
        total_kg=Range.of_samples(wood.sum(axis=0)),
        pieces=pieces,
        plate_kg=Range.of_samples(soil) if body.grown.spec.plate is not None else None,
        density_kg_m3=density.value,
        species=f"{body.grown.species.common_name} ({body.grown.species.scientific_name})",
        density_source=density.source,
        density_status=density.status,
        filled_in=body.grown.filled,
        notes=_notes(body),
    )


def _piece(body: Body, p: int, mass: Array, factors: Array, centre: Array, diameter: Array) -> PieceWeight:
    piece = body.pieces[p]
    return PieceWeight(
        id=piece.id,
        member=piece.member,
        start_m=piece.start,
        end_m=piece.end,
        diameter_start_m=float(diameter[0]),
        diameter_end_m=float(diameter[1]),
        wood_kg=Range.of_samples(mass[WOOD] @ factors[WOOD]),
        small_wood_kg=Range.of_samples(mass[SMALL] @ factors[SMALL]),
        foliage_kg=Range.of_samples(mass[FOLIAGE] @ factors[FOLIAGE]),
        mass_kg=Range.of_samples(mass[:4] @ factors[:4]),
        centre_m=(float(centre[0]), float(centre[1]), float(centre[2])),
    )


def _notes(body: Body) -> tuple[str, ...]:
    if body.grown.spec.plate is None:
        return ()
    return ("The root plate is weighed by itself and is not in the total.",)
