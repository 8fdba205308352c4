"""Line, block, hand and slings under pieces of a plan, against sums done by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from tests.functional.results import cut

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range
from bolewright.planning.haul.results import Held
from bolewright.planning.haul.rigging import lifts_out
from bolewright.planning.results import CutsResult

from .out_jobs import WHOLE, job

POUND = 4.4482216152605
WEIGHT = 110.0 * 9.80665  # N, the piece of the made-up plan at its heaviest
GEAR = '\n[rigging]\nrope = "12000 lbf"\nrope_end = "splice"\n'


def plan(method: str) -> CutsResult:
    """A made-up plan with one piece that leaves by a method."""
    made = cut()
    steps = tuple(replace(step, method=method) for step in made.chosen.steps)
    return replace(made, chosen=replace(made.chosen, steps=steps))


def held(gear: str, method: str = "lower on a line") -> dict[str, Held]:
    """What every part of the gear gets."""
    (lift,) = lifts_out(job(WHOLE + gear), plan(method))
    return {one.part: one for one in lift.held}


def test_a_piece_let_down_from_rest() -> None:
    """Line: its weight; limit 12,000 lbf x 0.85 / 10. Block, parts side by side: twice. Hand: W / e^(0.3 x 4 pi)."""
    found = held(GEAR)
    assert found["line"].force_N == Range.exact(WEIGHT)
    assert found["line"].limit_N == pytest.approx(12000 * POUND * 0.85 / 10)
    assert (found["line"].words, found["line"].status) == ("inside the limit", "from memory")
    assert found["block"].force_N.likely == pytest.approx(2.0 * WEIGHT)
    assert found["block"].words == "no limit given"
    assert found["hand on the line"].force_N.likely == pytest.approx(WEIGHT / math.exp(0.3 * 4.0 * math.pi))


def test_a_caught_piece_pulls_far_more() -> None:
    """F = W + sqrt(W^2 + 2 k W h), k = 8 to 20 times the breaking strength over 30 ft; high over 0.7 (Weber 2002)."""
    found = held(GEAR + 'fall = "4 ft"\n')["line"]
    breaking, rope, fall = 12000 * POUND, 30 * 0.3048, 4 * 0.3048
    soft, stiff = (WEIGHT + math.sqrt(WEIGHT**2 + 2 * k * breaking / rope * WEIGHT * fall) for k in (8, 20))
    assert found.force_N.low == pytest.approx(soft)
    assert found.force_N.high == pytest.approx(stiff / 0.7)
    # a peak is set against the lowest design factor listed, 5
    assert found.limit_N == pytest.approx(breaking * 0.85 / 5)
    assert found.words == "outside the limit"
    # the hand holds the peak through two turns, not the weight: bark 0.3 likely
    hand = held(GEAR + 'fall = "4 ft"\n')["hand on the line"].force_N
    assert hand.likely == pytest.approx(found.force_N.likely / math.exp(0.3 * 4.0 * math.pi))
    run = held(GEAR + 'fall = "4 ft"\nrun = "8 ft"\n')["line"]
    assert run.force_N.low == pytest.approx(WEIGHT * 1.5)
    assert run.force_N.high < found.force_N.high


def test_slings_on_a_lift() -> None:
    """Two legs at 60 degrees: W / 2 / sin 60 each; a free choke keeps all of 0.80 of the tag."""
    leg = held(GEAR + 'sling = "500 lbf"\n', "crane pick")["sling leg"]
    assert leg.force_N.likely == pytest.approx(WEIGHT / 2.0 / math.sin(math.radians(60.0)))
    assert leg.limit_N == pytest.approx(500 * POUND * 0.8)
    assert leg.words == "inside the limit"
    assert held(GEAR + 'sling = "100 lbf"\n', "crane pick")["sling leg"].words == "outside the limit"
    one = held(GEAR + 'slings = 1\nsling = "500 lbf"\n', "crane pick")["sling leg"]
    assert one.force_N.likely == pytest.approx(WEIGHT)  # a single leg hangs plumb, whatever its angle is said to be
    four = held(GEAR + 'slings = 4\nsling = "500 lbf"\n', "crane pick")["sling leg"]
    assert four.force_N == leg.force_N  # of four legs on a stiff log two are counted
    with pytest.raises(BadInput, match="too flat") as caught:
        held(GEAR + 'sling_angle = "20 deg"\n', "crane pick")
    assert caught.value.path == "rigging.sling_angle"


def test_nothing_said_without_gear_or_plan() -> None:
    assert lifts_out(job(WHOLE), plan("crane pick")) == ()
    assert lifts_out(job(WHOLE + GEAR), None) == ()
    assert lifts_out(job(WHOLE + GEAR), plan("carry")) == ()
