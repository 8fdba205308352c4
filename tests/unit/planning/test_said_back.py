"""What does not get out is a limit on the cut order itself where wood cannot be cut again on the ground."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from bolewright import planning
from bolewright.core.base.errors import BadInput
from bolewright.planning.holding.body import body_of
from bolewright.planning.passage.ways import passing
from bolewright.planning.weigh import weigh

from .out_jobs import WHOLE, job

LEFT = "left on its root plate"
NOT_AGAIN = ("owner_told = true", "owner_told = true\ncut_again = false")
WEAK = ("310 kg", "150 kg")


def test_no_limit_where_wood_is_cut_again() -> None:
    """The piece list is the crew's own then."""
    free = job(WHOLE, WEAK)
    assert passing(free) is None
    assert body_of(free).limits.heaviest == math.inf
    assert len(weigh(free).pieces) == 4


def test_the_piece_list_is_cut_shorter() -> None:
    """Four pieces of 278 kg, up to a tenth more, at 150 kg a trip: each in three, in equal lengths where no support is
    nearer than a saw needs (those at 2 ft and 18 ft are)."""
    own = job(WHOLE, WEAK, NOT_AGAIN)
    limit = passing(own)
    assert limit is not None
    assert limit.heaviest == pytest.approx(150.0)
    pieces = weigh(own).pieces
    assert len(pieces) == 12
    assert [piece.end_m - piece.start_m for piece in pieces[3:9]] == pytest.approx([1.524 / 3] * 6, abs=1e-6)
    for place in (2 * 0.3048, 18 * 0.3048):
        assert min(abs(piece.end_m - place) for piece in pieces) >= 0.25 - 1e-9
    assert all(piece.wood_kg.high <= 150.0 for piece in pieces)
    result = planning.out(own)
    assert result.shorter == ()
    assert not any("cut again" in reason for reason in result.outside)


def test_rounds_that_are_split_may_be_heavier() -> None:
    """On a machine that takes 100 kg a piece of 278 kg, up to a tenth more, comes off in four lengths. Rounds of
    5 ft split in four need no cut, and weigh a quarter each. Longer ones than the job says are cut as before.
    """
    light = (("310 kg", "100 kg"), NOT_AGAIN)
    splits = ("cut_again = false", 'cut_again = false\nsplits = "5 ft"')
    own = job(WHOLE, *light, splits)
    limit = passing(own)
    assert limit is not None
    assert (limit.heaviest, limit.in_split, limit.split) == pytest.approx((100.0, 400.0, 1.524))
    assert "or 400 kg (882 lb) in rounds up to 1.52 m (5 ft) long, split along the grain in four" in limit.words
    assert len(weigh(job(WHOLE, *light)).pieces) >= 16
    assert len(weigh(own).pieces) == 4
    result = planning.out(own)
    assert {(one.parts, one.rounds, one.split) for one in result.pieces} == {(4, 1, True)}
    assert all("split it along the grain into 4" in one.sentence for one in result.shorter)
    assert not any("where it lands" in reason for reason in result.outside)
    assert "16 trips" in next(step.why for step in result.steps if step.step == "move")
    assert len(weigh(job(WHOLE, *light, (splits[0], splits[1].replace("5 ft", "4 ft")))).pieces) > 4


def test_splitting_that_is_not_said_is_told() -> None:
    """A gate of 18 in and a log of 20 in: it fits in parts only, and nothing says that it is split."""
    gate = ("[[access.leg]]", '[[access.gate]]\nid = "gate"\nwidth = "18 in"\n[[access.leg]]')
    narrow = ('width = "30 in"', 'width = "16 in"')
    told = planning.out(job(WHOLE, NOT_AGAIN, gate, narrow)).outside
    assert any("would have to be split along the grain where it lands" in reason for reason in told)
    own = job(WHOLE, NOT_AGAIN, gate, narrow, ("cut_again = false", 'cut_again = false\nsplits = "5 ft"'))
    assert not any("where it lands" in reason for reason in planning.out(own).outside)


def test_the_order_obeys(root: Path) -> None:
    """The garage example with a small tracked carrier: no step takes off more logs at once than it carries."""
    text = (root / "examples" / "garage-oak.toml").read_text(encoding="utf-8")
    changes = (
        ('payload = "600 lb"', 'payload = "1200 lb"'),
        ("[limits]\n", "[limits]\nsamples = 64\n"),
        ("pushed = true", 'runs_on = "tracks"'),
    )
    own = job(text, *changes, NOT_AGAIN)
    limit = passing(own)
    assert limit is not None
    cut = planning.cuts(own)
    assert cut.status == "plan"
    logs = {piece.id: piece.wood_kg.high for piece in weigh(own).pieces if piece.diameter_start_m > limit.chipped}
    taken = [sum(logs.get(name, 0.0) for name in step.takes) for step in cut.chosen.steps if step.method != LEFT]
    assert 0.0 < max(taken) <= limit.heaviest * 1.02  # ends of ranges add up to a little more than the range of the sum
    free = planning.out(job(text, *changes))
    assert max(one.log_kg.high for one in free.pieces) > limit.heaviest
    assert not any("cut again" in reason for reason in planning.out(own, cut).outside)


def test_a_step_that_would_take_two_pieces_is_refused_in_words() -> None:
    """Rolling 1,000 kg off is allowed, 310 kg gets out: the cut in the middle would take two pieces of 278 kg."""
    text = WHOLE.replace(*NOT_AGAIN) + '\n[handling]\nroll = "1000 kg"\n[limits]\nsamples = 32\n'
    cut = planning.cuts(job(text))
    refused = [row.why for row in cut.next_cuts if len(row.takes) > 1]
    assert refused
    assert all("cannot be cut again where they land: the limit is 310 kg (683 lb)" in why for why in refused)
    free = planning.cuts(job(text.replace("cut_again = false", "cut_again = true")))
    assert any(row.allowed for row in free.next_cuts if len(row.takes) > 1)


def test_more_pieces_than_an_order_can_be_looked_for_among() -> None:
    """By hand, 80 lb each: a log of 40 ft would come off in more than twenty pieces."""
    with pytest.raises(BadInput, match="let wood be cut again where it lands") as caught:
        weigh(job(WHOLE, ("310 kg", "20 kg"), ('at = "20 ft"', 'at = "40 ft"'), NOT_AGAIN))
    assert caught.value.path == "access.cut_again"
