"""The wood as an assembled elastic frame: nodes, stiffness matrix, loads, and where supports take hold.

A node is put at the foot of the body, at the end of every run and wherever a support or point load takes hold along
a run. Rigid runs have no nodes of their own: what hangs on them moves with the node they spring from. Supports and
loads off the axis act through a rigid arm from the axis point square beside them.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import sparse

from bolewright.core.base.errors import BadInput
from bolewright.core.recheck.body import Flags, Floats, Ints, PointLoads, Segments, Supports
from bolewright.core.recheck.element import carry, end_loads, integrals, part_of, stiffness

_SAME_PLACE = 1e-9  # shares of a run closer than this are one node


@dataclass(frozen=True)
class Grip:
    """A point fixed to the wood: the node it moves with and the rigid arm from that node."""

    node: int
    arm: Floats


@dataclass(frozen=True)
class Elements:
    """E elements: the nodes and arms they start from, their end nodes, and what they are made of."""

    start_grip: tuple[Grip, ...]
    end_node: Ints
    segment: Ints
    span: Floats
    end_stiffness: Floats  # (E, 6, 6)
    full_stiffness: Floats  # (E, 12, 12)
    loads: Floats  # (E, 12) end loads of own weight


@dataclass(frozen=True)
class Frame:
    """The body still on the tree, ready to be solved. Movements are those of the nodes, six each."""

    nodes: int
    stiffness: sparse.csc_matrix  # (6n, 6n), singular: the body is free
    load: Floats  # (6n,)
    holds: sparse.csr_matrix  # (m, 6n): movement of each support's point along its direction
    elements: Elements
    root: Floats  # (3,) where node 0 is
    starts: tuple[Grip | None, ...]  # start of each segment, None where it is gone
    ends: tuple[Grip | None, ...]


def build_frame(segments: Segments, on_tree: Flags, supports: Supports, loads: PointLoads) -> Frame:
    """The frame of the runs still on the tree, loaded by their own weight and the point loads.

    Supports on wood that is gone get an empty row. Raises BadInput if what is left is not one connected body.
    """
    layout = _lay_out(segments, on_tree, supports, loads)
    elements = _make_elements(segments, layout)
    nodes = layout.nodes
    load = np.zeros(6 * nodes)
    start_node, arm = _arms(elements.start_grip)
    np.add.at(load.reshape(nodes, 6), start_node, _to_node(arm, elements.loads[:, :6]))
    np.add.at(load.reshape(nodes, 6), elements.end_node, elements.loads[:, 6:])
    rigid = [k for k in np.flatnonzero(on_tree & segments.rigid) if segments.weight[k] != 0.0]
    for k in rigid:
        _add(load, _between(layout.starts[k], layout.ends[k]), np.array([0, 0, -segments.weight[k], 0, 0, 0.0]))
    for grip, force, couple in zip(layout.load_grips, loads.force, loads.couple, strict=True):
        _add(load, grip, np.concatenate([force, couple]))
    return Frame(
        nodes=nodes,
        stiffness=_assemble(elements, nodes),
        load=load,
        holds=_hold_rows(supports, layout.support_grips, nodes),
        elements=elements,
        root=layout.root,
        starts=tuple(layout.starts),
        ends=tuple(layout.ends),
    )


@dataclass
class _Layout:
    """Where nodes go while the frame is being laid out."""

    root: Floats
    nodes: int
    starts: list[Grip | None]
    ends: list[Grip | None]
    pieces: list[tuple[int, float, float, Grip, int]]  # segment, share begin, share stop, start grip, end node
    support_grips: list[Grip | None]
    load_grips: list[Grip]


def _lay_out(segments: Segments, on_tree: Flags, supports: Supports, loads: PointLoads) -> _Layout:
    keep = np.flatnonzero(on_tree)
    gone_parent = [k for k in keep if segments.parent[k] < 0 or not on_tree[segments.parent[k]]]
    if len(gone_parent) != 1:
        raise BadInput(f"What is left is {len(gone_parent)} separate bodies; check each body on its own.", "on_tree")
    count = segments.count
    out = _Layout(segments.start[gone_parent[0]], 1, [None] * count, [None] * count, [], [], [])
    shares = _shares(segments, np.concatenate([supports.segment, loads.segment]), np.vstack([supports.point, loads.point]))
    of_segment: dict[int, list[float]] = {}
    for k, share in zip(np.concatenate([supports.segment, loads.segment]), shares, strict=True):
        of_segment.setdefault(int(k), []).append(float(share))
    found: dict[tuple[int, float], Grip] = {}
    for k in keep:
        _lay_segment(segments, int(k), out, of_segment.get(int(k), []), found, k == gone_parent[0])
    grips = [
        _arm_to(found.get((int(k), float(s))), segments, int(k), float(s), point)
        for k, s, point in zip(
            np.concatenate([supports.segment, loads.segment]), shares, np.vstack([supports.point, loads.point]), strict=True
        )
    ]
    out.support_grips = grips[: supports.count]
    out.load_grips = [grip for grip in grips[supports.count :] if grip is not None]
    return out


def _shares(segments: Segments, which: Ints, point: Floats) -> Floats:
    """Share of each segment's length at which a point lies square beside its axis, 0..1."""
    along = segments.end[which] - segments.start[which]
    share: Floats = np.sum((point - segments.start[which]) * along, axis=1) / np.maximum(np.sum(along**2, axis=1), 1e-300)
    share[share < _SAME_PLACE] = 0.0
    share[share > 1.0 - _SAME_PLACE] = 1.0
    return share


def _lay_segment(
    segments: Segments, k: int, out: _Layout, shares: list[float], found: dict[tuple[int, float], Grip], first: bool
) -> None:
    parent = int(segments.parent[k])
    carrier = Grip(0, np.zeros(3)) if first else out.ends[parent]
    assert carrier is not None  # parents come first and are on the tree
    gap = np.zeros(3) if first else segments.start[k] - segments.end[parent]
    grip = Grip(carrier.node, carrier.arm + gap)
    out.starts[k] = grip
    span = segments.end[k] - segments.start[k]
    begun = 0.0
    for share in sorted(set(shares) | {1.0}):
        if segments.rigid[k]:
            here = Grip(out.starts[k].node, out.starts[k].arm + share * span)  # type: ignore[union-attr]
        elif share - begun <= _SAME_PLACE and share < 1.0:
            here = grip
        else:
            here = Grip(out.nodes, np.zeros(3))
            out.pieces.append((k, begun, share, grip, out.nodes))
            out.nodes += 1
            begun = share
        found[(k, share)] = grip = here
    out.ends[k] = grip


def _arm_to(grip: Grip | None, segments: Segments, k: int, share: float, point: Floats) -> Grip | None:
    if grip is None:
        return None
    axis_point = segments.start[k] + share * (segments.end[k] - segments.start[k])
    return Grip(grip.node, grip.arm + (point - axis_point))


def _make_elements(segments: Segments, layout: _Layout) -> Elements:
    k = np.array([piece[0] for piece in layout.pieces], dtype=np.int64)
    begin = np.array([piece[1] for piece in layout.pieces])
    stop = np.array([piece[2] for piece in layout.pieces])
    span = (segments.end[k] - segments.start[k]) * (stop - begin)[:, None]
    length = np.linalg.norm(span, axis=1)
    parts = integrals(
        length,
        part_of(segments.bending[k], begin, stop, 4),
        part_of(segments.torsion[k], begin, stop, 4),
        part_of(segments.axial[k], begin, stop, 2),
    )
    end, full = stiffness(span, parts)
    weight = np.zeros((len(k), 3))
    weight[:, 2] = -segments.weight[k] * (stop - begin)
    return Elements(
        start_grip=tuple(piece[3] for piece in layout.pieces),
        end_node=np.array([piece[4] for piece in layout.pieces], dtype=np.int64),
        segment=k,
        span=span,
        end_stiffness=end,
        full_stiffness=full,
        loads=end_loads(span, parts, end, weight),
    )


def _arms(grips: tuple[Grip, ...]) -> tuple[Ints, Floats]:
    return np.array([g.node for g in grips], dtype=np.int64), np.array([g.arm for g in grips]).reshape(-1, 3)


def _to_node(arm: Floats, wrench: Floats) -> Floats:
    moved: Floats = np.einsum("...ji,...j->...i", carry(arm), wrench)
    return moved


def _between(start: Grip | None, end: Grip | None) -> Grip:
    assert start is not None and end is not None
    return Grip(start.node, 0.5 * (start.arm + end.arm))


def _add(load: Floats, grip: Grip, wrench: Floats) -> None:
    load[6 * grip.node : 6 * grip.node + 6] += _to_node(grip.arm, wrench)


def _assemble(elements: Elements, nodes: int) -> sparse.csc_matrix:
    start_node, arm = _arms(elements.start_grip)
    reach = np.zeros((len(start_node), 12, 12))
    reach[:, :6, :6] = carry(arm)
    reach[:, range(6, 12), range(6, 12)] = 1.0
    block = reach.transpose(0, 2, 1) @ elements.full_stiffness @ reach
    place = np.hstack([6 * start_node[:, None] + np.arange(6), 6 * elements.end_node[:, None] + np.arange(6)])
    row = np.repeat(place, 12, axis=1).ravel()
    column = np.tile(place, (1, 12)).ravel()
    return sparse.coo_matrix((block.ravel(), (row, column)), shape=(6 * nodes, 6 * nodes)).tocsc()


def _hold_rows(supports: Supports, grips: list[Grip | None], nodes: int) -> sparse.csr_matrix:
    rows = sparse.lil_matrix((supports.count, 6 * nodes))
    for i, grip in enumerate(grips):
        if grip is not None:
            wrench = np.concatenate([supports.direction[i], supports.couple[i]])
            rows[i, 6 * grip.node : 6 * grip.node + 6] = _to_node(grip.arm, wrench)
    return rows.tocsr()


def movement_at(grip: Grip, node_movement: Floats) -> Floats:
    """(6,) slide and turn of a point fixed to the wood, from the movements (n, 6) of the nodes."""
    moved: Floats = carry(grip.arm) @ node_movement[grip.node]
    return moved


def carried_at_starts(frame: Frame, movement: Floats, count: int) -> Floats:
    """(count, 6) force and couple each segment's start receives from the wood beyond it; nan for rigid or gone runs."""
    elements = frame.elements
    node, arm = _arms(elements.start_grip)
    before = np.einsum("eij,ej->ei", carry(arm), movement[node])
    ends = np.hstack([before, movement[elements.end_node]])
    on_element = np.einsum("eij,ej->ei", elements.full_stiffness, ends) - elements.loads
    carried = np.full((count, 6), np.nan)
    for e in range(len(node) - 1, -1, -1):  # pieces run from the start outward, so the first piece is written last
        carried[elements.segment[e]] = -on_element[e, :6]
    return carried
