"""The gust that breaks or uproots, by hand and by closed form."""

from __future__ import annotations

import numpy as np
import pytest

from bolewright.core.standing.failing import (
    GUSTS,
    Case,
    gust_reaching,
    gust_to_break,
    gust_to_uproot,
    held_by_roots,
    mass_factors,
    stress_share,
)
from bolewright.core.standing.unknowns import Draws, likely_draw

from .trees import case, plain_unknowns, tree


def test_gust_reaching_one() -> None:
    """Between two gusts, without wind, and never."""
    gust = np.array([0.0, 10.0, 20.0])
    shares = np.array([[0.0, 0.5, 1.5], [1.2, 1.3, 1.4], [0.0, 0.1, 0.2]])
    np.testing.assert_allclose(gust_reaching(shares, gust), [15.0, 0.0, 20.0])


def test_critical_wind_of_a_published_form() -> None:
    """0.5 rho Cd v2 A H = Z sigma (Koizumi and Hirai 2006, J. Wood Sci. 52:213-219) on a tree without weight.

    Crown 75.4 m2 at Cd 0.25 with its middle at 14 m; Z = pi 0.5^3/32; 40 MPa. The profile lifts the pressure at the
    crown by 0.95 to 1.15, and the bare stem adds a little: the gust lies just below the form's.
    """
    draws = likely_draw(plain_unknowns())
    broken = gust_to_break(case(tree()), draws, 0.0)[0, 0]
    area, arm, modulus = np.pi / 4.0 * 96.0, 14.0, np.pi * 0.125 / 32.0
    form = np.sqrt(modulus * 40e6 / (0.5 * 1.225 * 0.25 * area * arm))
    assert 0.85 * form < broken < 1.0 * form


def test_stress_of_weight_alone() -> None:
    """A plumb pole in still air: N/A at the foot is rho g H over the strength."""
    share = stress_share(case(tree()), likely_draw(plain_unknowns()), 0.0, 0)
    assert share[0, 0] == pytest.approx(900.0 * 9.80665 * 20.0 / 40e6, rel=1e-9)


def test_uproot_scales_with_the_roots() -> None:
    """Four times the capacity, above 20 m/s: twice the gust."""
    draws = likely_draw(plain_unknowns())
    weak, strong = (float(gust_to_uproot(case(tree(), capacity=c), draws, 0.0)[0]) for c in (1.5e5, 6e5))
    assert weak > 21.0
    assert strong / weak == pytest.approx(2.0, rel=5e-3)


def test_a_tree_that_stands_everything_gets_the_last_gust() -> None:
    """100 m/s is as far as is looked."""
    assert gust_to_uproot(case(tree(), capacity=1e12), likely_draw(plain_unknowns()), 0.0)[0] == GUSTS[-1]


def test_no_soil_stands_up() -> None:
    """The fifth mass group is never counted; wood goes with the square of the size."""
    factors = mass_factors(likely_draw(plain_unknowns()))
    np.testing.assert_allclose(factors, [[1.0, 1.0, 1.0, 1.0, 0.0]])


def test_a_pulled_tree_holds_what_it_was_pulled_to() -> None:
    """With a pull test the hold does not follow the stem's mass; without, it does."""
    draws = likely_draw(plain_unknowns())
    heavy = Draws({**draws.values, "density": np.array([1.2])}, 1)
    slope, pulled = (Case(case(tree()).loads, (), 4e5, 0.0, p) for p in (False, True))
    assert held_by_roots(slope, heavy)[0] == pytest.approx(4.8e5)
    assert held_by_roots(pulled, heavy)[0] == pytest.approx(4e5)
