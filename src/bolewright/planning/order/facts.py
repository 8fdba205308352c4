"""Where the pieces are: over the building, over something to protect, how high, how heavy."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import MultiPoint, Polygon
from shapely.geometry.base import BaseGeometry

from bolewright.core.contact.actions import Array
from bolewright.core.cutting.handling import PieceFacts
from bolewright.core.tree.pieces import piece_centres, piece_diameters, piece_masses
from bolewright.planning.holding.body import Body
from bolewright.planning.holding.model import Model
from bolewright.planning.holding.plates import plate_outcomes
from bolewright.planning.pieces import ROOM
from bolewright.planning.weigh import WITHOUT_SOIL

TUMBLE = 1.5  # m beyond half its length that a piece let fall may tumble (common practice)


def facts_of(model: Model) -> PieceFacts:
    """Masses of the samples and places of all pieces."""
    body = model.body
    count = len(body.pieces)
    masses = piece_masses(body.assembly, body.labels, count)
    centres = piece_centres(body.assembly, body.labels, count, WITHOUT_SOIL)
    diameters = piece_diameters(body.assembly, body.pieces)
    chipped = 0.0 if body.passing is None else body.passing.chipped
    thick = diameters.max(axis=1) > chipped + 1e-9
    return PieceFacts(
        log=np.where(thick[:, None], masses[:, :2] @ model.system.samples.mass[:2], 0.0),
        log_on=np.unique([p.member for p in body.pieces], return_inverse=True)[1],
        log_length=np.where(thick, [p.end - p.start for p in body.pieces], 0.0),
        mass=masses[:, :4] @ model.system.samples.mass[:4],
        over_building=over_roofs(body),
        over_protected=_over(body, [care.plan for care in body.site.cares]),
        air=np.array([_air(body, c, float(d.mean())) for c, d in zip(centres, diameters, strict=True)]),
        cut_diameter=_cut_diameters(body, diameters),
        plate=0 if body.grown.spec.plate is not None else -1,
        plate_word=_plate_word(model),
        reach=np.array([_reach(body, c, float(d.mean())) for c, d in zip(centres, diameters, strict=True)]),
    )


def over_roofs(body: Body) -> NDArray[np.bool_]:
    """(P,) pieces with a building under them, or so near that they need room beside it."""
    return _over(body, [roof.plan for roof in body.site.roofs])


def _over(body: Body, plans: Sequence[BaseGeometry]) -> NDArray[np.bool_]:
    """(P,) pieces over one of these outlines, with the room that a piece needs to come down."""
    shadows = [shadow(body, (p,)).buffer(ROOM) for p in range(len(body.pieces))]
    return np.array([any(s.intersects(plan) for plan in plans) for s in shadows], dtype=bool)


def _cut_diameters(body: Body, diameters: Array) -> Array:
    """Of the cut at the butt end of each piece; the first piece is cut at its far end."""
    out = diameters[:, 0].copy()
    out[0] = diameters[0, 1]
    return out


def _plate_word(model: Model) -> str:
    """What the root plate does with the stub that the first cut leaves."""
    outcomes = plate_outcomes(model, (model.body.pieces[0].end,))
    return outcomes[0].outcome if outcomes else ""


def shadow(body: Body, pieces: tuple[int, ...]) -> BaseGeometry:
    """Outline of the pieces in plan: the hull of their axis points, as wide as the wood."""
    on = np.isin(body.labels, pieces) & ~body.assembly.stub
    points = np.concatenate([body.assembly.start[on], body.assembly.end[on]])[:, :2]
    radius = float(body.assembly.diameter_start[on].max(initial=0.05)) / 2.0
    return MultiPoint(points).convex_hull.buffer(max(radius, 0.02))


def _air(body: Body, centre: Array, diameter: float) -> float:
    """Height of the piece's middle above the ground, less its radius."""
    return float(centre[2]) - diameter / 2.0 - body.site.ground_at(float(centre[0]))


def _reach(body: Body, centre: Array, diameter: float) -> float:
    """Height of the piece's middle above the ground or the roof under it, less its radius."""
    return float(centre[2]) - diameter / 2.0 - body.site.under(centre)[0]


def drop_zone(body: Body, pieces: tuple[int, ...], method: str) -> Polygon:
    """Plan outline that people must be out of while these pieces leave."""
    outline = shadow(body, pieces)
    low_x, low_y, high_x, high_y = outline.bounds
    reach = TUMBLE + 0.5 * float(np.hypot(high_x - low_x, high_y - low_y))
    wide = {"free drop": reach, "roll off": reach, "lower on a line": TUMBLE + 1.0, "crane pick": reach}
    return outline.buffer(wide.get(method, TUMBLE)).simplify(0.1)
