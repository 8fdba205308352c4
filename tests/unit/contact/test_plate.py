"""The root plate with its stub: closed forms, and potential energy as a second way to the same moment."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range
from bolewright.core.base.vectors import GRAVITY
from bolewright.core.contact.plate import (
    FALLS,
    STANDS,
    STAYS,
    UNKNOWN,
    PlateSamples,
    flip_stub,
    hinge_moments,
    plate_states,
    reach_forward,
    stub_mass_and_arm,
)

LEVEL = PlateSamples(
    mass=2000.0, diameter=3.0, thickness=0.8, slope=0.0, butt_diameter=0.6, taper=0.0, wood_density=900.0,
    spring_back=0.0, holding=0.0,
)  # fmt: skip


def test_level_stem_and_even_stub() -> None:
    # moments about the hinge line by hand: plate W t/2 up, stub w b^2 / 2 down
    per_metre = 900.0 * math.pi / 4.0 * 0.6**2 * GRAVITY
    for b in (0.0, 0.5, 2.0, 4.0):
        expected = 2000.0 * GRAVITY * 0.8 / 2.0 - per_metre * b**2 / 2.0
        assert hinge_moments(LEVEL, [b])[0, 0] == pytest.approx(expected, rel=1e-12)


def test_flip_of_the_level_stem() -> None:
    # W t / 2 = w b^2 / 2, so b = sqrt(M t / m')
    by_hand = math.sqrt(2000.0 * 0.8 / (900.0 * math.pi / 4.0 * 0.6**2))
    assert flip_stub(LEVEL, 20.0)[0] == pytest.approx(by_hand, rel=1e-9)
    assert math.isinf(flip_stub(LEVEL, 0.5 * by_hand)[0])


def test_taper_against_the_frustum_formula() -> None:
    # volume and centroid of a cone frustum (any mensuration table): V = pi h/12 (D^2 + D d + d^2),
    # centroid from the large end h/4 (D^2 + 2 D d + 3 d^2) / (D^2 + D d + d^2)
    big, taper, density, h = 0.9, 0.05, 1000.0, 3.0
    small = big - taper * h
    volume = math.pi * h / 12.0 * (big**2 + big * small + small**2)
    centre = h / 4.0 * (big**2 + 2.0 * big * small + 3.0 * small**2) / (big**2 + big * small + small**2)
    mass, arm = stub_mass_and_arm(big, taper, density, [h])
    assert mass[0, 0] == pytest.approx(density * volume, rel=1e-12)
    assert arm[0, 0] == pytest.approx(density * volume * centre, rel=1e-12)


def test_a_stub_longer_than_the_taper_is_a_cone() -> None:
    mass, arm = stub_mass_and_arm(0.5, 0.1, 1000.0, [5.0, 9.0])
    cone = 1000.0 * math.pi / 12.0 * 0.5**2 * 5.0
    assert mass[0] == pytest.approx([cone, cone], rel=1e-12)
    assert arm[0] == pytest.approx([cone * 5.0 / 4.0] * 2, rel=1e-12)


@pytest.mark.parametrize("slope_deg", [-20.0, -5.0, 0.0, 7.0, 25.0, 60.0])
@pytest.mark.parametrize("stub", [0.0, 0.7, 2.5, 6.0])
def test_moment_is_the_slope_of_potential_energy(slope_deg: float, stub: float) -> None:
    # a heap of point masses turned about the hinge line by a small angle; the moment is minus the change of
    # potential energy per radian. Shares no formula with the code: slices, coordinates and a rotation.
    plate = replace(LEVEL, slope=math.radians(slope_deg), taper=0.04)
    slope, slices = math.radians(slope_deg), 4000
    along, up = np.array([math.cos(slope), math.sin(slope)]), np.array([-math.sin(slope), math.cos(slope)])
    hinge = -1.5 * up  # butt at the origin
    s = (np.arange(slices) + 0.5) * stub / slices
    wood = 900.0 * math.pi / 4.0 * (0.6 - 0.04 * s) ** 2 * stub / slices
    t = (np.arange(slices) + 0.5) * 0.8 / slices
    points = np.vstack([np.outer(s, along), -np.outer(t, along)]) - hinge
    mass = np.concatenate([wood, np.full(slices, 2000.0 / slices)])

    def energy(turn: float) -> float:
        height = math.sin(turn) * points[:, 0] + math.cos(turn) * points[:, 1]
        return float(GRAVITY * np.sum(mass * height))

    step = 1e-5
    moment = -(energy(step) - energy(-step)) / (2.0 * step)
    assert hinge_moments(plate, [stub])[0, 0] == pytest.approx(moment, rel=1e-6, abs=0.05)


def test_a_rising_stem_first_helps_then_hinders() -> None:
    plate = replace(LEVEL, slope=math.radians(20.0))
    balance = 1.5 * math.tan(math.radians(20.0))  # the stub is over the hinge line here
    moments = hinge_moments(plate, [0.0, balance, 2.0 * balance])[0]
    assert moments[1] > moments[0]
    assert moments[2] == pytest.approx(moments[0], rel=1e-9)  # even stub, centred on the hinge line
    assert hinge_moments(plate, [flip_stub(plate, 30.0)[0]])[0, 0] == pytest.approx(0.0, abs=1e-3)


def test_a_dipping_stem_lets_the_bare_plate_fall_forward() -> None:
    # the centre is over the hinge line when tan(dip) = (t/2)/R
    at_balance = math.atan(0.4 / 1.5)
    for turn, sign in ((0.9, 1.0), (1.1, -1.0)):
        plate = replace(LEVEL, slope=-turn * at_balance)
        assert math.copysign(1.0, hinge_moments(plate, [0.0])[0, 0]) == sign
    assert flip_stub(replace(LEVEL, slope=-1.1 * at_balance), 10.0)[0] == 0.0


def test_outcomes_and_shares() -> None:
    rng = np.random.default_rng(1)
    samples = replace(LEVEL, mass=rng.uniform(1000.0, 3000.0, 400), holding=rng.uniform(500.0, 1500.0, 400))
    flip = float(np.median(flip_stub(samples, 20.0)))
    states = plate_states(samples, [0.2, flip, 2.0 * flip])
    assert [state.outcome for state in states] == [STANDS, UNKNOWN, FALLS]
    for state in states:
        assert sum(state.share.values()) == pytest.approx(1.0)
        assert isinstance(state.moment, Range)
    assert plate_states(replace(samples, holding=1e6), [0.2])[0].outcome == STAYS


def test_bent_roots_push_it_up() -> None:
    plain, sprung = hinge_moments(LEVEL, [3.0]), hinge_moments(replace(LEVEL, spring_back=1234.0), [3.0])
    assert sprung[0, 0] - plain[0, 0] == pytest.approx(1234.0)


def test_shapes_and_reach() -> None:
    samples = replace(LEVEL, mass=np.linspace(1000.0, 3000.0, 7))
    assert hinge_moments(samples, np.linspace(0.0, 3.0, 5)).shape == (7, 5)
    assert flip_stub(samples, 20.0).shape == (7,)
    assert np.all(np.diff(flip_stub(samples, 20.0)) > 0.0)  # a heavier plate needs a longer stub to pull it over
    assert reach_forward(3.0, 4.0) == pytest.approx(5.0)


@pytest.mark.parametrize(
    "change", [{"mass": -1.0}, {"thickness": 0.0}, {"taper": -0.1}, {"slope": 1.5}, {"holding": -1.0}]
)
def test_nonsense_is_refused(change: dict[str, float]) -> None:
    with pytest.raises(BadInput):
        hinge_moments(replace(LEVEL, **change), [1.0])


def test_a_negative_stub_is_refused() -> None:
    with pytest.raises(BadInput, match="negative"):
        hinge_moments(LEVEL, [-0.1])
