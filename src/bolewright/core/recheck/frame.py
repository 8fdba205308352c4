"""The wood as an assembled elastic frame: nodes, elements, loads, and where supports take hold.

A node is put at the foot of the body, at the end of every run and wherever a support or point load takes hold along
a run. Supports and loads off the axis act through a rigid arm from the axis point square beside them.

The stiffness matrix is kept in its unassembled form. With u the movements of the nodes and f the force and couple on
each element's end,

    ties u - soft f = sag            each element fits between its nodes
    ties' f         = load           each node is in balance

Eliminating f gives ties' soft^-1 ties u = load + ..., the usual assembled stiffness. Keeping f costs little and loses
no digits where a run is very short or rigid (soft = 0), which would swamp the assembled matrix.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import sparse

from bolewright.core.base.errors import BadInput
from bolewright.core.recheck.body import Flags, Floats, Ints, PointLoads, Segments, Supports
from bolewright.core.recheck.element import carry, flexibility, integrals, part_of, sag

_DIGITS = 9  # shares of a run that agree to this many digits are one node


@dataclass(frozen=True)
class Grip:
    """A point fixed to the wood: the node it moves with and the rigid arm from that node."""

    node: int
    arm: Floats


@dataclass(frozen=True)
class Elements:
    """E elements, in the order of the segments they are parts of."""

    start_node: Ints
    start_arm: Floats  # (E, 3) from the start node to the element's start
    end_node: Ints
    segment: Ints
    span: Floats  # (E, 3)
    weight: Floats  # (E, 3)


@dataclass(frozen=True)
class Frame:
    """The body still on the tree, ready to be solved. Movements are those of the nodes, six each."""

    nodes: int
    ties: sparse.csr_matrix  # (6E, 6n): movement of each element's end seen from its start
    soft: sparse.csr_matrix  # (6E, 6E): flexibility blocks
    sag: Floats  # (6E,): end movements under own weight
    load: Floats  # (6n,)
    holds: sparse.csr_matrix  # (m, 6n): movement of each support's point along its direction
    elements: Elements
    ends: tuple[Grip | None, ...]  # end of each segment, None where it is gone


def build_frame(segments: Segments, on_tree: Flags, supports: Supports, loads: PointLoads) -> Frame:
    """The frame of the runs marked on_tree (K,), loaded by their own weight [N] and the point loads.

    All supports and loads must be on wood that is there. Raises BadInput if what is left is not one connected body.
    Source: displacement method for space frames, in augmented form.
    Checked by: tests/unit/recheck/test_frame.py
    """
    layout = _lay_out(segments, on_tree, supports, loads)
    elements, soft, sags = _make_elements(segments, layout)
    load = np.zeros((layout.nodes, 6))
    resultant = np.hstack([elements.weight, np.cross(0.5 * elements.span, elements.weight)])
    np.add.at(load, elements.start_node, _to_node(elements.start_arm, resultant))
    for grip, force, couple in zip(layout.load_grips, loads.force, loads.couple, strict=True):
        load[grip.node] += _to_node(grip.arm, np.concatenate([force, couple]))
    return Frame(
        nodes=layout.nodes,
        ties=_ties(elements, layout.nodes),
        soft=sparse.block_diag(list(soft), format="csr"),
        sag=sags.ravel(),
        load=load.ravel(),
        holds=_hold_rows(supports, layout.support_grips, layout.nodes),
        elements=elements,
        ends=tuple(layout.ends),
    )


@dataclass
class _Layout:
    """Where nodes go while the frame is being laid out."""

    nodes: int
    ends: list[Grip | None]
    pieces: list[tuple[int, float, float, Grip, int]]  # segment, share begin, share stop, start grip, end node
    support_grips: list[Grip]
    load_grips: list[Grip]


def _lay_out(segments: Segments, on_tree: Flags, supports: Supports, loads: PointLoads) -> _Layout:
    keep = np.flatnonzero(on_tree)
    gone_parent = [k for k in keep if segments.parent[k] < 0 or not on_tree[segments.parent[k]]]
    if len(gone_parent) != 1:
        raise BadInput(f"What is left is {len(gone_parent)} separate bodies; check each body on its own.", "on_tree")
    out = _Layout(1, [None] * segments.count, [], [], [])
    held = np.concatenate([supports.segment, loads.segment])
    points = np.vstack([supports.point, loads.point])
    shares = _shares(segments, held, points)
    of_segment: dict[int, list[float]] = {}
    for k, share in zip(held, shares, strict=True):
        of_segment.setdefault(int(k), []).append(float(share))
    found: dict[tuple[int, float], Grip] = {}
    for k in keep:
        _lay_segment(segments, int(k), out, of_segment.get(int(k), []), found, k == gone_parent[0])
    grips = [
        _arm_to(found[(int(k), float(share))], segments, int(k), float(share), point)
        for k, share, point in zip(held, shares, points, strict=True)
    ]
    out.support_grips, out.load_grips = grips[: supports.count], grips[supports.count :]
    return out


def _shares(segments: Segments, which: Ints, point: Floats) -> Floats:
    """Share of each segment's length at which a point lies square beside its axis, 0..1."""
    along = segments.end[which] - segments.start[which]
    reach = np.sum((point - segments.start[which]) * along, axis=1)
    share: Floats = np.clip(reach / np.sum(along**2, axis=1), 0.0, 1.0)
    return np.round(share, _DIGITS)


def _lay_segment(
    segments: Segments, k: int, out: _Layout, shares: list[float], found: dict[tuple[int, float], Grip], first: bool
) -> None:
    parent = int(segments.parent[k])
    carrier = Grip(0, np.zeros(3)) if first else out.ends[parent]
    assert carrier is not None  # parents come first and are on the tree
    gap = np.zeros(3) if first else segments.start[k] - segments.end[parent]
    grip = Grip(carrier.node, carrier.arm + gap)
    begun = 0.0
    for share in sorted(set(shares) | {1.0}):
        if share > begun:
            out.pieces.append((k, begun, share, grip, out.nodes))
            grip, begun = Grip(out.nodes, np.zeros(3)), share
            out.nodes += 1
        found[(k, share)] = grip
    out.ends[k] = grip


def _arm_to(grip: Grip, segments: Segments, k: int, share: float, point: Floats) -> Grip:
    axis_point = segments.start[k] + share * (segments.end[k] - segments.start[k])
    return Grip(grip.node, grip.arm + (point - axis_point))


def _make_elements(segments: Segments, layout: _Layout) -> tuple[Elements, Floats, Floats]:
    """The elements with their flexibility (E, 6, 6) and the movement of their ends under own weight (E, 6)."""
    k = np.array([piece[0] for piece in layout.pieces], dtype=np.int64)
    begin = np.array([piece[1] for piece in layout.pieces])
    stop = np.array([piece[2] for piece in layout.pieces])
    elements = Elements(
        start_node=np.array([piece[3].node for piece in layout.pieces], dtype=np.int64),
        start_arm=np.array([piece[3].arm for piece in layout.pieces]),
        end_node=np.array([piece[4] for piece in layout.pieces], dtype=np.int64),
        segment=k,
        span=(segments.end[k] - segments.start[k]) * (stop - begin)[:, None],
        weight=np.outer(segments.weight[k] * (stop - begin), [0.0, 0.0, -1.0]),
    )
    length = np.linalg.norm(elements.span, axis=1)
    axis = elements.span / length[:, None]
    parts = integrals(
        length,
        part_of(segments.bending[k], begin, stop, 4),
        part_of(segments.torsion[k], begin, stop, 4),
        part_of(segments.axial[k], begin, stop, 2),
    )
    gives = ~segments.rigid[k]
    soft = flexibility(axis, parts) * gives[:, None, None]
    return elements, soft, sag(axis, parts, elements.weight / length[:, None]) * gives[:, None]


def _to_node(arm: Floats, wrench: Floats) -> Floats:
    moved: Floats = np.einsum("...ji,...j->...i", carry(arm), wrench)
    return moved


def _ties(elements: Elements, nodes: int) -> sparse.csr_matrix:
    """Movement of every element's end less that of its start carried over to the end."""
    count = len(elements.segment)
    from_start = -carry(elements.start_arm + elements.span)
    row = 6 * np.arange(count)[:, None, None] + np.arange(6)[:, None] + np.zeros((1, 1, 6), dtype=np.int64)
    column = 6 * elements.start_node[:, None, None] + np.arange(6) + np.zeros((1, 6, 1), dtype=np.int64)
    own = 6 * elements.end_node[:, None] + np.arange(6)
    values = np.concatenate([from_start.ravel(), np.ones(6 * count)])
    rows = np.concatenate([row.ravel(), np.arange(6 * count)])
    columns = np.concatenate([column.ravel(), own.ravel()])
    return sparse.coo_matrix((values, (rows, columns)), shape=(6 * count, 6 * nodes)).tocsr()


def _hold_rows(supports: Supports, grips: list[Grip], nodes: int) -> sparse.csr_matrix:
    arms = np.array([grip.arm for grip in grips]).reshape(-1, 3)
    values = _to_node(arms, np.hstack([supports.direction, supports.couple]))
    row = np.repeat(np.arange(len(grips)), 6)
    column = np.concatenate([6 * grip.node + np.arange(6) for grip in grips]) if grips else row
    return sparse.coo_matrix((values.ravel(), (row, column)), shape=(len(grips), 6 * nodes)).tocsr()


def movements_at(grips: tuple[Grip | None, ...], node_movement: Floats) -> Floats:
    """(P, 6) slide and turn [m, rad] of points fixed to the wood, from the movements (n, 6) of the nodes; nan if gone.

    Source: geometry of small turns.
    Checked by: tests/unit/recheck/test_frame.py
    """
    there = [grip for grip in grips if grip is not None]
    moved = np.full((len(grips), 6), np.nan)
    arms, nodes = np.array([grip.arm for grip in there]), [grip.node for grip in there]
    moved[[grip is not None for grip in grips]] = np.einsum("pij,pj->pi", carry(arms), node_movement[nodes])
    return moved


def carried_at_starts(frame: Frame, end_force: Floats, count: int) -> Floats:
    """(count, 6) force and couple [N, N m] each segment's start receives from the wood beyond it; nan where gone.

    Source: balance of the segment's first element.
    Checked by: tests/handbook/test_beams_recheck.py
    """
    elements = frame.elements
    received = _to_node(elements.span, end_force.reshape(-1, 6))
    received += np.hstack([elements.weight, np.cross(0.5 * elements.span, elements.weight)])
    carried = np.full((count, 6), np.nan)
    carried[elements.segment[::-1]] = received[::-1]  # the first element of a segment is written last
    return carried
