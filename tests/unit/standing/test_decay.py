"""Readings from compass to clock, openings, and contradictions in one sentence."""

from __future__ import annotations

import numpy as np
import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.base.vectors import clock_of
from bolewright.core.sections import measured_shell, open_ring
from bolewright.core.standing.decay import cavity_share, checked_readings, clock_of_azimuth, opened_shell


@pytest.mark.parametrize("bearing", [0.0, 75.0, 200.0])
@pytest.mark.parametrize("azimuth", [0.0, 45.0, 90.0, 210.0, 359.0])
def test_clock_of_a_compass_side(azimuth: float, bearing: float) -> None:
    """The same as by vectors: forward along the bearing, right of it -y."""
    turn = np.radians(azimuth - bearing)
    direction = np.array([np.cos(turn), -np.sin(turn), 0.0])
    found = clock_of_azimuth(np.radians(azimuth), np.radians(bearing))
    assert found % 12.0 == pytest.approx(clock_of([0.0, 0.0, 1.0], direction) % 12.0, abs=1e-9)


def test_opened_shell_is_an_open_ring() -> None:
    """A quarter of the wall out of an even shell."""
    width = np.pi / 4.0 * 1.0  # of the circumference pi
    opened = measured_shell(1.0, opened_shell(1.0, [(12.0, 0.15)], (3.0, width)))
    ring = open_ring(1.0, 0.15, np.pi / 2.0, 3.0)
    clocks = np.linspace(0.0, 12.0, 25)
    np.testing.assert_allclose(opened.modulus(clocks), ring.modulus(clocks), rtol=0.01)


def test_cavity_share_of_an_even_shell() -> None:
    """d/D of a hollow round."""
    assert cavity_share(1.0, ((5.0, 0.2),)) == pytest.approx(0.6)


@pytest.mark.parametrize(
    ("readings", "word"),
    [
        ([(3.0, -0.01)], "negative"),
        ([(3.0, 0.4)], "more than the radius"),
        ([(3.0, 0.1), (3.0, 0.2)], "differ"),
        ([], "at least one"),
        ([(3.0, 0.0), (9.0, 0.0)], "No sound wood"),
    ],
)
def test_contradictions(readings: list[tuple[float, float]], word: str) -> None:
    """One sentence each, with the path."""
    with pytest.raises(BadInput, match=word) as fault:
        checked_readings(0.6, readings, "inspection.test[0]")
    assert fault.value.path == "inspection.test[0]"


def test_same_side_twice_keeps_the_thinner() -> None:
    """Within 2 cm."""
    assert checked_readings(0.6, [(12.0, 0.11), (0.0, 0.10)], "x") == ((0.0, 0.10),)


def test_opening_all_round() -> None:
    """One sentence."""
    with pytest.raises(BadInput, match="as wide as the stem"):
        opened_shell(0.5, [(12.0, 0.1)], (3.0, 1.6))
