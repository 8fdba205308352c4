"""What a cut may not do, and the judge that prices every move of the order search by those rules.

A move is allowed when, in at least the chosen share of the paired samples, every watched point stays under its limit
(what it carries now plus a floor, unless a limit was entered), what is left is held and moves no more than its
tolerance, and what leaves has a way out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from bolewright.core.contact.state import Bools, State, System, reach, rise_of_contacts, solve_states
from bolewright.core.cutting.handling import HandlingLimits, PieceFacts, Way, way_out
from bolewright.core.cutting.order import Asked, Judged, Move, PieceTree
from bolewright.core.cutting.pricing import Rules, Seen, building_load, middle, price_moves

HEAVY_SHARE = 0.95  # of the samples lie below what counts as the heavy end


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
        """Moves out of one state, priced."""
        return self.judged([(state, m) for m in moves])

    def at_least(self, state: int, moves: list[Move]) -> list[Judged]:
        """What the moves that have a way out cost by the quickest, whatever they lead to."""
        likely = self._likely(state)
        ways = [(m, w) for m in moves if not (w := self.way(m.takes)).refused]
        return [Judged(m, likely, likely * w.minutes, w.minutes, w.method) for m, w in ways]

    def judged(self, asked: Asked) -> list[Judged]:
        """Moves out of any states, priced in one go: the quick way where it is allowed, else the gentle one."""
        self.solve([(state, self.tree.everything) for state, _ in asked])
        ways = [(state, m, self.way(m.takes)) for state, m in asked]
        go = [(state, m, w) for state, m, w in ways if not w.refused]
        self.solve([(m.after, state) for state, m, _ in go])
        go += [(state, m, g) for state, m, w in go if (g := self.gentle_way(m.takes, w)) is not None]
        priced = price_moves(
            self.rules,
            [self.seen[state] for state, _, _ in go],
            [self.seen[m.after] for _, m, _ in go],
            [m for _, m, _ in go],
            [w for _, _, w in go],
        )
        best = {(s, m): Judged(m, self._likely(s), 0.0, 0.0, "", w.refused) for s, m, w in ways if w.refused}
        for (state, m, _), judged in zip(go, priced, strict=True):
            if (state, m) not in best or (best[state, m].refused and not judged.refused):
                best[state, m] = judged
        return [best[a] for a in asked]

    def _likely(self, state: int) -> float:
        """Likely load on the building in a state [N]."""
        return float(middle(building_load(self.rules, self.state(state).force)))

    def gentle_way(self, takes: int, quick: Way) -> Way | None:
        """A way out that lets go more gently than the quick one; None when there is none."""
        if quick.sudden <= 1.0 or self.limits.crane <= 0.0:
            return None
        way = way_out(pieces_of(takes), self._heavy(takes), self.facts, self.limits, gentle=True)
        return way if way.sudden < quick.sudden and not way.refused else None

    def _heavy(self, takes: int) -> float:
        """Heavy end of what the pieces weigh together [kg]."""
        mass = self.facts.mass[pieces_of(takes)].sum(axis=0)
        heavy = math.ceil(HEAVY_SHARE * (len(mass) - 1))
        return float(np.partition(mass, heavy)[heavy])

    def state(self, bits: int) -> Seen:
        """The solved state with these pieces on."""
        self.solve([(bits, self.tree.everything)])
        return self.seen[bits]

    def way(self, takes: int) -> Way:
        """How these pieces leave."""
        if takes not in self.ways:
            self.ways[takes] = way_out(pieces_of(takes), self._heavy(takes), self.facts, self.limits)
        return self.ways[takes]

    def solve(self, wanted: list[tuple[int, int]]) -> None:
        """Solve states not seen before, all in one run. Each comes with a state nearby, where its search begins."""
        new: dict[int, int] = {}
        for bits, near in wanted:
            if bits in self.tree.ends:
                self.seen.setdefault(bits, self._let_go())
            elif bits not in self.seen:
                new.setdefault(bits, near)
        if not new:
            return
        known = all(near in self.seen for near in new.values())
        guess = [self.seen[near].marks for near in new.values()] if known else None
        keeps = [bits_to_mask(bits, len(self.tree.parent)) for bits in new]
        for bits, answer in zip(new, solve_states(self.system, keeps, [self.present] * len(new), guess), strict=True):
            self.remember(bits, answer)

    def remember(self, bits: int, state: State) -> None:
        """Keep a solved state with these pieces on, so that it need not be solved again."""
        self.seen[bits] = self._let_go() if bits in self.tree.ends else _kept(self.system, state)

    def _let_go(self) -> Seen:
        """An end state: what is left may stand up with its root plate, and no contact counts any more."""
        n, batch = self.system.gap.shape
        none = np.zeros((n, batch), dtype=np.float32)
        nowhere = np.zeros(n, dtype=bool)
        return Seen(none, none, np.ones(batch, dtype=bool), nowhere, np.full((n, batch), -1, dtype=np.int8))


def _kept(system: System, answer: State) -> Seen:
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


def mask_to_bits(mask: Bools) -> int:
    """The bits of the pieces marked (P,).

    Plain: marks to bits.
    """
    return sum(1 << int(p) for p in np.flatnonzero(mask))


__all__ = ["Judge", "Rules", "Seen", "bits_to_mask", "mask_to_bits", "pieces_of"]
