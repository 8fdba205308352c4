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
from bolewright.core.cutting.order import Judged, Move, PieceTree, moves_from
from bolewright.core.cutting.pricing import Rules, Seen, building_load, middle, price_moves

HEAVY_SHARE = 0.95  # of the samples lie below what counts as the heavy end


@dataclass
class Judge:
    """Prices moves. present (n,): contacts in place (props of the plan counted). ahead: states solved in one run at
    least, by looking at what can follow."""

    system: System
    tree: PieceTree
    rules: Rules
    facts: PieceFacts
    limits: HandlingLimits
    present: Bools
    seen: dict[int, Seen] = field(default_factory=dict)
    ways: dict[int, Way] = field(default_factory=dict)
    ahead: int = 0

    def __call__(self, state: int, moves: list[Move]) -> list[Judged]:
        ways = [self.way(m.takes) for m in moves]
        self.solve([m.after for m, w in zip(moves, ways, strict=True) if not w.refused], near=state)
        before = self.state(state)
        likely = middle(building_load(self.rules, before.force))
        open_moves = [(m, w) for m, w in zip(moves, ways, strict=True) if not w.refused]
        open_moves += [(m, g) for m, w in open_moves if (g := self.gentle_way(m.takes, w)) is not None]
        priced = price_moves(
            self.rules,
            before,
            [self.seen[m.after] for m, _ in open_moves],
            [m for m, _ in open_moves],
            [w for _, w in open_moves],
        )
        best: dict[Move, Judged] = {}
        for judged in priced:  # the quick way where it is allowed, else the gentle one
            if judged.move not in best or (best[judged.move].refused and not judged.refused):
                best[judged.move] = judged
        return [
            Judged(m, likely, 0.0, 0.0, "", w.refused) if w.refused else best[m]
            for m, w in zip(moves, ways, strict=True)
        ]

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
        self.solve([bits], near=self.tree.everything)
        return self.seen[bits]

    def way(self, takes: int) -> Way:
        """How these pieces leave."""
        if takes not in self.ways:
            self.ways[takes] = way_out(pieces_of(takes), self._heavy(takes), self.facts, self.limits)
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
        new += self._next(new)
        guess = None if near not in self.seen else [self.seen[near].marks] * len(new)
        keeps = [bits_to_mask(b, len(self.tree.parent)) for b in new]
        for bits, answer in zip(new, solve_states(self.system, keeps, [self.present] * len(new), guess), strict=True):
            self.seen[bits] = _remember(self.system, answer)

    def _next(self, new: list[int]) -> list[int]:
        """States that can follow the new ones, enough to make one run of solves worth its while."""
        found: dict[int, None] = dict.fromkeys(new)
        queue, beyond = list(new), self.tree.beyond()
        for bits in queue:  # grows while it is walked
            for move in moves_from(self.tree, beyond, bits):
                if len(found) >= self.ahead:
                    return list(found)[len(new) :]
                known = move.after in self.seen or move.after in self.tree.ends or move.after in found
                if not known and not self.way(move.takes).refused:
                    found[move.after] = None
                    queue.append(move.after)
        return list(found)[len(new) :]

    def _let_go(self) -> Seen:
        """An end state: what is left may stand up with its root plate, and no contact counts any more."""
        n, batch = self.system.gap.shape
        none = np.zeros((n, batch), dtype=np.float32)
        nowhere = np.zeros(n, dtype=bool)
        return Seen(none, none, np.ones(batch, dtype=bool), nowhere, np.full((n, batch), -1, dtype=np.int8))


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


def mask_to_bits(mask: Bools) -> int:
    """The bits of the pieces marked (P,).

    Plain: marks to bits.
    """
    return sum(1 << int(p) for p in np.flatnonzero(mask))


__all__ = ["Judge", "Rules", "Seen", "bits_to_mask", "mask_to_bits", "pieces_of"]
