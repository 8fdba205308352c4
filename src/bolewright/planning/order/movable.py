"""Cuts that can be moved along their member, with how far each may go: what the page What if lets one drag."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bolewright.core.tree.outline import member_outline
from bolewright.core.tree.pieces import Piece
from bolewright.planning.holding.body import Body
from bolewright.planning.holding.model import Model
from bolewright.planning.shapes import Point

ROOM = 0.05  # the least length of wood left on either side of a moved cut [m]
CLOSE = 1e-6


@dataclass(frozen=True)
class MovableCut:
    """A cut and the run of wood it can be moved on. low, at, high: distances along the member [m]."""

    piece: str
    member: str
    low: float
    at: float
    high: float
    stations: tuple[float, ...]  # distances along the member of the points of the run [m]
    points: tuple[Point, ...]
    diameters: tuple[float, ...]


def movable_cuts(model: Model) -> tuple[MovableCut, ...]:
    """Every cut still to be made that can stand elsewhere: between its neighbours, and outside the parent's bark."""
    body = model.body
    on = [p for p, left in zip(body.pieces, model.left, strict=True) if left]
    cuts = [p for p in on if p.start > body.assembly.stub_of(p.member) + CLOSE]
    return tuple(_movable(body, on, piece) for piece in cuts)


def _movable(body: Body, on: list[Piece], piece: Piece) -> MovableCut:
    stub = body.assembly.stub_of(piece.member)
    before = [p.start for p in on if p.member == piece.member and p.start < piece.start - CLOSE]
    low = min(max([stub, *before]) + ROOM, piece.start)
    high = max(piece.end - ROOM, piece.start)
    run = member_outline(body.assembly, piece.member, low, high)
    points = tuple((float(x), float(y), float(z)) for x, y, z in np.asarray(run.points))
    return MovableCut(
        piece.id, piece.member, low, piece.start, high,
        tuple(float(s) for s in run.s), points, tuple(float(d) for d in run.diameters),
    )  # fmt: skip
