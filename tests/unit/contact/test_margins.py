"""Margins against hand statics, the distance to the convex outline (qhull), and the energy of a rolling log."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.spatial import ConvexHull

from bolewright.core.base.errors import BadInput
from bolewright.core.contact.margins import roll_curvature, shift_margins, stability, support_polygon

Array = NDArray[np.float64]
FORWARD = np.array([1.0, 0.0, 0.0])


def upright(x: list[float], y: list[float]) -> Array:
    """Rows Fz, Mx, My of unit upward forces."""
    return np.array([np.ones(len(x)), y, [-a for a in x]])


def down(weight: float, x: float, y: float) -> Array:
    """Rows Fz, Mx, My of a weight."""
    return np.array([-weight, -weight * y, weight * x])


def test_four_feet_of_a_table() -> None:
    """Feet at x 0 and 4, y -1 and 1.5; weight at (3, 0.5): 1 m to the tip side, 3 to the butt, 1.5 right, 1 left."""
    columns = upright([0, 0, 4, 4], [-1, 1.5, -1, 1.5])
    free = np.full(4, np.inf)
    towards = np.array([[1.0, 0], [-1.0, 0], [0, -1.0], [0, 1.0], [0, 2.0]])
    margins = shift_margins(columns, down(700.0, 3.0, 0.5), np.zeros(4), free, towards)
    assert margins == pytest.approx([1.0, 3.0, 1.5, 1.0, 1.0])
    answer = stability(columns, down(700.0, 3.0, 0.5), np.zeros(4), free, FORWARD)
    assert (answer.tipping, answer.tipping_towards) == (pytest.approx(1.0), "towards the tip")
    assert (answer.rolling, answer.rolling_towards) == (pytest.approx(1.0), "to the left")


def test_a_stem_that_points_the_other_way() -> None:
    """The same table with the stem pointing along -x: tip and butt, right and left change places."""
    columns = upright([0, 0, 4, 4], [-1, 1.5, -1, 1.5])
    answer = stability(columns, down(700.0, 3.0, 0.5), np.zeros(4), np.full(4, np.inf), -FORWARD)
    assert (answer.tipping_towards, answer.rolling_towards) == ("towards the butt", "to the right")


def test_a_limit_shortens_the_margin() -> None:
    """Supports at 0 and 4 m, the far one good for 600 N, weight 1000 N at 1 m: it may shift to 2.4 m, not 4 m."""
    columns = upright([0.0, 4.0], [0.0, 0.0])
    limits = np.array([np.inf, 600.0])
    margins = shift_margins(columns, down(1000.0, 1.0, 0.0), np.zeros(2), limits, np.array([[1.0, 0], [-1.0, 0]]))
    assert margins == pytest.approx([1.4, 1.0])


def test_a_weight_outside_must_shift_back() -> None:
    """Supports at 0 and 4 m, weight at 4.5: half a metre too far; the same off the line never comes back along it."""
    columns, free = upright([0.0, 4.0], [0.0, 0.0]), np.full(2, np.inf)
    along = np.array([[1.0, 0.0]])
    assert shift_margins(columns, down(10.0, 4.5, 0.0), np.zeros(2), free, along) == pytest.approx([-0.5])
    assert np.isnan(shift_margins(columns, down(10.0, 4.5, 0.2), np.zeros(2), free, along))[0]


def test_a_tree_on_its_axis_has_no_rolling_margin() -> None:
    """Points on one line resist no rolling at all: the margin across is zero."""
    answer = stability(upright([0.0, 4.0], [0.0, 0.0]), down(10.0, 1.0, 0.0), np.zeros(2), np.full(2, np.inf), FORWARD)
    assert answer.rolling == pytest.approx(0.0, abs=1e-9)
    assert (answer.tipping, answer.tipping_towards) == (pytest.approx(1.0), "towards the butt")


def test_a_hold_both_ways_has_no_end() -> None:
    """A clamp (two two-way holds) keeps a tree for any shift along it."""
    columns, free = upright([0.0, 4.0], [0.0, 0.0]), np.full(2, np.inf)
    margins = shift_margins(columns, down(10.0, 1.0, 0.0), -free, free, np.array([[1.0, 0.0]]))
    assert np.isposinf(margins[0])


def test_random_supports_against_the_outline() -> None:
    """Plain supports: the margin is the distance to the convex outline (qhull, scipy), for many weights at once."""
    rng = np.random.default_rng(7)
    for _ in range(20):
        x, y = rng.uniform(0, 10, 6), rng.uniform(-3, 3, 6)
        share = rng.dirichlet(np.ones(6), 8)
        weight = np.array(
            [down(w, a, b) for w, a, b in zip(rng.uniform(1e3, 1e5, 8), share @ x, share @ y, strict=True)]
        )
        towards = rng.normal(size=(5, 2))
        margins = shift_margins(upright(list(x), list(y)), weight.T, np.zeros(6), np.full(6, np.inf), towards)
        sides = ConvexHull(np.stack([x, y], axis=1)).equations  # normal . p + offset <= 0 inside
        for d, direction in enumerate(towards / np.linalg.norm(towards, axis=1)[:, None]):
            for b in range(8):
                inside = np.array([share[b] @ x, share[b] @ y])
                speed = sides[:, :2] @ direction
                reach = -(sides[:, :2] @ inside + sides[:, 2])[speed > 1e-12] / speed[speed > 1e-12]
                assert margins[d, b] == pytest.approx(float(np.min(reach)), abs=1e-6)


def energy_curvature(height: float, r: float, big: float) -> float:
    """Second change of the centre of mass's height as a disc of radius r rolls on a fixed circle (or flat)."""

    def rise(turn: float) -> float:
        if np.isinf(big):  # a flat: the middle of the disc stays at height r
            return float(r + (height - r) * np.cos(turn))
        around = turn * r / (r + big)  # pure rolling: equal arcs; the disc turns by around + its own roll
        return float((r + big) * np.cos(around) - big + (height - r) * np.cos(turn))

    step = 1e-3
    return (rise(step) - 2 * rise(0.0) + rise(-step)) / step**2


@pytest.mark.parametrize("big", [np.inf, 0.4, 3.0, -2.0])
@pytest.mark.parametrize("height", [0.1, 0.2, 0.28, 0.33, 0.36, 0.5])
def test_rolling_back_is_where_rolling_lifts_the_centre(height: float, big: float) -> None:
    """The sign of the margin is the sign of the energy's curvature, worked out from the rolling itself.

    For a disc on a circle the disc turns by (arc / r + arc / R); with the arc = R around, turn = around (r + R) / r.
    """
    answer = roll_curvature(height, 0.3, big)
    curvature = energy_curvature(height, 0.3, big)
    assert np.sign(answer.margin) == np.sign(curvature)
    assert ("rolls back" in answer.words) == (curvature > 0.0)


def test_a_bare_log_on_flat_ground_is_even() -> None:
    """Centre of mass in the middle of round wood on a flat: margin nothing, on any radius; 30 degrees of slope less."""
    assert "slightest push" in roll_curvature(0.3, 0.3).words
    assert roll_curvature(0.0, 0.3, slope=np.radians(60.0)).margin == pytest.approx(0.15)


def test_nonsense_is_refused() -> None:
    """No radius, a hollow too tight, no weight."""
    with pytest.raises(BadInput, match="radius"):
        roll_curvature(0.1, 0.0)
    with pytest.raises(BadInput, match="two points"):
        roll_curvature(0.1, 0.3, -0.2)
    with pytest.raises(BadInput, match="downward"):
        shift_margins(upright([0.0], [0.0]), np.zeros(3), np.zeros(1), np.full(1, np.inf), np.array([[1.0, 0.0]]))


def test_the_outline_of_supports() -> None:
    """A square with a point inside and one on a side has four corners; fewer points come back as they are."""
    square = np.array([[0, 0, 1], [2, 0, 1], [2, 2, 1], [0, 2, 1], [1, 1, 5], [1, 0, 0]], dtype=float)
    assert support_polygon(square) == pytest.approx(np.array([[0, 0], [2, 0], [2, 2], [0, 2]]))
    assert support_polygon(square[:2]) == pytest.approx(square[:2, :2])
    line = np.array([[0.0, 0.0], [1.0, 1.0], [2.0, 2.0]])
    assert support_polygon(line) == pytest.approx(line[[0, 2]])
