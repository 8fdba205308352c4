"""Pads, bites and springs by hand."""

from __future__ import annotations

import math

import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.base.sourced import Status
from bolewright.core.props.bearing import (
    DENT,
    bite_width,
    cross_grain_capacity,
    crush_stiffness,
    ground_allowed,
    ground_stiffness,
    in_series,
    pad,
)
from bolewright.core.props.timber import Strengths

BOARDS = Strengths(6.0e6, 3e6, 1e6, 4e6, 9e6, 11e9, 4e9, "test", Status.MEASURED)


def test_bite_is_the_chord_of_the_circle() -> None:
    # points where a line `dent` inside the rim cuts a circle of radius 0.25: half chord from Pythagoras
    half = math.sqrt(0.25**2 - (0.25 - 0.01) ** 2)
    assert bite_width(0.5, 0.01) == pytest.approx(2.0 * half, rel=1e-12)
    assert bite_width(0.01, 0.5) == pytest.approx(0.01)  # never wider than the stem


def test_a_thin_stem_bears_less_on_a_flat_head() -> None:
    flat = cross_grain_capacity(2e6, 0.2, 0.2)
    round_stem = cross_grain_capacity(2e6, 0.2, 0.2, diameter=0.3)
    assert round_stem == pytest.approx(flat * bite_width(0.3, DENT) / 0.2)


def test_pad_is_as_large_as_the_ground_asks() -> None:
    made = pad(20e3, 36e3, 0.09, BOARDS, 0.038)
    assert math.sqrt(20e3 / 36e3) <= made.side <= math.sqrt(20e3 / 36e3) + 0.05
    assert made.ground_capacity == pytest.approx(36e3 * made.side**2)


def test_pad_boards_bend_like_shelves() -> None:
    # by hand: q = F / a^2, M = q p^2 / 2 per metre of width, stress = M / (n t^2 / 6)
    made = pad(20e3, 36e3, 0.09, BOARDS, 0.038)
    pressure, overhang = 20e3 / made.side**2, 0.5 * (made.side - 0.09)
    stress = pressure * overhang**2 / 2.0 / (made.layers * 0.038**2 / 6.0)
    assert stress / 6.0e6 == pytest.approx(20e3 / made.bending_capacity, rel=1e-12)
    assert stress <= 6.0e6
    one_less = pressure * overhang**2 / 2.0 / ((made.layers - 1) * 0.038**2 / 6.0)
    assert one_less > 6.0e6
    assert made.thickness == pytest.approx(2 * made.layers * 0.038)


def test_a_load_too_large_for_the_largest_pad_shows() -> None:
    made = pad(200e3, 36e3, 0.09, BOARDS, 0.038)
    assert made.side == pytest.approx(1.2)
    assert made.ground_capacity < 200e3


def test_springs() -> None:
    assert in_series(3.0, 6.0) == pytest.approx(2.0)
    # at the allowed pressure the ground gives 1/120 m whatever the size
    assert 36e3 * 0.5 / ground_stiffness(0.5, 36e3) == pytest.approx(1.0 / 120.0)
    # at the design stress the wood is dented by the 0.04 in of its test
    assert 4e6 * 0.01 / crush_stiffness(4e6, 0.01) == pytest.approx(0.04 * 0.0254)


def test_ground_that_bears_nothing_known_is_refused() -> None:
    with pytest.raises(BadInput, match="mud"):
        ground_allowed("mud")
    with pytest.raises(BadInput, match="above zero"):
        ground_allowed("lawn", 0.0)
    assert ground_allowed("mud", 20e3).status is Status.MEASURED


def test_nonsense_is_refused() -> None:
    with pytest.raises(BadInput):
        bite_width(0.0)
    with pytest.raises(BadInput):
        pad(1.0, 0.0, 0.1, BOARDS, 0.03)
    with pytest.raises(BadInput):
        cross_grain_capacity(1.0, 0.0, 1.0)
