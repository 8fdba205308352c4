"""Log volumes against worked values as printed by the University of Missouri and against integrals of the shapes.

Source: University of Missouri, forestry functions, "Cubic Log Volume", worked examples 12 in / 10 in / 16 ft and
29 cm / 25 cm / 5 m. Its 10.568 ft3 for the neiloid is cut off, not rounded, hence the tolerance of 0.001.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad

from bolewright.core.tree.volume import circle_area, cone_frustum, huber, neiloid_frustum, newton, smalian

INCH_IN_FEET = 1.0 / 12.0


def test_missouri_example_in_inches_and_feet() -> None:
    large, small = 12.0 * INCH_IN_FEET, 10.0 * INCH_IN_FEET
    assert float(smalian(large, small, 16.0)) == pytest.approx(10.647, abs=0.001)
    assert float(cone_frustum(large, small, 16.0)) == pytest.approx(10.588, abs=0.001)
    assert float(neiloid_frustum(large, small, 16.0)) == pytest.approx(10.568, abs=0.001)


def test_missouri_example_in_centimetres_and_metres() -> None:
    # printed to six digits, so held to half of the last one
    assert float(smalian(0.29, 0.25, 5.0)) == pytest.approx(0.287848, abs=5e-7)
    assert float(cone_frustum(0.29, 0.25, 5.0)) == pytest.approx(0.286801, abs=5e-7)
    assert float(neiloid_frustum(0.29, 0.25, 5.0)) == pytest.approx(0.286452, abs=5e-7)


# Solids of revolution whose diameter goes as distance from the apex to a power; the frustum runs from 2 to 5 m.
POWERS = {"cylinder": 0.0, "paraboloid": 0.5, "cone": 1.0, "neiloid": 1.5}


def solid(power: float) -> tuple[float, float, float, float]:
    """Large, middle and small diameter of the frustum and its volume by numerical integration."""

    def diameter(h: float) -> float:
        return 0.1 * h**power

    volume = quad(lambda h: np.pi / 4.0 * diameter(h) ** 2, 2.0, 5.0, epsabs=1e-14)[0]
    return diameter(5.0), diameter(3.5), diameter(2.0), volume


@pytest.mark.parametrize("shape", POWERS)
def test_newton_is_exact_for_all_four_shapes(shape: str) -> None:
    large, middle, small, volume = solid(POWERS[shape])
    assert float(newton(large, middle, small, 3.0)) == pytest.approx(volume, rel=1e-12)


@pytest.mark.parametrize("shape", ["cylinder", "paraboloid"])
def test_smalian_and_huber_are_exact_for_the_paraboloid(shape: str) -> None:
    large, middle, small, volume = solid(POWERS[shape])
    assert float(smalian(large, small, 3.0)) == pytest.approx(volume, rel=1e-12)
    assert float(huber(middle, 3.0)) == pytest.approx(volume, rel=1e-12)


def test_each_frustum_is_exact_for_its_own_shape() -> None:
    large, _, small, volume = solid(POWERS["cone"])
    assert float(cone_frustum(large, small, 3.0)) == pytest.approx(volume, rel=1e-12)
    large, _, small, volume = solid(POWERS["neiloid"])
    assert float(neiloid_frustum(large, small, 3.0)) == pytest.approx(volume, rel=1e-12)


def test_a_flared_butt_errs_the_way_the_docstrings_say() -> None:
    large, middle, small, volume = solid(POWERS["neiloid"])
    assert float(smalian(large, small, 3.0)) > float(cone_frustum(large, small, 3.0)) > volume
    assert float(huber(middle, 3.0)) < volume


def test_volumes_take_arrays() -> None:
    large = np.array([[0.3], [0.4]])
    length = np.array([1.0, 2.0, 3.0])
    assert cone_frustum(large, 0.3, length).shape == (2, 3)
    np.testing.assert_allclose(cone_frustum(large, 0.3, length)[0], circle_area(0.3) * length, rtol=1e-14)
