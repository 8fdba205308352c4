"""The judge of moves on a log whose forces anyone can work out with the lever."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from tests.references.contact_engine import NONE, push_up, system_of, wood

from bolewright.core.contact.state import System
from bolewright.core.cutting.handling import HandlingLimits, PieceFacts
from bolewright.core.cutting.judge import Judge, Rules, bits_to_mask, pieces_of
from bolewright.core.cutting.order import Judged, Move, PieceTree

# A level log of 6 m, 1 kN/m, on a post at the butt and a roof at 4 m; the last metre is a piece of its own.
# Whole: roof 6 x 3 / 4 = 4.5 kN, post 1.5 kN. Without the last metre: roof 5 x 2.5 / 4 = 3.125, post 1.875 kN.
POST, ROOF, ROLL = 0, 1, 2
GIVE = 1e-5
OFF = Move(at=1, takes=0b10, after=0b01)
BUTT_OFF = Move(at=1, takes=0b01, after=0b10)
WHOLE = 0b11


def log(factors: list[float]) -> System:
    """The log with its weight times each factor, one a sample."""
    points = [[0, 0, 0], [4, 0, 0], [5, 0, 0], [6, 0, 0]]
    assembly = wood(points[:-1], points[1:], [-1, 0, 1], [5e6] * 3, [1e12] * 3, [4000.0, 1000.0, 1000.0], 1e10)
    contacts = [
        push_up(-1, NONE, GIVE, id="post"),
        push_up(0, [4, 0, 0], GIVE, id="roof", building=True),
        push_up(-1, NONE, 1e-8, low=-np.inf, force=NONE, couple=np.array([1.0, 0, 0]), normal=NONE),
    ]
    system = system_of(assembly, contacts, [0.0] * 3, 1e10, None, np.array([0, 0, 1]))
    count = len(factors)
    samples = replace(
        system.samples,
        mass=np.tile(factors, (5, 1)),
        flex=np.ones(count),
        give=np.repeat(system.samples.give, count, axis=1),
        misfit=np.zeros((3, count)),
    )
    return replace(system, samples=samples, gap=np.zeros((3, count)))


def judge(
    factors: list[float] | None = None,
    limit: dict[int, float] | None = None,
    total: float = np.inf,
    tolerance: float = np.inf,
    share: float = 0.9,
    crane: bool = False,
    ends: frozenset[int] = frozenset(),
) -> Judge:
    """A judge with limits on single contacts, on the building in all, and on movement."""
    factors = factors or [1.0]
    count = len(factors)
    most = np.full((3, count), np.inf)
    for contact, force in (limit or {}).items():
        most[contact] = force
    rules = Rules(share, most, np.array([False, True, False]), np.full(count, total), np.full(3, tolerance))
    facts = PieceFacts(
        mass=np.outer([509.9, 102.0], factors),
        over_building=np.array([False, False]),
        over_protected=np.array([False, False]),
        air=np.array([1.0, 1.0]),
        cut_diameter=np.array([0.5, 0.5]),
    )
    limits = HandlingLimits(drop=0.0, roll=0.0, crane=900.0) if crane else HandlingLimits(drop=900.0, roll=0.0)
    return Judge(log(factors), PieceTree((-1, 0), ends=ends), rules, facts, limits, np.ones(3, dtype=bool))


def price(by: Judge, move: Move = OFF) -> Judged:
    return by(WHOLE, [move])[0]


@pytest.mark.parametrize(("crane", "peak"), [(False, 1500 + 2 * 375), (True, 1875.0)])
def test_a_sudden_release_counts_twice(crane: bool, peak: float) -> None:
    """A piece let go all at once: the post gets twice the 375 N it will keep (a load that comes on suddenly doubles,
    Timoshenko & Young 1965). On a crane's hook, which takes the weight first, once. The limit is met within 1 N."""
    assert not price(judge(limit={POST: peak + 1.0}, crane=crane)).refused
    over = price(judge(limit={POST: peak - 1.0}, crane=crane))
    assert over.refused == "a support would carry more than its limit"
    assert over.excess == pytest.approx(1.0, abs=0.01)  # forces are kept to seven digits


def test_relief_is_not_counted_as_a_peak() -> None:
    """The roof goes from 4.5 to 3.125 kN: its peak is what it carries already, not that less twice the change."""
    priced = price(judge())
    assert priced.peak == pytest.approx(4500.0, rel=1e-6)
    assert priced.exposure == pytest.approx(4500.0 * priced.minutes, rel=1e-6)


def test_what_it_carries_now_is_allowed_with_no_floor() -> None:
    """A cut that puts nothing on the building may be made when the building may carry exactly what it carries now."""
    factors = np.linspace(0.9, 1.1, 41) * np.pi / 3.0
    now = 4500.0 * factors
    by = judge(factors.tolist())
    rules = replace(by.rules, limit=np.stack([np.full(41, np.inf), now, np.full(41, np.inf)]), total=now)
    priced = price(replace(by, rules=rules))
    assert priced.refused == ""
    assert priced.good == 1.0


def test_the_building_in_all_has_its_limit() -> None:
    assert not price(judge(total=4501.0)).refused
    assert price(judge(total=4499.0)).refused == "a support would carry more than its limit"


@pytest.mark.parametrize(("tolerance", "refused"), [(0.0139, ""), (0.0136, "what is left would move more than its")])
def test_movement_is_that_of_the_wood_at_the_supports(tolerance: float, refused: str) -> None:
    """The roof springs back by its give times 1.375 kN: 13.75 mm."""
    assert price(judge(tolerance=tolerance)).refused.startswith(refused)
    assert bool(price(judge(tolerance=tolerance)).refused) == bool(refused)


def test_the_share_of_samples_that_must_stay_inside() -> None:
    """Ten samples 1 to 10 % heavier; the post's limit is passed by the two heaviest: 80 % are inside."""
    factors = [1.0 + 0.01 * i for i in range(1, 11)]
    limit = {POST: 2250.0 * 1.085}
    assert price(judge(factors, limit, share=0.8)).refused == ""
    assert price(judge(factors, limit, share=0.9)).refused
    assert price(judge(factors, limit)).good == pytest.approx(0.8)


def test_wood_left_with_nothing_under_it() -> None:
    """The butt side taken away: the last metre has no support."""
    assert price(judge(), BUTT_OFF).refused == "what is left would not be held"


def test_no_way_out_is_a_refusal_without_a_price() -> None:
    by = judge()
    by.limits = HandlingLimits(drop=50.0, roll=0.0)
    priced = price(by)
    assert "more than any way out" in priced.refused
    assert priced.method == ""


def test_the_end_of_the_work_asks_nothing_more() -> None:
    """A stub that may stand up with its plate: what its contacts would carry no longer counts."""
    assert price(judge(), BUTT_OFF).refused
    assert not price(judge(ends=frozenset({0b10})), BUTT_OFF).refused


def test_moves_together_are_moves_apart() -> None:
    """Priced in one go or one by one, and asked twice, a move costs the same."""
    together = judge()(WHOLE, [OFF, BUTT_OFF, Move(-1, WHOLE, 0)])
    by = judge()
    apart = [price(by, m.move) for m in together]
    for a, b in zip(together, apart, strict=True):
        assert (a.refused, a.method, a.minutes) == (b.refused, b.method, b.minutes)
        assert a.peak == pytest.approx(b.peak, rel=1e-6)
    assert price(by) == apart[0]


def test_bits_and_pieces() -> None:
    assert pieces_of(0b101101) == [0, 2, 3, 5]
    assert bits_to_mask(0b101, 4).tolist() == [True, False, True, False]


def test_rules_for_fewer_samples() -> None:
    rules = judge([1.0, 1.1, 1.2]).rules
    some = rules.take(np.array([2]))
    assert some.limit.shape == (3, 1)
    assert some.total.shape == (1,)
