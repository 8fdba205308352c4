"""Hollow sections against closed forms."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import dblquad

from bolewright.core.tree.hollow import shares_left, void_diameter, void_radii


@pytest.mark.parametrize("shell", [0.02, 0.1, 0.25, 0.4])
def test_even_shell(shell: float) -> None:
    """Centred round hole: 1 - (d/D)^4 and 1 - (d/D)^2."""
    hole = (0.8 - 2.0 * shell) / 0.8
    bending, area = shares_left(0.8, ((12.0, shell),))
    assert bending[0] == pytest.approx(1.0 - hole**4, abs=1e-12)
    assert area[0] == pytest.approx(1.0 - hole**2, abs=1e-12)
    assert void_diameter(0.8, ((5.0, shell),))[0] == pytest.approx(0.8 - 2.0 * shell, abs=1e-12)


def test_shell_deeper_than_the_centre_is_sound() -> None:
    bending, area = shares_left([0.3, 0.0], ((12.0, 0.2),))
    np.testing.assert_allclose(bending, 1.0)
    np.testing.assert_allclose(area, 1.0)
    np.testing.assert_allclose(void_diameter([0.3, 0.0], ((12.0, 0.2),)), 0.0)


def test_half_circle_of_decay() -> None:
    """Readings that leave (almost) a half disc. Closed forms: area 1/2; I about its own centroid, mean of both ways,
    pi r^4/8 - (pi r^2/2) (4 r / 3 pi)^2 / 2, over pi r^4/4.
    """
    shell = ((12.0, 0.0), (2.999, 0.0), (3.001, 1.0), (8.999, 1.0), (9.001, 0.0))
    bending, area = shares_left(2.0, shell)
    own = np.pi / 8.0 - np.pi / 2.0 * (4.0 / (3.0 * np.pi)) ** 2 / 2.0
    assert area[0] == pytest.approx(0.5, abs=0.003)  # one degree steps at two jumps
    assert bending[0] == pytest.approx(own / (np.pi / 4.0), abs=0.003)


def test_off_centre_void_against_direct_integration() -> None:
    """Readings 0.05 at 12 and 0.25 at 6 on a 0.8 m stem; double integral over the wood, moved to its own centroid."""
    shell = ((12.0, 0.05), (6.0, 0.25))

    def inner(angle: float) -> float:
        hours = angle / (2.0 * np.pi) * 12.0
        away = min(hours, 12.0 - hours) / 6.0
        return 0.4 - (0.05 + 0.2 * away)

    def over_wood(power: int, cosine: int) -> float:
        def density(r: float, angle: float) -> float:
            return float(r ** (power + 1) * np.cos(angle) ** cosine)

        halves = ((0.0, np.pi), (np.pi, 2.0 * np.pi))
        return sum(dblquad(density, a, b, inner, 0.4, epsabs=1e-12)[0] for a, b in halves)

    area, first, polar = over_wood(0, 0), over_wood(1, 1), over_wood(2, 0)
    mean = polar / 2.0 - first**2 / area / 2.0
    got_bending, got_area = shares_left(0.8, shell)
    assert got_area[0] == pytest.approx(area / (np.pi * 0.16), rel=1e-5)
    assert got_bending[0] == pytest.approx(mean / (np.pi * 0.8**4 / 64.0), rel=1e-5)


def test_depth_is_linear_between_readings_round_the_clock() -> None:
    radii = void_radii(1.0, ((3.0, 0.1), (9.0, 0.3)))[0]
    assert radii[90] == pytest.approx(0.4)  # 3 o'clock
    assert radii[180] == pytest.approx(0.3)  # 6, half way down
    assert radii[0] == pytest.approx(0.3)  # 12, half way up through the turn of the clock
