"""Hollow, off-centre, open and measured sections against closed forms, quadrature, published examples and a library.

Sources: strength of materials (solid and hollow round); Huang et al. 2017, R. Soc. Open Sci. 4:160972 (a stem with
t/R 0.30 keeps 76 %); "Equations used to evaluate strength loss associated with wood decay", table in Arboriculture &
Urban Forestry (sections A and B); the finite-element section library sectionproperties (van Leeuwen et al., JOSS 2024).
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray
from sectionproperties.analysis import Section as Meshed
from sectionproperties.pre import Geometry
from shapely import Polygon

from bolewright.core.sections import (
    Section,
    clock_vector,
    coder_loss,
    ellipse,
    formulas_beside,
    hollow_round,
    measured_shell,
    off_centre,
    open_ring,
    polygon_section,
    smiley_fraedrich_loss,
    solid_round,
    strength_kept,
    strength_kept_towards,
    wagener_loss,
)

Floats = NDArray[np.float64]
SOUND = solid_round(2.0)
# (cavity radius, offset, opening in degrees) on a stem of radius 1, decay towards 3 o'clock
CASES = [
    (0.5, 0.0, 0), (0.6, 0.0, 0), (0.7, 0.0, 0), (0.8, 0.0, 0), (0.9, 0.0, 0),
    (0.5, 0.2, 0), (0.5, 0.5, 0), (0.7, 0.2, 0), (0.7, 0.3, 0),
    (0.7, 0.0, 60), (0.7, 0.0, 90), (0.7, 0.0, 120), (0.8, 0.0, 60), (0.6, 0.0, 90),
]  # fmt: skip


def built(cavity: float, offset: float, opening: float) -> Section:
    """The section of a case."""
    if opening:
        return open_ring(2.0, 1.0 - cavity, np.radians(opening), 3.0)
    return off_centre(2.0, 2.0 * cavity, offset, 3.0)


def wood_points(cavity: float, offset: float, opening: float) -> tuple[Floats, Floats]:
    """Points (n, 2) spread over the wood of a case, and the area each stands for: plain pixels, no formula."""
    n = 1400
    side = (np.arange(n) + 0.5) / n * 2.0 - 1.0
    x, y = np.meshgrid(side, side)
    wood = (x**2 + y**2 <= 1.0) & ((x - offset) ** 2 + y**2 > cavity**2)
    if opening:
        wood &= np.abs(np.arctan2(y, x)) > np.radians(opening) / 2.0
    points = np.stack([x[wood], y[wood]], axis=1)
    return points, np.full(len(points), (2.0 / n) ** 2)


@pytest.mark.parametrize(("cavity", "offset", "opening"), CASES)
def test_against_pixels(cavity: float, offset: float, opening: float) -> None:
    """Area, centroid, second moments and oblique stresses of 14 sections by summing pixels: no closed form in it."""
    section = built(cavity, offset, opening)
    points, areas = wood_points(cavity, offset, opening)
    area = areas.sum()
    centroid = areas @ points / area
    x = points - centroid
    inertia = np.einsum("n,ni,nj->ij", areas, x, x)
    assert section.area == pytest.approx(area, rel=5e-4)
    np.testing.assert_allclose(section.centroid, centroid, atol=5e-4)
    np.testing.assert_allclose(section.inertia, inertia, atol=5e-4 * inertia[1, 1])
    for clock in (12.0, 1.0, 2.3, 3.0, 4.0):
        stress = np.abs(x @ np.linalg.solve(inertia, clock_vector(clock)))
        assert 1.0 / section.modulus(clock) == pytest.approx(stress.max(), rel=2e-3)


@pytest.mark.parametrize("ratio", [0.0, 0.3, 0.5, 0.7, 0.9])
def test_hollow_round_closed_forms(ratio: float) -> None:
    """Z = pi (D4 - d4)/(32 D), and the loss (d/D)^4 in every direction."""
    section = hollow_round(0.8, 0.8 * ratio)
    sound = solid_round(0.8)
    assert float(sound.modulus(7.7)) == pytest.approx(np.pi * 0.8**3 / 32.0, rel=1e-14)
    kept = strength_kept(section, sound)
    assert kept.strength_worst == pytest.approx(1.0 - ratio**4, rel=1e-12)
    assert kept.strength_best == pytest.approx(1.0 - ratio**4, rel=1e-12)
    assert kept.stiffness_worst == pytest.approx(1.0 - ratio**4, rel=1e-12)
    assert kept.area == pytest.approx(1.0 - ratio**2, rel=1e-12)


def test_shell_of_three_tenths_keeps_76_percent() -> None:
    """Huang et al. 2017: at t/R 0.30 a hollow stem carries 76 % of a solid one."""
    assert strength_kept(hollow_round(2.0, 1.4), SOUND).strength_worst == pytest.approx(0.76, abs=0.005)


@pytest.mark.parametrize("cavity", [0.3, 0.5, 0.7])
@pytest.mark.parametrize("offset", [0.05, 0.2, 0.3])
def test_off_centre_by_parallel_axis(cavity: float, offset: float) -> None:
    """The textbook sum: solid minus hole, both moved to the common centroid."""
    section = off_centre(2.0, 2.0 * cavity, offset, 3.0)
    hole = np.pi * cavity**2
    shift = -hole * offset / (np.pi - hole)
    solid_part = np.pi / 4.0 + np.pi * shift**2
    hole_part = np.pi / 4.0 * cavity**4 + hole * (offset - shift) ** 2
    assert float(section.second_moment(3.0)) == pytest.approx(solid_part - hole_part, rel=1e-12)
    assert float(section.modulus_near(3.0)) == pytest.approx((solid_part - hole_part) / (1.0 - shift), rel=1e-12)
    assert float(section.modulus_far(3.0)) == pytest.approx((solid_part - hole_part) / (1.0 + shift), rel=1e-12)
    sideways = np.pi / 4.0 * (1.0 - cavity**4)
    assert float(section.modulus(12.0)) == pytest.approx(sideways, rel=1e-12)


def test_open_ring_loses_most_when_loaded_aslant() -> None:
    """t/R 0.30 with 90 degrees open: 64.0 % lost towards the opening, 30.9 % sideways, 66.2 % at the worst slant."""
    ring = open_ring(2.0, 0.3, np.radians(90.0), 3.0)
    towards, sideways = 1.0 - strength_kept_towards(ring, SOUND, [3.0, 12.0])
    assert towards == pytest.approx(0.640, abs=5e-4)
    assert sideways == pytest.approx(0.309, abs=5e-4)
    assert strength_kept(ring, SOUND).strength_worst < 1.0 - towards


def test_half_ring_of_no_thickness() -> None:
    """A thin half tube: centroid at 2 R/pi from the centre (textbook), within the wall's thickness squared."""
    ring = open_ring(2.0, 1e-4, np.pi, 3.0)
    assert ring.centroid[0] == pytest.approx(-2.0 / np.pi, rel=1e-4)


@pytest.mark.parametrize("clock", [12.0, 1.0, 4.5])
def test_ellipse(clock: float) -> None:
    """I = pi a3 b/4 along the long axis, pi a b3/4 across; a circle when the axes are equal."""
    section = ellipse(1.2, 0.8, clock)
    a, b = 0.6, 0.4
    assert float(section.modulus(clock)) == pytest.approx(np.pi / 4.0 * a**2 * b, rel=1e-12)
    assert float(section.modulus(clock + 3.0)) == pytest.approx(np.pi / 4.0 * a * b**2, rel=1e-12)
    assert float(ellipse(0.7, 0.7, clock).modulus(2.2)) == pytest.approx(
        float(solid_round(0.7).modulus(0.0)), rel=1e-12
    )


def test_published_section_a() -> None:
    """Section A: Coder 13 %, Wagener 22 %, Smiley and Fraedrich 22 %, true loss of I 12 %; d/D 0.6, area 35 %."""
    assert float(coder_loss(0.6)) == pytest.approx(0.13, abs=0.005)
    assert float(wagener_loss(0.6)) == pytest.approx(0.22, abs=0.005)
    assert float(smiley_fraedrich_loss(0.6, 0.0)) == pytest.approx(0.22, abs=0.005)
    kept = strength_kept(hollow_round(2.0, 1.2), SOUND)
    assert 1.0 - kept.stiffness_worst == pytest.approx(0.12, abs=0.015)  # measured decay was not quite round
    assert 1.0 - kept.area == pytest.approx(0.35, abs=0.015)


def test_published_section_b() -> None:
    """Section B, off-centre: Coder 4 %, Wagener 9 %, Smiley and Fraedrich 14 %, true loss of I 28 %.

    The same cavity (d/D 0.447) at the rim of the stem explains the 28 %: what the formulas miss is its place.
    """
    assert float(coder_loss(0.447)) == pytest.approx(0.04, abs=0.005)
    assert float(wagener_loss(0.447)) == pytest.approx(0.09, abs=0.005)
    assert float(smiley_fraedrich_loss(0.447, 0.055)) == pytest.approx(0.14, abs=0.005)
    loss = [1.0 - strength_kept(off_centre(2.0, 0.894, e, 3.0), SOUND).stiffness_worst for e in (0.0, 0.45, 0.553)]
    assert loss[0] == pytest.approx(0.04, abs=0.005)
    assert loss[1] < 0.28 < loss[2]
    off = strength_kept(off_centre(2.0, 0.894, 0.49, 3.0), SOUND)
    assert all(formula.error < -0.1 for formula in formulas_beside(off, 0.447, 0.055))


def random_sections(count: int) -> list[tuple[Section, Floats, list[Floats]]]:
    """Hollow, off-centre and open sections turned at random, each as an exact 64-cornered outline with its holes."""
    draw = np.random.default_rng(7)
    turn = np.linspace(0.0, 12.0, 64, endpoint=False)
    found = []
    for number in range(count):
        radius, clock, cavity = draw.uniform(0.1, 0.6), draw.uniform(0.0, 12.0), draw.uniform(0.2, 0.75)
        rim = radius * clock_vector(turn)
        hole = radius * cavity * clock_vector(turn)
        if number % 3 == 0:
            outline, holes = rim, [hole]
        elif number % 3 == 1:
            outline, holes = rim, [hole + radius * draw.uniform(0.0, 0.95 - cavity) * clock_vector(clock)]
        else:
            half = draw.uniform(0.4, 2.5)
            hours = clock + np.linspace(half, 12.0 - half, 48)
            wall = (radius * clock_vector(hours), radius * cavity * clock_vector(hours[::-1]))
            outline, holes = np.concatenate(wall), []
        found.append((polygon_section(outline, holes), outline, holes))
    return found


@pytest.mark.slow
def test_against_sectionproperties() -> None:
    """30 random sections meshed with finite elements: area, centroid, second moments, and stress in oblique bending."""
    for number, (section, outline, holes) in enumerate(random_sections(30)):
        geometry = Geometry(Polygon(outline, holes))
        geometry.create_mesh(mesh_sizes=[1.0], coarse=True)
        meshed = Meshed(geometry)
        meshed.calculate_geometric_properties()
        ixx, iyy, ixy = meshed.get_ic()
        assert section.area == pytest.approx(meshed.get_area(), rel=1e-9)
        np.testing.assert_allclose(section.centroid, meshed.get_c(), atol=1e-9)
        np.testing.assert_allclose(section.inertia, [[iyy, ixy], [ixy, ixx]], rtol=1e-8, atol=1e-9 * iyy)
        if number % 3 == 0 and number:  # centred holes are symmetric: one of them is enough
            continue
        clock = 0.7 * number
        towards = clock_vector(clock)
        stress = meshed.calculate_stress(mxx=towards[1], myy=-towards[0]).get_stress()[0]["sig_zz_m"]
        assert 1.0 / float(section.modulus(clock)) == pytest.approx(np.abs(stress).max(), rel=1e-8)


def test_closed_forms_are_the_limit_of_polygons() -> None:
    """The round closed forms against fine polygons, which the library above has checked."""
    turn = np.linspace(0.0, 12.0, 4000, endpoint=False)
    rim, hole = clock_vector(turn), 0.5 * clock_vector(turn) + 0.3 * clock_vector(4.0)
    for section, exact in (
        (polygon_section(rim, [hole]), off_centre(2.0, 1.0, 0.3, 4.0)),
        (polygon_section(sector(0.7, 1.5, 2.0)), open_ring(2.0, 0.3, 1.5 * np.pi / 3.0, 2.0)),
        (polygon_section(rim * [0.6, 1.0]), ellipse(2.0, 1.2, 12.0)),
    ):
        assert section.area == pytest.approx(exact.area, rel=2e-6)
        np.testing.assert_allclose(section.centroid, exact.centroid, atol=2e-6)
        np.testing.assert_allclose(section.inertia, exact.inertia, atol=2e-6)
        clocks = np.linspace(0.0, 12.0, 97)
        np.testing.assert_allclose(section.modulus_near(clocks), exact.modulus_near(clocks), rtol=1e-5)


def sector(inner: float, half_hours: float, clock: float) -> Floats:
    """Outline of a ring of radius 1 open over +-half_hours about a clock position."""
    hours = clock + np.linspace(half_hours, 12.0 - half_hours, 4000)
    return np.concatenate([clock_vector(hours), inner * clock_vector(hours[::-1])])


@pytest.mark.parametrize("count", [12, 24])
def test_measured_shell_finds_an_off_centre_cavity(count: int) -> None:
    """Readings taken on a known off-centre hole give back its strength: within 2 % by 12 readings, 0.5 % by 24."""
    cavity, offset = 0.5, 0.3
    hours = np.arange(count) * 12.0 / count
    angle = (hours - 2.0) * np.pi / 6.0
    depth = 1.0 - (offset * np.cos(angle) + np.sqrt(cavity**2 - (offset * np.sin(angle)) ** 2))
    measured = measured_shell(2.0, list(zip(hours, depth, strict=True)))
    exact = off_centre(2.0, 1.0, offset, 2.0)
    tolerance = 0.02 if count == 12 else 0.005
    clocks = np.linspace(0.0, 12.0, 49)
    np.testing.assert_allclose(measured.modulus(clocks), exact.modulus(clocks), rtol=tolerance)
    assert measured.area == pytest.approx(exact.area, rel=tolerance)


def test_measured_shell_with_one_reading_is_a_hollow_round() -> None:
    """The same shell all round is the concentric closed form."""
    measured, exact = measured_shell(0.9, [(5.0, 0.1)]), hollow_round(0.9, 0.7)
    assert measured.area == pytest.approx(exact.area, rel=1e-5)
    np.testing.assert_allclose(measured.inertia, exact.inertia, atol=1e-5 * exact.inertia[0, 0])


def test_measured_shell_with_an_opening_is_an_open_ring() -> None:
    """Zero readings over a quarter of the clock against the open ring."""
    edge = 1e-3
    readings = [(0.0, 0.3), (1.5 - edge, 0.3), (1.5, 0.0), (4.5, 0.0), (4.5 + edge, 0.3), (8.0, 0.3)]
    measured, exact = measured_shell(2.0, readings), open_ring(2.0, 0.3, np.pi / 2.0, 3.0)
    clocks = np.linspace(0.0, 12.0, 49)
    assert measured.area == pytest.approx(exact.area, rel=5e-3)
    np.testing.assert_allclose(measured.modulus(clocks), exact.modulus(clocks), rtol=1e-2)
