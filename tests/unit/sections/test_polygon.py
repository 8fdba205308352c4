"""Polygon formulas on shapes anyone can work by hand."""

from __future__ import annotations

import numpy as np
import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.sections import polygon_moments, polygon_section

RECTANGLE = np.array([[0.0, 0.0], [0.2, 0.0], [0.2, 0.3], [0.0, 0.3]])


def test_rectangle() -> None:
    """b h3/12, b h2/6, and the same whichever way the corners run."""
    for outline in (RECTANGLE, RECTANGLE[::-1]):
        section = polygon_section(outline)
        assert section.area == pytest.approx(0.06)
        np.testing.assert_allclose(section.centroid, [0.1, 0.15])
        assert float(section.second_moment(12.0)) == pytest.approx(0.2 * 0.3**3 / 12.0)
        assert float(section.modulus(12.0)) == pytest.approx(0.2 * 0.3**2 / 6.0)
        assert float(section.modulus(3.0)) == pytest.approx(0.3 * 0.2**2 / 6.0)


def test_rectangle_bent_askew() -> None:
    """Both axes at once: stress at the corner is the sum of the two bendings."""
    angle = np.radians(30.0)
    by_hand = np.cos(angle) / (0.2 * 0.3**2 / 6.0) + np.sin(angle) / (0.3 * 0.2**2 / 6.0)
    assert 1.0 / float(polygon_section(RECTANGLE).modulus(1.0)) == pytest.approx(by_hand)


def test_triangle() -> None:
    """b h3/36 about the centroid, a third of the height up."""
    section = polygon_section([[0.0, 0.0], [0.4, 0.0], [0.2, 0.3]])
    assert float(section.second_moment(12.0)) == pytest.approx(0.4 * 0.3**3 / 36.0)
    assert section.centroid[1] == pytest.approx(0.1)
    assert float(section.modulus_near(12.0)) == pytest.approx(0.4 * 0.3**3 / 36.0 / 0.2)


def test_box_with_a_hole() -> None:
    """Outer minus inner."""
    hole = np.array([[0.05, 0.05], [0.15, 0.05], [0.15, 0.25], [0.05, 0.25]])
    section = polygon_section(RECTANGLE, [hole])
    assert float(section.second_moment(12.0)) == pytest.approx((0.2 * 0.3**3 - 0.1 * 0.2**3) / 12.0)


def test_moments_about_a_far_origin() -> None:
    """Area is unmoved, first moments move with it."""
    near, far = polygon_moments(RECTANGLE), polygon_moments(RECTANGLE + 10.0)
    assert far.area == pytest.approx(near.area)
    np.testing.assert_allclose(far.first, near.first + 10.0 * near.area)


def test_a_hole_as_large_as_the_wood_is_refused() -> None:
    """Nothing left."""
    with pytest.raises(BadInput, match="No sound wood"):
        polygon_section(RECTANGLE, [RECTANGLE])
