"""The search for an order of cuts: which pieces come off in which order, exactly.

A state is the set of pieces still on, always one connected part of the tree, written as the bits of an integer.
A move cuts one junction between two pieces and takes one side away. The judge of moves is handed in, so the search
knows nothing of forces.

Best order: first the least peak of the load on the building over all steps (a bottleneck), then the least exposure
(load on the building times minutes), then the least time. The first is a best-first search; the other two are a
shortest path among the moves that stay under that peak. Both settle every state once, so the answer is exact.

What a move costs at least is known before the state it leads to is solved, which is the dear part. So a move waits
with that, and is judged only when it comes to the front: states that only dear moves lead to are never solved.
Source: Dijkstra, Numerische Mathematik 1, 1959 (label setting; the bottleneck form is Pollack, Operations Research 8,
1960); judging late: Dellin & Srinivasa, A unifying formalism for shortest path problems with expensive edge
evaluations, ICAPS 2016.
    Checked by: tests/properties/test_order.py (every order of small trees tried).
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from itertools import count
from typing import NamedTuple, Protocol

PEAK_STEP = 0.01  # peaks closer together than this share of the start are alike
AHEAD = 128  # waiting moves judged together: solving many states in one run is cheaper than one by one


@dataclass(frozen=True)
class PieceTree:
    """Which piece carries which: parent[p] is the piece nearer the butt, -1 for the first. stays: pieces that are
    left at the end, as bits. butt_first: the butt side may be taken away too. ends: other states (bits) at which the
    work is done too, such as a stub that stands up with its root plate. waits: (pieces, others) as bits, pieces
    that are not taken while any of the others is on. near: where the work is done as soon as none of these is on,
    those pieces as bits; 0 where it goes on until all is off."""

    parent: tuple[int, ...]
    stays: int = 0
    butt_first: bool = True
    ends: frozenset[int] = frozenset()
    waits: tuple[tuple[int, int], ...] = ()
    near: int = 0

    def may_take(self, state: int, takes: int) -> bool:
        """Whether nothing among these pieces (bits) stays on or has to wait."""
        return not takes & self.stays and not any(takes & own and state & other for own, other in self.waits)

    def done(self, state: int) -> bool:
        """Whether nothing more is to be cut."""
        return state == self.stays or state in self.ends or self.clear(state)

    def clear(self, state: int) -> bool:
        """Whether the work ends here with wood still lying, none of it near what it is to be clear of."""
        return bool(self.near) and state != self.stays and not state & self.near

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


class Move(NamedTuple):
    """Cut piece `at` from its parent and take `takes` (bits) away, leaving `after`. at = -1: the last part is taken
    away whole, without a cut."""

    at: int
    takes: int
    after: int


class Judged(NamedTuple):
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


Asked = list[tuple[int, Move]]  # moves, each with the state it is made in
Cost = tuple[float, ...]
_Waiting = tuple[Cost, int, int, int, tuple[int, Move] | None]  # cost at least, pieces, state, turn, the move to it


class Judge(Protocol):
    """What prices moves."""

    def at_least(self, state: int, moves: list[Move]) -> list[Judged]:
        """What moves out of a state cost at least; those refused whatever they lead to are left out."""

    def judged(self, asked: Asked) -> list[Judged]:
        """What moves cost, and why they are refused."""


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

    The judge is asked once per move. start_peak [N]: the load on the building now, below which no order can keep the
    peak. progress is called with the number of states seen and may raise to cancel.
    Source: see the module.
    Checked by: tests/properties/test_order.py.
    """
    book = _Book(tree, judge, progress)
    begin = tree.everything if start is None else start
    least = _cheapest(book, begin, (start_peak,), lambda cost, m: (max(cost[0], m.peak),))
    if least is None:
        return _no_order(book, begin)
    under = least[0][0] * (1.0 + PEAK_STEP)
    best = _cheapest(book, begin, (0.0, 0.0), lambda cost, m: (cost[0] + m.exposure, cost[1] + m.minutes), under)
    assert best is not None, "the bottleneck search reached the end but the shortest path did not"
    return Order(best[1], True, max([start_peak, *(s.peak for s in best[1])]), len(book.known))


class _Book:
    """Moves of every state asked so far, and those judged."""

    def __init__(self, tree: PieceTree, judge: Judge, progress: Callable[[int], None] | None) -> None:
        self.tree, self.judge, self.progress = tree, judge, progress
        self.beyond = tree.beyond()
        self.known: dict[int, list[Judged]] = {}
        self.judged: dict[tuple[int, Move], Judged] = {}

    def at_least(self, state: int) -> list[Judged]:
        """The moves of a state that may be allowed."""
        if state not in self.known:
            self.known[state] = self.judge.at_least(state, self.moves(state))
            if self.progress is not None:
                self.progress(len(self.known))
        return self.known[state]

    def moves(self, state: int) -> list[Move]:
        """Every move of a state."""
        return list(moves_from(self.tree, self.beyond, state))

    def ask(self, asked: Asked) -> list[Judged]:
        """These moves judged, each once however often it is asked for."""
        new = [a for a in asked if a not in self.judged]
        for some in (new[i : i + AHEAD] for i in range(0, len(new), AHEAD)):
            self.judged.update(zip(some, self.judge.judged(some), strict=True))
        return [self.judged[a] for a in asked]


def _cheapest(
    book: _Book, start: int, first: Cost, add: Callable[[Cost, Judged], Cost], most: float = float("inf")
) -> tuple[Cost, tuple[Judged, ...]] | None:
    """Cost and steps of the cheapest way to the end among moves whose peak is no more than `most`; None without one.

    add(cost so far, move): the cost with that move, never less than without it.
    """
    costs: dict[int, Cost] = {}
    came: dict[int, tuple[int, Judged]] = {}
    number = count(1)
    heap: list[_Waiting] = [(first, start.bit_count(), start, 0, None)]
    while heap:
        cost, size, state, turn, by = heapq.heappop(heap)
        if state in costs:
            continue
        if by is not None:
            if by not in book.judged:
                heapq.heappush(heap, (cost, size, state, turn, by))
                book.ask(_foremost(heap, costs))
                continue
            judged = book.judged[by]
            if judged.refused or judged.peak > most:
                continue
            if (real := add(costs[by[0]], judged)) > cost:
                heapq.heappush(heap, (real, size, state, turn, by))
                continue
            came[state] = (by[0], judged)
        costs[state] = cost
        if book.tree.done(state):
            return cost, _walk_back(came, state, start)
        for m in book.at_least(state):
            after = m.move.after
            if after not in costs and m.peak <= most:
                heapq.heappush(heap, (add(cost, m), after.bit_count(), after, next(number), (state, m.move)))
    return None


def _foremost(heap: list[_Waiting], costs: dict[int, Cost]) -> Asked:
    """The moves next in turn that lead to states not settled yet."""
    front = [heapq.heappop(heap) for _ in range(min(AHEAD, len(heap)))]
    for waiting in front:
        heapq.heappush(heap, waiting)
    return [by for _, _, state, _, by in front if by is not None and state not in costs]


def _walk_back(came: dict[int, tuple[int, Judged]], state: int, start: int) -> tuple[Judged, ...]:
    steps: list[Judged] = []
    while state != start:
        state, judged = came[state]
        steps.append(judged)
    return tuple(reversed(steps))


def _no_order(book: _Book, start: int) -> Order:
    """The dead end: of all states that can be reached, the one with fewest pieces left, and why nothing goes on."""
    came: dict[int, tuple[int, Judged]] = {}
    seen, row = {start}, [start]
    while row:  # states as many moves from the start
        asked = [(state, m.move) for state in row for m in book.at_least(state)]
        row = []
        for (state, _), m in zip(asked, book.ask(asked), strict=True):
            if not m.refused and m.move.after not in seen:
                seen.add(m.move.after)
                came[m.move.after] = (state, m)
                row.append(m.move.after)
    dead = min(seen, key=lambda s: (s.bit_count(), s))
    refused = book.ask([(dead, m) for m in book.moves(dead)])
    refused.sort(key=lambda m: (m.excess, -m.move.takes.bit_count()))
    return Order((), False, float("inf"), len(book.known), dead, tuple(refused), _walk_back(came, dead, start))
