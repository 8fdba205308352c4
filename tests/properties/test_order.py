"""The search for an order against trying every order there is, on small trees."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.properties.small_trees import small_judge

from bolewright.core.cutting.judge import Judge
from bolewright.core.cutting.order import PEAK_STEP, Asked, Judged, Move, Order, PieceTree, find_order, moves_from

SEEDS = st.integers(0, 2**31)


@dataclass(frozen=True)
class Toy:
    """A judge that prices moves by chance: whole numbers, so that sums are exact; the same for the same seed. What it
    tells beforehand is anything from nothing to the whole price."""

    seed: int
    refuse: float

    def __call__(self, state: int, moves: list[Move]) -> list[Judged]:
        return [self._price(state, m) for m in moves]

    def judged(self, asked: Asked) -> list[Judged]:
        return [self._price(state, m) for state, m in asked]

    def at_least(self, state: int, moves: list[Move]) -> list[Judged]:
        return [told for m in moves if not (told := self._told(state, m)).refused]

    def _told(self, state: int, move: Move) -> Judged:
        rng, real = np.random.default_rng([self.seed, state, move.takes, 1]), self._price(state, move)
        told = (float(rng.integers(0, most + 1)) for most in (real.peak, real.exposure, real.minutes))
        refused = real.refused if rng.random() < 0.5 else ""
        return Judged(move, *told, "", refused)

    def _price(self, state: int, move: Move) -> Judged:
        rng = np.random.default_rng([self.seed, state, move.takes])
        refused = "chance" if rng.random() < self.refuse else ""
        peak, exposure, minutes = (float(rng.integers(low, high)) for low, high in ((0, 30), (0, 4), (1, 4)))
        return Judged(move, 100.0 * peak, exposure, minutes, "toy", refused, excess=float(rng.integers(0, 9)))


def random_tree(seed: int, count: int, butt_first: bool) -> PieceTree:
    """Pieces each growing from an earlier one, sometimes with a stub that stays, states that are good enough, or some
    pieces without which all is done."""
    rng = np.random.default_rng(seed)
    parent = (-1, *(int(rng.integers(0, p)) for p in range(1, count)))
    stays = 1 if rng.random() < 0.3 else 0
    ends = frozenset({0b11}) if count > 3 and rng.random() < 0.3 and parent[1] == 0 and not stays else frozenset()
    near = int(rng.integers(1, 1 << count)) if rng.random() < 0.3 else 0
    return PieceTree(parent, stays, butt_first, ends, near=near)


def every_order(tree: PieceTree, judge: Toy | Judge, state: int) -> Iterator[tuple[Judged, ...]]:
    """Every allowed order from a state to the end, by trying everything."""
    if tree.done(state):
        yield ()
        return
    for judged in judge(state, list(moves_from(tree, tree.beyond(), state))):
        if not judged.refused:
            for rest in every_order(tree, judge, judged.move.after):
                yield (judged, *rest)


def reached(tree: PieceTree, judge: Toy | Judge, state: int) -> set[int]:
    """Every state that allowed moves lead to."""
    seen, queue = {state}, [state]
    for now in queue:
        for judged in judge(now, list(moves_from(tree, tree.beyond(), now))):
            if not judged.refused and judged.move.after not in seen:
                seen.add(judged.move.after)
                queue.append(judged.move.after)
    return seen


def best_of_all(orders: list[tuple[Judged, ...]], start_peak: float) -> tuple[float, float, float]:
    """Least peak, then least exposure and minutes among the orders within PEAK_STEP of it."""
    peaks = [max([start_peak, *(s.peak for s in order)]) for order in orders]
    least = min(peaks)
    alike = [o for o, p in zip(orders, peaks, strict=True) if p <= least * (1.0 + PEAK_STEP)]
    return (least, *min((sum(s.exposure for s in o), sum(s.minutes for s in o)) for o in alike))


def check(
    tree: PieceTree, judge: Toy | Judge, start_peak: float, found: Order, orders: list[tuple[Judged, ...]]
) -> None:
    """What the search says is what trying everything says."""
    assert found.found == bool(orders)
    if not orders:
        states = reached(tree, judge, tree.everything)
        assert found.dead_end in states
        assert found.dead_end.bit_count() == min(s.bit_count() for s in states)
        assert found.dead_end_moves
        assert all(m.refused for m in found.dead_end_moves)
        assert ([tree.everything, *(s.move.after for s in found.steps_to_dead_end)])[-1] == found.dead_end
        return
    least, exposure, minutes = best_of_all(orders, start_peak)
    assert least <= found.peak <= least * (1.0 + PEAK_STEP)
    got = (sum(s.exposure for s in found.steps), sum(s.minutes for s in found.steps))
    assert got == pytest.approx((exposure, minutes), rel=1e-12)
    state = tree.everything
    for step in found.steps:  # the order can really be walked
        assert step.move in list(moves_from(tree, tree.beyond(), state))
        state = step.move.after
    assert tree.done(state)


@settings(max_examples=120)
@given(seed=SEEDS, count=st.integers(1, 5), refuse=st.floats(0.0, 0.8), start=st.floats(0.0, 3000.0))
def test_both_sides_may_leave(seed: int, count: int, refuse: float, start: float) -> None:
    """Up to five pieces where either side of a cut may be taken away: the best order is the best of all."""
    tree, judge = random_tree(seed, count, True), Toy(seed, refuse)
    check(tree, judge, start, find_order(tree, judge, start), list(every_order(tree, judge, tree.everything)))


@settings(max_examples=60)
@given(seed=SEEDS, count=st.integers(6, 7), refuse=st.floats(0.2, 0.8), start=st.floats(0.0, 3000.0))
def test_up_to_seven_pieces_from_the_tips(seed: int, count: int, refuse: float, start: float) -> None:
    """Six and seven pieces, cut from the tips inward: thousands of orders, all tried."""
    tree, judge = random_tree(seed, count, False), Toy(seed, refuse)
    check(tree, judge, start, find_order(tree, judge, start), list(every_order(tree, judge, tree.everything)))


@given(seed=SEEDS, count=st.integers(1, 9))
def test_every_state_is_one_piece_of_wood(seed: int, count: int) -> None:
    """Whatever is taken, what is left hangs together and what leaves does too, and between them nothing is lost."""
    tree = random_tree(seed, count, True)
    for state in reached(tree, Toy(seed, 0.0), tree.everything):
        for move in moves_from(tree, tree.beyond(), state):
            assert move.takes & move.after == 0
            assert move.takes | move.after == state
            assert connected(tree, move.takes)
            assert connected(tree, move.after)
            assert not move.takes & tree.stays


def connected(tree: PieceTree, bits: int) -> bool:
    """Nothing, or pieces of which exactly one has its parent elsewhere."""
    own = [p for p in range(len(tree.parent)) if bits >> p & 1]
    return not own or sum(1 for p in own if tree.parent[p] < 0 or not bits >> tree.parent[p] & 1) == 1


@given(seed=SEEDS, count=st.integers(2, 7), refuse=st.floats(0.0, 0.6))
def test_the_same_twice_and_asked_once(seed: int, count: int, refuse: float) -> None:
    """The same order every time, no state asked of and no move priced twice, and progress told of every state."""
    tree, told = random_tree(seed, count, True), list[int]()
    counting = Counting(seed, refuse)
    first = find_order(tree, counting, 50.0, told.append)
    assert len(counting.states) == len(set(counting.states)) == first.states_seen == len(told)
    assert len(counting.priced) == len(set(counting.priced))
    assert find_order(tree, Toy(seed, refuse), 50.0) == first


@given(seed=SEEDS, count=st.integers(2, 6), refuse=st.floats(0.0, 0.6))
def test_knowing_the_price_beforehand_changes_nothing(seed: int, count: int, refuse: float) -> None:
    """A judge that tells the whole price at once, as a search that judges every move would have it: the same answer."""
    tree = random_tree(seed, count, True)
    late, early = (find_order(tree, judge, 50.0) for judge in (Toy(seed, refuse), Early(seed, refuse)))
    assert late.steps == early.steps
    assert (late.found, late.peak, late.dead_end) == (early.found, early.peak, early.dead_end)


class Early(Toy):
    """Knows every price beforehand."""

    def _told(self, state: int, move: Move) -> Judged:
        return self._price(state, move)


@dataclass(frozen=True)
class Counting(Toy):
    """Remembers what it was asked."""

    states: list[int] = field(default_factory=list)
    priced: Asked = field(default_factory=list)

    def at_least(self, state: int, moves: list[Move]) -> list[Judged]:
        self.states.append(state)
        return super().at_least(state, moves)

    def judged(self, asked: Asked) -> list[Judged]:
        self.priced.extend(asked)
        return super().judged(asked)


@given(seed=SEEDS, count=st.integers(3, 6))
def test_from_a_later_state(seed: int, count: int) -> None:
    """Started further on, the search finds what the best of all orders from there is."""
    tree, toy = random_tree(seed, count, False), Toy(seed, 0.2)
    for judged in toy(tree.everything, list(moves_from(tree, tree.beyond(), tree.everything))):
        start = judged.move.after
        found = find_order(tree, toy, 10.0, start=start)
        orders = list(every_order(tree, toy, start))
        assert found.found == bool(orders)
        if orders:
            assert found.peak <= best_of_all(orders, 10.0)[0] * (1.0 + PEAK_STEP)


def test_cancel_is_heard() -> None:
    """Whoever watches the progress may stop the search."""

    def stop(_: int) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        find_order(PieceTree((-1, 0)), Toy(1, 0.0), 0.0, stop)


@settings(max_examples=12)
@given(seed=st.integers(0, 10_000))
def test_with_the_real_judge_on_real_wood(seed: int) -> None:
    """Random forked trees of up to six pieces on a roof and the ground, priced by the real forces: the best order, or
    that there is none, as by trying every order."""
    judge = small_judge(seed)
    load = float(np.median(judge.state(judge.tree.everything).force[judge.rules.building].sum(axis=0)))
    found = find_order(judge.tree, judge, load)
    check(judge.tree, judge, load, found, list(every_order(judge.tree, judge, judge.tree.everything)))
