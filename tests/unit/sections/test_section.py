"""Axes, directions and refusals of sections."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bolewright.core.base.errors import BadInput
from bolewright.core.sections import (
    clock_vector,
    ellipse,
    hollow_round,
    off_centre,
    open_ring,
    polygon_section,
    solid_round,
)


def test_clock_vectors() -> None:
    """12 is up, 3 is right, 6 down, 9 left, looking butt to tip."""
    np.testing.assert_allclose(clock_vector([12, 3, 6, 9]), [[0, 1], [1, 0], [0, -1], [-1, 0]], atol=1e-15)


def test_the_wood_lies_away_from_the_cavity() -> None:
    """A cavity towards 3 o'clock moves the centroid towards 9."""
    section = off_centre(1.0, 0.4, 0.2, 3.0)
    assert section.centroid[0] < 0.0
    assert section.centroid[1] == pytest.approx(0.0, abs=1e-15)
    assert float(section.modulus_near(3.0)) < float(section.modulus_far(3.0))


@given(st.floats(0.1, 2.0), st.floats(0.0, 0.6), st.floats(0.0, 0.35), st.floats(0.0, 12.0), st.floats(0.0, 12.0))
def test_turning_the_decay_turns_the_answer(
    diameter: float, cavity: float, offset: float, clock: float, load: float
) -> None:
    """Only the angle between load and cavity counts."""
    turned = off_centre(diameter, cavity * diameter, offset * diameter / 2.0, clock)
    still = off_centre(diameter, cavity * diameter, offset * diameter / 2.0, 12.0)
    assert float(turned.modulus(load)) == pytest.approx(float(still.modulus(load - clock)), rel=1e-9)


@given(st.floats(0.1, 2.0), st.floats(0.05, 0.95), st.floats(0.1, 6.0), st.floats(0.0, 12.0))
def test_size_scales_by_the_cube(scale: float, wall: float, opening: float, load: float) -> None:
    """Modulus goes with the cube of size."""
    small, large = open_ring(1.0, wall / 2.0, opening, 3.0), open_ring(scale, wall / 2.0 * scale, opening, 3.0)
    assert float(large.modulus(load)) == pytest.approx(scale**3 * float(small.modulus(load)), rel=1e-9)


def test_principal_direction_is_the_softest() -> None:
    """A tall ellipse is softest when pushed sideways."""
    soft, stiff, clock = ellipse(1.0, 0.5, 12.0).principal()
    assert clock == pytest.approx(3.0)
    assert soft < stiff


@pytest.mark.parametrize(
    "call",
    [
        lambda: solid_round(0.0),
        lambda: solid_round(float("nan")),
        lambda: hollow_round(0.5, 0.5),
        lambda: hollow_round(0.5, -0.1),
        lambda: off_centre(1.0, 0.6, 0.3, 3.0),
        lambda: open_ring(1.0, 0.2, 0.0, 3.0),
        lambda: open_ring(1.0, 0.2, 7.0, 3.0),
        lambda: open_ring(1.0, 0.0, 1.0, 3.0),
        lambda: ellipse(1.0, -1.0),
        lambda: polygon_section([[0, 0], [1, 1]]),
    ],
)
def test_sections_that_cannot_be_are_refused(call: object) -> None:
    """One plain sentence each."""
    with pytest.raises(BadInput):
        call()
