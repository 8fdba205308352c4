"""What a cut may not do, and the judge that prices every move of the order search by those rules.

A move is allowed when, in at least the chosen share of the paired samples, every watched point stays under its limit
(what it carries now plus a floor, unless a limit was entered), what is left is held and moves no more than its
tolerance, and what leaves has a way out.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from bolewright.core.contact.actions import Array
from bolewright.core.contact.state import Bools, State, System, reach, rise_of_contacts, solve_states
from bolewright.core.contact.trial import Marks
from bolewright.core.cutting.handling import HandlingLimits, PieceFacts, Way, way_out
from bolewright.core.cutting.order import Judged, Move, PieceTree


ROUNDING = 1e-6  # of all the forces together: they are kept in single precision, and as much as now is not over


@dataclass(frozen=True)
class Rules:
    """share: of the samples that must stay inside. limit (n, B) [N]: per contact and sample, inf where not watched.
    building (n,) bool: contacts whose sum is the load on the building; total (B,) [N]: limit of that sum.
    tolerance (n,) [m]: how far the wood at each contact may move in one step."""

    share: float
    limit: Array
    building: Bools
    total: Array
    tolerance: Array

    def take(self, index: NDArray[np.int64]) -> Rules:
        """The same rules for fewer samples."""
        return replace(self, limit=self.limit[:, index], total=self.total[index])

    def of(self, which: NDArray[np.int64]) -> Rules:
        """The same rules for some of the contacts."""
        return replace(self, limit=self.limit[which], building=self.building[which], tolerance=self.tolerance[which])


@dataclass(frozen=True)
class Seen:
    """What the judge keeps of a solved state, in single precision: thousands of states fit in memory."""

    force: NDArray[np.float32]
    rise: NDArray[np.float32]
    held: Bools
    here: Bools
    marks: Marks


@dataclass
class Judge:
    """Prices moves. present (n,): contacts in place (props of the plan counted)."""

    system: System
    tree: PieceTree
    rules: Rules
    facts: PieceFacts
    limits: HandlingLimits
    present: Bools
    seen: dict[int, Seen] = field(default_factory=dict)
    ways: dict[int, Way] = field(default_factory=dict)

    def __call__(self, state: int, moves: list[Move]) -> list[Judged]:
        ways = [self.way(m.takes) for m in moves]
        self.solve([m.after for m, w in zip(moves, ways, strict=True) if not w.refused], near=state)
        before = self.state(state)
        load = self._building(before.force)
        likely = _middle(load)
        return [
            Judged(m, likely, 0.0, 0.0, "", w.refused) if w.refused else self._price(before, load, likely, m, w)
            for m, w in zip(moves, ways, strict=True)
        ]

    def state(self, bits: int) -> Seen:
        """The solved state with these pieces on."""
        self.solve([bits], near=self.tree.everything)
        return self.seen[bits]

    def way(self, takes: int) -> Way:
        """How these pieces leave."""
        if takes not in self.ways:
            pieces = pieces_of(takes)
            heavy = float(np.percentile(self.facts.mass[pieces].sum(axis=0), 95.0))
            self.ways[takes] = way_out(pieces, heavy, self.facts, self.limits)
        return self.ways[takes]

    def solve(self, wanted: list[int], near: int) -> None:
        """Solve the states not seen before, all in one run, guessing their contact sets from a state nearby."""
        new = [b for b in dict.fromkeys(wanted) if b not in self.seen]
        if not new:
            return
        for bits in [b for b in new if b in self.tree.ends]:
            self.seen[bits] = self._let_go()
        new = [b for b in new if b not in self.tree.ends]
        if not new:
            return
        guess = None if near not in self.seen else [self.seen[near].marks] * len(new)
        keeps = [bits_to_mask(b, len(self.tree.parent)) for b in new]
        for bits, answer in zip(new, solve_states(self.system, keeps, [self.present] * len(new), guess), strict=True):
            self.seen[bits] = _remember(self.system, answer)

    def _let_go(self) -> Seen:
        """An end state: what is left may stand up with its root plate, and no contact counts any more."""
        n, batch = self.system.gap.shape
        none = np.zeros((n, batch), dtype=np.float32)
        nowhere = np.zeros(n, dtype=bool)
        return Seen(none, none, np.ones(batch, dtype=bool), nowhere, np.full((n, batch), -1, dtype=np.int8))

    def _price(self, before: Seen, load: Array, likely: float, move: Move, way: Way) -> Judged:
        after = self.seen[move.after]
        peak = before.force + np.maximum(way.sudden * (after.force - before.force), 0.0)
        over = np.where(after.here[:, None], peak - self.rules.limit, -np.inf).max(axis=0, initial=-np.inf)
        both = after.here & before.here
        moved = np.abs(after.rise - before.rise)[both] - self.rules.tolerance[both, None]
        far = moved.max(axis=0, initial=-np.inf)
        change = self._building(after.force) - load
        highest = load + np.maximum(way.sudden * change, 0.0)
        over = np.maximum(over, highest - self.rules.total)
        over = over - ROUNDING * np.abs(before.force).sum(axis=0)
        good = after.held & (over <= 0.0) & (far <= 0.0)
        refused = self._refusal(good, after.held, over, far)
        exposure = likely * way.minutes
        excess = float(np.sort(np.maximum(over, 0.0))[min(int(self.rules.share * len(over)), len(over) - 1)])
        return Judged(move, _middle(highest), exposure, way.minutes, way.method, refused, excess, float(good.mean()))

    def _building(self, force: NDArray[np.float32]) -> Array:
        return np.asarray(force[self.rules.building].sum(axis=0), dtype=float)

    def _refusal(self, good: Bools, held: Bools, over: Array, far: Array) -> str:
        if good.mean() >= self.rules.share:
            return ""
        if held.mean() < self.rules.share:
            return "what is left would not be held"
        if (over <= 0.0).mean() <= (far <= 0.0).mean():
            return "a support would carry more than its limit"
        return "what is left would move more than its tolerance"


def _middle(values: Array) -> float:
    """The median."""
    half = len(values) // 2
    return float(np.partition(values, half)[half])


def _remember(system: System, answer: State) -> Seen:
    return Seen(
        force=answer.force.astype(np.float32),
        rise=np.where(answer.held, rise_of_contacts(system, answer), 0.0).astype(np.float32),
        held=answer.held if answer.keep.any() else np.ones_like(answer.held),
        here=reach(system, answer.keep, np.ones_like(answer.present)),
        marks=answer.marks,
    )


def pieces_of(bits: int) -> list[int]:
    """The piece numbers in a set of bits, lowest first.

    Plain: bits to numbers [-].
    """
    return [p for p in range(bits.bit_length()) if bits >> p & 1]


def bits_to_mask(bits: int, count: int) -> Bools:
    """(P,) true for the pieces in the bits.

    Plain: bits to marks.
    """
    return np.array([bool(bits >> p & 1) for p in range(count)], dtype=bool)
