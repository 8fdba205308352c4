"""The search for an order of cuts: which pieces come off in which order, exactly.

A state is the set of pieces still on, always one connected part of the tree, written as the bits of an integer.
A move cuts one junction between two pieces and takes one side away. The judge of moves is handed in, so the search
knows nothing of forces.

Best order: first the least peak of the load on the building over all steps (a bottleneck), then the least exposure
(load on the building times minutes), then the least time. The first is a best-first search; the other two are a
shortest path among the moves that stay under that peak. Both settle every state once, so the answer is exact.
Source: Dijkstra, Numerische Mathematik 1, 1959 (label setting; the bottleneck form is Pollack, Operations Research 8,
1960).
    Checked by: tests/properties/test_order.py (every order of small trees tried).
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

PEAK_STEP = 0.01  # peaks closer together than this share of the start are alike


@dataclass(frozen=True)
class PieceTree:
    """Which piece carries which: parent[p] is the piece nearer the butt, -1 for the first. stays: pieces that are
    left at the end, as bits. butt_first: the butt side may be taken away too. ends: other states (bits) at which the
    work is done too, such as a stub that stands up with its root plate. waits: (pieces, others) as bits, pieces
    that are not taken while any of the others is on."""

    parent: tuple[int, ...]
    stays: int = 0
    butt_first: bool = True
    ends: frozenset[int] = frozenset()
    waits: tuple[tuple[int, int], ...] = ()

    def may_take(self, state: int, takes: int) -> bool:
        """Whether nothing among these pieces (bits) stays on or has to wait."""
        return not takes & self.stays and not any(takes & own and state & other for own, other in self.waits)

    def done(self, state: int) -> bool:
        """Whether nothing more is to be cut."""
        return state == self.stays or state in self.ends

    @property
    def everything(self) -> int:
        """All pieces on."""
        return (1 << len(self.parent)) - 1

    def beyond(self) -> tuple[int, ...]:
        """For each piece, the bits of itself and everything it carries."""
        bits = [1 << p for p in range(len(self.parent))]
        for p in reversed(range(len(self.parent))):
            if self.parent[p] >= 0:
                bits[self.parent[p]] |= bits[p]
        return tuple(bits)


@dataclass(frozen=True)
class Move:
    """Cut piece `at` from its parent and take `takes` (bits) away, leaving `after`. at = -1: the last part is taken
    away whole, without a cut."""

    at: int
    takes: int
    after: int


@dataclass(frozen=True)
class Judged:
    """A move with what it costs: peak [N] load on the building during it, exposure [N min], minutes, and the method.
    `refused` says why it is not allowed, empty when it is. excess [N]: how far a watched point would go over. good:
    share of the samples in which it stays inside every rule."""

    move: Move
    peak: float
    exposure: float
    minutes: float
    method: str
    refused: str = ""
    excess: float = 0.0
    good: float = 0.0


Judge = Callable[[int, list[Move]], list[Judged]]


@dataclass(frozen=True)
class Order:
    """A found order (steps), or none and the state nearest to done from which nothing more is allowed."""

    steps: tuple[Judged, ...]
    found: bool
    peak: float
    states_seen: int
    dead_end: int = 0
    dead_end_moves: tuple[Judged, ...] = ()
    steps_to_dead_end: tuple[Judged, ...] = field(default=())


def moves_from(tree: PieceTree, beyond: tuple[int, ...], state: int) -> Iterator[Move]:
    """Every cut that can be made in a state, and either side as the one that leaves.

    Parameters: beyond (P,) bits from PieceTree.beyond; state, bits.
    Source: house rule.
    Checked by: tests/properties/test_order.py
    """
    for p, parent in enumerate(tree.parent):
        if parent < 0 or not state >> p & 1 or not state >> parent & 1:
            continue
        far = beyond[p] & state
        near = state & ~far
        if tree.may_take(state, far):
            yield Move(p, far, near)
        if tree.butt_first and tree.may_take(state, near):
            yield Move(p, near, far)
    if tree.may_take(state, state):
        yield Move(-1, state, 0)


def find_order(
    tree: PieceTree,
    judge: Judge,
    start_peak: float,
    progress: Callable[[int], None] | None = None,
    start: int | None = None,
) -> Order:
    """The best allowed order from everything on (or from `start`, bits) to only `stays` left.

    judge(state, moves) prices moves out of a state; it is asked once per state. start_peak [N]: the load on the
    building now, below which no order can keep the peak. progress is called with the number of states seen and may
    raise to cancel.
    Source: see the module.
    Checked by: tests/properties/test_order.py.
    """
    book = _Book(tree, judge, progress)
    begin = tree.everything if start is None else start
    peak = _least_peak(tree, book, start_peak, begin)
    if peak is None:
        return _no_order(tree, book, begin)
    steps = _least_exposure(tree, book, peak * (1.0 + PEAK_STEP), begin)
    return Order(steps, True, max([start_peak, *(s.peak for s in steps)]), len(book.known))


class _Book:
    """Judged moves of every state asked so far."""

    def __init__(self, tree: PieceTree, judge: Judge, progress: Callable[[int], None] | None) -> None:
        self.tree, self.judge, self.progress = tree, judge, progress
        self.beyond = tree.beyond()
        self.known: dict[int, list[Judged]] = {}

    def moves(self, state: int) -> list[Judged]:
        if state not in self.known:
            self.known[state] = self.judge(state, list(moves_from(self.tree, self.beyond, state)))
            if self.progress is not None:
                self.progress(len(self.known))
        return self.known[state]

    def allowed(self, state: int) -> list[Judged]:
        return [m for m in self.moves(state) if not m.refused]


def _least_peak(tree: PieceTree, book: _Book, start_peak: float, start: int) -> float | None:
    """The smallest peak with which the end can be reached, None when it cannot."""
    heap: list[tuple[float, int, int]] = [(start_peak, start.bit_count(), start)]
    settled: set[int] = set()
    while heap:
        peak, _, state = heapq.heappop(heap)
        if state in settled:
            continue
        settled.add(state)
        if tree.done(state):
            return peak
        for m in book.allowed(state):
            if m.move.after not in settled:
                heapq.heappush(heap, (max(peak, m.peak), m.move.after.bit_count(), m.move.after))
    return None


def _least_exposure(tree: PieceTree, book: _Book, peak: float, start: int) -> tuple[Judged, ...]:
    """The steps with least exposure, then time, among those whose peak stays under the limit."""
    best: dict[int, tuple[float, float]] = {start: (0.0, 0.0)}
    came: dict[int, tuple[int, Judged]] = {}
    heap: list[tuple[float, float, int, int]] = [(0.0, 0.0, start.bit_count(), start)]
    settled: set[int] = set()
    while heap:
        exposure, minutes, _, state = heapq.heappop(heap)
        if state in settled:
            continue
        settled.add(state)
        if tree.done(state):
            return _walk_back(came, state, start)
        for m in book.allowed(state):
            after, cost = m.move.after, (exposure + m.exposure, minutes + m.minutes)
            if m.peak > peak or after in settled or cost >= best.get(after, (float("inf"), 0.0)):
                continue
            best[after] = cost
            came[after] = (state, m)
            heapq.heappush(heap, (*cost, after.bit_count(), after))
    raise AssertionError("the bottleneck search reached the end but the shortest path did not")


def _walk_back(came: dict[int, tuple[int, Judged]], state: int, start: int) -> tuple[Judged, ...]:
    steps: list[Judged] = []
    while state != start:
        state, judged = came[state]
        steps.append(judged)
    return tuple(reversed(steps))


def _no_order(tree: PieceTree, book: _Book, start: int) -> Order:
    """The dead end: of all states that can be reached, the one with fewest pieces left, and why nothing goes on."""
    came: dict[int, tuple[int, Judged]] = {}
    seen, queue = {start}, [start]
    for state in queue:
        for m in book.allowed(state):
            if m.move.after not in seen:
                seen.add(m.move.after)
                came[m.move.after] = (state, m)
                queue.append(m.move.after)
    dead = min(seen, key=lambda s: (s.bit_count(), s))
    refused = sorted(book.moves(dead), key=lambda m: (m.excess, -m.move.takes.bit_count()))
    return Order((), False, float("inf"), len(book.known), dead, tuple(refused), _walk_back(came, dead, start))
