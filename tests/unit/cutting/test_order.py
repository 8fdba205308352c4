"""The order search on trees of a few pieces whose best order is plain to see."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from bolewright.core.cutting.order import Asked, Judge, Judged, Move, PieceTree, find_order, moves_from

LOG = PieceTree((-1, 0, 1), butt_first=False)  # butt, middle, tip
FORK = PieceTree((-1, 0, 0), butt_first=False)  # a butt with two limbs


@dataclass(frozen=True)
class Priced:
    """A judge with a peak and minutes by what leaves (bits), refusing what is in `no`."""

    peaks: dict[int, float]
    minutes: dict[int, float]
    no: tuple[int, ...]

    def at_least(self, state: int, moves: list[Move]) -> list[Judged]:
        return [m for m in self.judged([(state, m) for m in moves]) if not m.refused]

    def judged(self, asked: Asked) -> list[Judged]:
        return [
            Judged(
                move=m,
                peak=self.peaks.get(m.takes, 0.0),
                exposure=10.0 * self.minutes.get(m.takes, 1.0),
                minutes=self.minutes.get(m.takes, 1.0),
                method="carry",
                refused="no" if m.takes in self.no else "",
                excess=float(m.takes),
            )
            for _, m in asked
        ]


def priced(peaks: dict[int, float], minutes: dict[int, float] | None = None, no: tuple[int, ...] = ()) -> Priced:
    return Priced(peaks, minutes or {}, no)


def taken(tree: PieceTree, judge: Judge, start_peak: float = 0.0) -> list[int]:
    return [s.move.takes for s in find_order(tree, judge, start_peak).steps]


def test_moves_of_a_log() -> None:
    """From the tips: the tip, tip and middle together, or all of it; with either side, the butt ends too."""
    beyond = LOG.beyond()
    assert beyond == (0b111, 0b110, 0b100)
    assert [m.takes for m in moves_from(LOG, beyond, 0b111)] == [0b110, 0b100, 0b111]
    both = PieceTree(LOG.parent)
    assert [m.takes for m in moves_from(both, beyond, 0b111)] == [0b110, 0b001, 0b100, 0b011, 0b111]


def test_what_stays_is_never_taken() -> None:
    stub = PieceTree((-1, 0, 1), stays=0b001)
    assert [m.takes for m in moves_from(stub, stub.beyond(), 0b111)] == [0b110, 0b100]
    assert taken(stub, priced({})) == [0b110]


def test_the_least_peak_comes_first_whatever_it_costs() -> None:
    """All at once loads the building with 900; piece by piece with 500 at most, in three times the minutes."""
    peaks = {0b111: 900.0, 0b110: 900.0, 0b100: 500.0, 0b010: 300.0, 0b011: 900.0, 0b001: 0.0}
    assert taken(LOG, priced(peaks)) == [0b100, 0b010, 0b001]


def test_below_the_load_it_carries_now_nothing_is_gained() -> None:
    """The building carries 1000 now, so 900 is no worse than 500, and one cut is quickest."""
    peaks = {0b111: 900.0, 0b100: 500.0}
    assert taken(LOG, priced(peaks), 1000.0) == [0b111]


def test_least_exposure_among_equal_peaks() -> None:
    """Two limbs, one slow while both are on: the cheaper order is taken, and the dear all-at-once one is not."""
    minutes = {0b010: 5.0, 0b100: 1.0, 0b001: 1.0, 0b111: 50.0, 0b011: 50.0, 0b101: 2.0}
    assert taken(FORK, priced({}, minutes)) in ([0b010, 0b101],)


def test_a_dead_end_names_where_and_why() -> None:
    """The middle cannot go, alone or with others: after the tip nothing may be cut."""
    order = find_order(LOG, priced({}, no=(0b010, 0b110, 0b111, 0b011)), 0.0)
    assert not order.found
    assert order.dead_end == 0b011
    assert [s.move.takes for s in order.steps_to_dead_end] == [0b100]
    assert [m.move.takes for m in order.dead_end_moves] == [0b010, 0b011]  # the nearest to being allowed first
    assert order.peak == float("inf")


def test_a_stub_may_be_good_enough() -> None:
    """The butt cannot leave, but as a stub on its plate it may stay: the order ends there."""
    no = (0b001, 0b011, 0b111)
    assert not find_order(LOG, priced({}, no=no), 0.0).found
    plate = PieceTree(LOG.parent, butt_first=False, ends=frozenset({0b001}))
    assert [s.move.takes for s in find_order(plate, priced({}, no=no), 0.0).steps] == [0b110]


def test_started_further_on() -> None:
    order = find_order(LOG, priced({}, no=(0b011,)), 0.0, start=0b011)
    assert [s.move.takes for s in order.steps] == [0b010, 0b001]


def test_nothing_to_do() -> None:
    stub = PieceTree((-1,), stays=0b1)
    order = find_order(stub, priced({}), 700.0)
    assert order.found
    assert order.steps == ()
    assert order.peak == pytest.approx(700.0)
