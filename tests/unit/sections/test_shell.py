"""Shell readings: interpolation and refusals."""

from __future__ import annotations

import numpy as np
import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.sections import measured_shell, shell_depth, solid_round


def test_depth_runs_straight_between_readings_and_round_the_clock() -> None:
    """Half way from 9 to 12 is the mean of the two, and 12 is 0."""
    readings = [(12.0, 0.10), (3.0, 0.04), (9.0, 0.20)]
    np.testing.assert_allclose(shell_depth([12.0, 0.0, 1.5, 10.5, 6.0], readings), [0.10, 0.10, 0.07, 0.15, 0.12])


def test_sound_to_the_centre_is_solid() -> None:
    """Depths of the radius and more leave no hole."""
    section, solid = measured_shell(0.6, [(12.0, 0.3), (6.0, 0.5)]), solid_round(0.6)
    assert section.area == pytest.approx(solid.area, rel=1e-12)
    assert float(section.modulus(2.0)) == pytest.approx(float(solid.modulus(2.0)), rel=1e-9)


def test_a_thin_side_is_the_weak_side() -> None:
    """The fibre at the thin wall works hardest."""
    section = measured_shell(0.6, [(12.0, 0.05), (6.0, 0.2)])
    assert section.centroid[1] < 0.0
    assert float(section.modulus_near(12.0)) < float(section.modulus_far(12.0))


@pytest.mark.parametrize(
    "readings",
    [[], [(12.0, -0.01)], [(12.0, 0.1), (0.0, 0.2)], [(3.0, float("nan"))], [(12.0, 0.0)]],
)
def test_readings_that_cannot_be_are_refused(readings: list[tuple[float, float]]) -> None:
    """None, negative, two at one place, no number, no wood at all."""
    with pytest.raises(BadInput):
        measured_shell(0.6, readings)
