"""Standing trees: statics by hand, symmetry, and what must rise or fall with what.

Sources: statics of a leaning body (weight times horizontal arm); deflection of a cantilever, F L3/3EI; length at which
a uniform column buckles under its own weight, w L3/EI = 7.837 (Greenhill 1881).
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.unit.standing.trees import ball, case, plain_unknowns, pole, tree

from bolewright.core.base.range import Range
from bolewright.core.base.vectors import GRAVITY
from bolewright.core.standing.failing import Case, gust_to_break, gust_to_uproot, overturning, worst_direction
from bolewright.core.standing.loads import amplifier, extra_moment, own_moment, sway_share
from bolewright.core.standing.strength import decayed_strength
from bolewright.core.standing.unknowns import likely_draw
from bolewright.core.standing.upright import Masses, Sails, Upright, upright

POLE_MASS = 900.0 * np.pi / 4.0 * 0.25 * 20.0


def test_own_weight_at_45_degrees_by_hand() -> None:
    """A 20 m pole of 3534 kg leaning 45 degrees: its middle is 7.07 m out, so 3534 x 9.80665 x 7.07 = 245 kN m."""
    moment = own_moment(tree(np.radians(45.0))).sum(axis=1)[0]
    assert moment[0] == pytest.approx(POLE_MASS * GRAVITY * 10.0 * np.sin(np.radians(45.0)), rel=1e-9)
    assert moment[0] == pytest.approx(245.1e3, rel=1e-3)
    assert moment[1] == pytest.approx(0.0, abs=1e-6)


@given(st.floats(0.0, 80.0), st.floats(0.0, 360.0))
@settings(max_examples=40)
def test_own_weight_of_any_lean(lean: float, side: float) -> None:
    """m g z tan(lean) towards the lean, whichever way it leans, at every place along the stem."""
    way = np.array([np.cos(np.radians(side)), np.sin(np.radians(side))])
    standing = tree(np.radians(lean), way=way)
    moment = own_moment(standing).sum(axis=1)
    for place, at in enumerate(standing.at[:-1]):
        left = 20.0 - at
        expected = POLE_MASS * left / 20.0 * GRAVITY * left / 2.0 * np.sin(np.radians(lean))
        got = moment[place]
        assert float(got @ way) == pytest.approx(expected, rel=0.01, abs=1.0)
        assert float(np.linalg.norm(got)) == pytest.approx(expected, rel=0.01, abs=1.0)


def test_extra_moment_of_a_mast() -> None:
    """A light mast with a top weight, pushed at the top: F L3/3EI moves it out, so extra over first is m g L2/3EI.

    Round after round it settles at weight over Euler's weight of a mast, pi2 EI/4L2.
    """
    length, stiffness, mass = 12.0, 4e6, 800.0
    places = np.linspace(0.0, length, 200)
    mast = Upright(
        at=places,
        centre=np.stack([0 * places, 0 * places, places], axis=-1),
        masses=Masses(np.array([length + 1e-9]), np.array([[0.0, 0.0, length]]), np.array([[mass, 0, 0, 0, 0]])),
        crown=Sails(np.array([length]), np.array([length]), np.array([1.0])),
        stem=Sails(np.zeros(0), np.zeros(0), np.zeros(0)),
    )
    moment, even = 500.0 * (length - places), np.full(places.size, stiffness)
    first = extra_moment(mast, moment, even)[0] / moment[0]
    assert first == pytest.approx(mass * GRAVITY * length**2 / (3.0 * stiffness), rel=1e-4)
    euler = mass * GRAVITY * 4.0 * length**2 / (np.pi**2 * stiffness)
    assert sway_share(mast, moment, even) == pytest.approx(euler, rel=1e-3)


def test_a_pole_buckles_under_its_own_weight_where_greenhill_says() -> None:
    """Uniform pole: the share is 1 at w L3/EI = 7.837 (Greenhill 1881), and goes with the cube of the length."""
    stiffness = 8e9 * np.pi / 64.0 * 0.2**4
    weight = 900.0 * np.pi / 4.0 * 0.04 * GRAVITY

    def share(height: float) -> float:
        places = np.linspace(0.0, height * 0.999, 60)
        standing = upright(pole(height, 0.2, 0.2), places, ball(height * 0.5, height, 2.0))
        return sway_share(standing, (height - places) ** 2, np.full(places.size, stiffness))

    critical = float((7.837 * stiffness / weight) ** (1.0 / 3.0))
    assert share(critical) == pytest.approx(1.0, rel=5e-3)
    assert share(critical / 4.0) == pytest.approx(1.0 / 64.0, rel=0.02)
    assert float(amplifier(0.2)) == pytest.approx(1.25)
    assert float(amplifier(1.0)) == np.inf


@given(st.floats(0.02, 0.24), st.floats(0.02, 0.24), st.floats(0.0, 12.0))
@settings(max_examples=25)
def test_less_wood_never_stands_more_wind(a: float, b: float, clock: float) -> None:
    """A thinner shell on one side lowers the gust that breaks there."""
    thin, thick = sorted((a, b))
    sound = case(tree())
    draws = likely_draw(plain_unknowns())
    gusts = []
    for shell in (thin, thick):
        strengths = (decayed_strength(0.5, ((clock, shell), ((clock + 6.0) % 12.0, 0.25))), *sound.strengths[1:])
        worst = min(
            float(gust_to_break(Case(sound.loads, strengths, 1e9, 0.0), draws, way)[0, 0])
            for way in np.arange(8) * np.pi / 4.0
        )
        gusts.append(worst)
    assert gusts[0] <= gusts[1] + 1e-6


@given(st.floats(0.0, 2.0 * np.pi))
@settings(max_examples=15)
def test_a_round_plumb_tree_does_not_mind_the_direction(way: float) -> None:
    """The same gust from anywhere."""
    one = case(tree(), capacity=4e5)
    draws = likely_draw(plain_unknowns())
    assert float(gust_to_break(one, draws, way)[0, 0]) == pytest.approx(float(gust_to_break(one, draws, 0.0)[0, 0]))
    assert float(gust_to_uproot(one, draws, way)[0]) == pytest.approx(float(gust_to_uproot(one, draws, 0.0)[0]))


@pytest.mark.parametrize("side", [0.0, 90.0, 210.0])
def test_a_leaning_tree_is_worst_off_along_its_lean(side: float) -> None:
    """Wind that pushes it further over."""
    way = np.array([np.cos(np.radians(side)), np.sin(np.radians(side))])
    leaning = case(tree(np.radians(12.0), 800.0, way), capacity=4e5)
    found = np.degrees(worst_direction(leaning, plain_unknowns()))
    assert abs((found - side + 180.0) % 360.0 - 180.0) <= 10.0


def test_more_lean_less_gust() -> None:
    """And at last none at all."""
    draws = likely_draw(plain_unknowns())
    gusts = [
        float(gust_to_uproot(case(tree(np.radians(d), 800.0), capacity=3.5e5), draws, 0.0)[0]) for d in (0, 10, 20, 60)
    ]
    assert gusts[0] > gusts[1] > gusts[2] > gusts[3]
    assert gusts[3] == 0.0


def test_moments_add_as_vectors() -> None:
    """Wind across the lean: the moment is the root of the sum of squares."""
    leaning = case(tree(np.radians(20.0)))
    draws = likely_draw(plain_unknowns())
    across = overturning(leaning, draws, np.pi / 2.0, 0)[0, 20]
    assert across[0] == pytest.approx(leaning.loads.own_moment[0].sum(axis=0)[0])
    assert across[1] > 0.0
    assert np.hypot(*across) < across.sum()


def test_wider_unknowns_wider_answer() -> None:
    """Half the drag number, more gust; twice, less."""
    one = case(tree())
    draws = [likely_draw(plain_unknowns(drag=d)) for d in (0.125, 0.25, 0.5)]
    gusts = [float(gust_to_break(one, d, 0.0)[0, 0]) for d in draws]
    assert gusts[0] > gusts[1] > gusts[2]
    assert gusts[0] / gusts[2] == pytest.approx(2.0, rel=0.06)
    assert Range.of_samples(gusts).low < gusts[1]
