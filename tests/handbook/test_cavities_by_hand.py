"""Fifty random cavities against the closed forms of a mechanics handbook, written out here a second time.

Sources: any mechanics handbook, for example Young, Budynas and Sadegh, Roark's Formulas for Stress and Strain, on plane
areas and unsymmetrical bending: an ellipse's area pi a b and second moments pi a b3/4; turned axes, (I1 + I2)/2 +-
(I1 - I2)/2 cos 2t with the product of inertia (I1 - I2)/2 sin 2t; a hole taken out by the parallel-axis theorem; a load
towards (p, q) strains by ((p Ix - q Ixy) x + (q Iy - p Ixy) y)/(Ix Iy - Ixy2) per unit of moment. An ellipse reaches
c.n + sqrt((a n1)2 + (b n2)2) along n (its support function).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest
from numpy.typing import NDArray

from bolewright.core.sections import clock_vector, measured_shell, polygon_section
from bolewright.core.standing.strength import decayed_strength

Floats = NDArray[np.float64]
ALL_ROUND = np.linspace(0.0, 2.0 * np.pi, 1440, endpoint=False)  # of loads, a quarter of a degree apart


@dataclass(frozen=True)
class Ellipse:
    """Half axes, how far the first is turned from x towards y [rad], and the centre."""

    a: float
    b: float
    turn: float
    x: float
    y: float

    def area(self) -> float:
        """Pi a b."""
        return np.pi * self.a * self.b

    def moments(self) -> tuple[float, float, float]:
        """Second moments about x and y through its own centre, and the product of inertia."""
        about_long, about_short = np.pi * self.a * self.b**3 / 4.0, np.pi * self.a**3 * self.b / 4.0
        mean, half = (about_long + about_short) / 2.0, (about_long - about_short) / 2.0
        return mean + half * np.cos(2 * self.turn), mean - half * np.cos(2 * self.turn), -half * np.sin(2 * self.turn)

    def rim(self, count: int) -> Floats:
        """Points on it (n, 2)."""
        t = np.linspace(0.0, 2.0 * np.pi, count, endpoint=False)
        along, across = self.a * np.cos(t), self.b * np.sin(t)
        c, s = np.cos(self.turn), np.sin(self.turn)
        return np.stack([self.x + along * c - across * s, self.y + along * s + across * c], axis=1)

    def beyond(self, way: Floats) -> Floats:
        """Greatest n . (x, y) over the ellipse for vectors n (n, 2)."""
        along = way[:, 0] * np.cos(self.turn) + way[:, 1] * np.sin(self.turn)
        across = -way[:, 0] * np.sin(self.turn) + way[:, 1] * np.cos(self.turn)
        return way @ np.array([self.x, self.y]) + np.hypot(self.a * along, self.b * across)


@dataclass(frozen=True)
class ByHand:
    """A composite section: area, centroid, second moments about it, and both moduli at every angle of ALL_ROUND."""

    area: float
    x: float
    y: float
    ix: float
    iy: float
    ixy: float
    ahead: Floats  # moment over the stress of the fibre on the side it is bent towards
    behind: Floats


def by_hand(stem: Ellipse, hole: Ellipse) -> ByHand:
    """Stem less hole by the parallel-axis theorem, bent towards every angle of ALL_ROUND."""
    parts = [(1.0, stem), (-1.0, hole)]
    area = sum(sign * e.area() for sign, e in parts)
    x = sum(sign * e.area() * e.x for sign, e in parts) / area
    y = sum(sign * e.area() * e.y for sign, e in parts) / area
    ix = sum(sign * (e.moments()[0] + e.area() * (e.y - y) ** 2) for sign, e in parts)
    iy = sum(sign * (e.moments()[1] + e.area() * (e.x - x) ** 2) for sign, e in parts)
    ixy = sum(sign * (e.moments()[2] + e.area() * (e.x - x) * (e.y - y)) for sign, e in parts)
    p, q, under = np.cos(ALL_ROUND), np.sin(ALL_ROUND), ix * iy - ixy**2
    slope = np.stack([(p * ix - q * ixy) / under, (q * iy - p * ixy) / under], axis=1)  # stress = slope . (x, y)
    offset = slope @ np.array([x, y])
    return ByHand(area, x, y, ix, iy, ixy, 1.0 / (stem.beyond(slope) - offset), 1.0 / (stem.beyond(-slope) + offset))


def random_pair(draw: np.random.Generator, round_stem: bool) -> tuple[Ellipse, Ellipse]:
    """A stem of 30 cm to 1.4 m and an elliptical cavity off its centre, the wall nowhere thinner than 4 % of it.

    Of a round stem the cavity holds the centre, as one does that is read by depths from the bark.
    """
    a = draw.uniform(0.15, 0.7)
    b = a if round_stem else a * draw.uniform(0.6, 1.0)
    while True:
        long = draw.uniform(0.15, 0.8) * a
        short = long * draw.uniform(0.4, 1.0)
        far, way = draw.uniform(0.0, 0.7) * a, draw.uniform(0.0, 2.0 * np.pi)
        hole = Ellipse(long, short, draw.uniform(0.0, np.pi), far * np.cos(way), far * np.sin(way))
        stem = Ellipse(a, b, 0.0 if round_stem else draw.uniform(0.0, np.pi), 0.0, 0.0)
        c, s = np.cos(stem.turn), np.sin(stem.turn)
        inside = hole.rim(180) @ np.array([[c, -s], [s, c]]) / np.array([a, b])
        if np.hypot(*inside.T).max() < 0.92 and (not round_stem or far < 0.8 * short):
            return stem, hole


def clocks_of(angle: Floats) -> Floats:
    """Clock positions of angles from x (3 o'clock) towards y (12)."""
    return np.asarray((3.0 - angle * 6.0 / np.pi) % 12.0)


@pytest.mark.parametrize("seed", range(50))
def test_outline_with_a_cavity(seed: int) -> None:
    """Elliptical stems and cavities as outlines: areas, centroid, second moments, both moduli in every direction.

    Chords of 2,880 corners lie inside the curve by 1 - sin(u)/u = 8e-7 of the area, u = 2 pi/2880; the wall is a
    difference of two such, of which it is never less than a seventh.
    """
    stem, hole = random_pair(np.random.default_rng(seed), round_stem=False)
    hand, section = by_hand(stem, hole), polygon_section(stem.rim(2880), [hole.rim(2880)])
    assert section.area == pytest.approx(hand.area, rel=4e-6)
    np.testing.assert_allclose(section.centroid, [hand.x, hand.y], atol=1e-6 * stem.a)
    inertia = [[hand.iy, hand.ixy], [hand.ixy, hand.ix]]
    np.testing.assert_allclose(section.inertia, inertia, rtol=4e-6, atol=4e-6 * min(hand.ix, hand.iy))
    clocks = clocks_of(ALL_ROUND)
    np.testing.assert_allclose(section.modulus_near(clocks), hand.ahead, rtol=4e-6)
    np.testing.assert_allclose(section.modulus_far(clocks), hand.behind, rtol=4e-6)


@pytest.mark.parametrize("seed", range(50, 100))
def test_depths_of_sound_wood_round_a_cavity(seed: int) -> None:
    """Round stems read every half degree, as the program keeps them: area, and both moduli about the worst axis."""
    stem, hole = random_pair(np.random.default_rng(seed), round_stem=True)
    hand = by_hand(stem, hole)
    hours = np.arange(720) / 60.0
    readings = tuple(zip(hours.tolist(), (stem.a - _rays(hole, hours)).tolist(), strict=True))
    strength, section = decayed_strength(2.0 * stem.a, readings), measured_shell(2.0 * stem.a, readings)
    assert strength.area[0] == pytest.approx(hand.area, rel=5e-5)
    weakest = int(np.argmin(np.minimum(hand.ahead, hand.behind)))
    worst, sound = clocks_of(ALL_ROUND)[weakest], np.pi * stem.a**3 / 4.0
    assert section.modulus_near(worst) == pytest.approx(hand.ahead[weakest], rel=5e-5)
    assert section.modulus_far(worst) == pytest.approx(hand.behind[weakest], rel=5e-5)
    least = min(hand.ahead[weakest], hand.behind[weakest]) / sound
    assert strength.kept.strength_worst == pytest.approx(least, rel=5e-5)
    assert abs((strength.kept.worst_clock - worst + 3.0) % 6.0 - 3.0) < 0.1  # hours, where it hardly changes


def _rays(hole: Ellipse, hours: Floats) -> Floats:
    """How far a cavity reaches from the origin, inside it, towards clock positions: the quadratic of a ray."""
    way = clock_vector(hours)
    c, s = np.cos(hole.turn), np.sin(hole.turn)
    turned = np.array([[c, -s], [s, c]]) / np.array([hole.a, hole.b])
    d, o = way @ turned, np.array([-hole.x, -hole.y]) @ turned
    dd, do, oo = np.sum(d * d, axis=1), d @ o, o @ o
    return np.asarray((-do + np.sqrt(do**2 - dd * (oo - 1.0))) / dd)
