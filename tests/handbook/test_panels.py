"""Sheets on spans and on soil against published tables, closed forms, and beams and plates solved another way."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given as forall
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.special import j0, kerp
from tests.handbook.cases import Case, cases, judge, of_models

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range
from bolewright.core.ground.boards import layout, leap_frog, sheets_in_line
from bolewright.core.ground.foundation import (
    beam_end,
    long_beam,
    plate_edge,
    plate_inside,
    plate_length,
    short_beam,
    stiffness_length,
)
from bolewright.core.ground.panels import (
    FOOT,
    INCH,
    POUND,
    Panel,
    even_load,
    sheet_section,
    wheel_on_panel,
)
from bolewright.core.ground.workable import STRENGTH_SHARE, Lawn, boards_under_wheel
from bolewright.reference.ground import lawn_state, lawn_states, panel_of, panel_of_rating

PSF = POUND / FOOT**2
STIFF, BEND = POUND * INCH**2 / FOOT, POUND * INCH / FOOT


def plate(given: dict[str, Any], quantity: str) -> float:
    stiffness, modulus = given["D_lb_in"], given["k_pci"]
    found = plate_inside(given["P_lb"], stiffness, modulus)
    names = {"radius_relative_stiffness": plate_length(stiffness, modulus), "defl_centre": found.sag}
    return names.get(quantity, found.pressure)


def strip(given: dict[str, Any], quantity: str) -> float:
    wide, modulus = given["strip_in"], given["k_pci"]
    stiffness = given["EI_per_ft_lb_in2"] * wide / 12.0
    found = long_beam(given["P_lb"], stiffness, modulus, wide)
    names = {"lambda": stiffness_length(stiffness, modulus * wide), "M_max_per_ft": found.moment * 12.0 / wide}
    return names.get(quantity, found.pressure)


def capacity(given: dict[str, Any], quantity: str) -> float:
    found = panel_of_rating(given["rating"]).value
    return {
        "EI_parallel": found.stiffness_along / STIFF,
        "EI_perp": found.stiffness_across / STIFF,
        "FbS_parallel": found.moment_along / BEND,
        "FbS_perp": found.moment_across / BEND,
        "Fvtv": found.shear_through / (POUND / INCH),
    }[quantity]


def spans(given: dict[str, Any], quantity: str) -> float:
    lasting = given["CD"]
    found = even_load(
        given["FbS_lb_in_ft"] * BEND * lasting, given["EI_lb_in2_ft"] * STIFF, given["span_in"] * INCH, given["spans"],
        given["FsIbQ_lb_ft"] * POUND / FOOT * lasting,
    )  # fmt: skip
    if quantity == "defl_at_w":  # the load that just gives span / 240
        return given["span_in"] / 240.0
    return dict(zip(("w_bending", "w_shear", "w_deflection"), found, strict=True))[quantity] / PSF


def section(given: dict[str, Any], quantity: str) -> float:
    whole, _, part = given["thickness"].rpartition("-")
    top, _, under = part.partition("/")
    thick = (float(whole or 0) + float(top) / float(under or 1)) * INCH
    area, inertia, modulus = sheet_section(thick)
    return {"A": area / INCH * 12.0, "I": inertia / INCH**3 * 12.0, "S": modulus / INCH**2 * 12.0}[quantity]


MODELS = {
    "plate_on_winkler": plate,
    "panel_strip_BEF": strip,
    "panel_capacity": capacity,
    "panel_uniform_load": spans,
    "panel_section": section,
    "panel_weight": lambda given, _: panel_of(_inches(given["thickness"])).value.mass_per_area / POUND_MASS * FOOT**2,
}
POUND_MASS = 0.45359237


def _inches(text: str) -> float:
    top, under = text.split("/")
    return float(top) / float(under) * INCH


@pytest.mark.parametrize("case", of_models("ground.csv", MODELS), ids=str)
def test_published(case: Case) -> None:
    judge(case, MODELS)


def endless(given: dict[str, Any], quantity: str) -> float:
    """A published beam on springs taken as endless: by its EI and springs, or by lambda alone."""
    if "lambda" in given:
        end = beam_end(given["P"], given["k_line"] / (4.0 * given["lambda"] ** 4), given["k_line"], 1.0)
        return end.sag if quantity == "defl_end" else end.moment
    stiffness = given.get("EI") or given["E_ksi"] * given["I_in4"]
    line = given.get("k_line") or given["spring_k_kip_in"] / given["spring_spacing_in"]
    found = long_beam(given.get("P") or given["P_mid_kip"], stiffness, line, 1.0)
    return {"M": found.moment, "d": found.sag, "p": found.pressure}[quantity[0]]


def free_ends(given: dict[str, Any], quantity: str) -> float:
    found, end = short_beam(given["P"], given["EI"], given["k_line"], 1.0, given["L"])
    return {"defl_mid": found.sag, "M_mid": found.moment, "defl_end": end}[quantity]


FOUNDATIONS = {
    "beam_on_springs": endless,
    "BEF_infinite_point": endless,
    "BEF_semi_infinite_end_load": endless,
    "BEF_finite_mid_point": free_ends,
}


@pytest.mark.parametrize("case", cases("foundation.csv"), ids=str)
def test_published_beams_on_an_elastic_foundation(case: Case) -> None:
    judge(case, FOUNDATIONS)


def test_long_beam_against_finite_differences() -> None:
    """EI y'''' + k y = 0 with a load in the middle, on a fine grid far longer than 1 / lambda."""
    stiffness, k, load = 20.0, 4.0e5, 1000.0
    n, step = 2001, 0.002
    line = np.zeros((n, n))
    for i in range(2, n - 2):
        line[i, i - 2 : i + 3] = np.array([1.0, -4.0, 6.0, -4.0, 1.0]) * stiffness / step**4
        line[i, i] += k
    for i in (0, 1, n - 2, n - 1):
        line[i, i] = 1.0
    push = np.zeros(n)
    push[n // 2] = load / step
    sag = np.linalg.solve(line, push)
    found = long_beam(load, stiffness, k, 1.0)
    assert found.sag == pytest.approx(sag[n // 2], rel=2e-3)
    moment = -stiffness * (sag[n // 2 - 1] - 2 * sag[n // 2] + sag[n // 2 + 1]) / step**2
    assert found.moment == pytest.approx(moment, rel=3e-2)


def test_end_and_short_beams_in_their_limits() -> None:
    # Hetenyi (1946): an end load sags four times as much; lambda l < pi/4 acts rigid, > pi acts long
    inside, end = long_beam(1.0, 1.0, 4.0, 1.0), beam_end(1.0, 1.0, 4.0, 1.0)
    assert end.sag == pytest.approx(4.0 * inside.sag)
    assert end.moment == pytest.approx(0.3224, rel=1e-3)
    long, _ = short_beam(1.0, 1.0, 4.0, 1.0, 30.0)
    assert long.sag == pytest.approx(inside.sag, rel=1e-6)
    assert long.moment == pytest.approx(inside.moment, rel=1e-6)
    stiff, tip = short_beam(1.0, 1.0, 4.0, 1.0, 0.2)
    assert stiff.sag == pytest.approx(1.0 / (4.0 * 0.2), rel=1e-3)
    assert tip == pytest.approx(stiff.sag, rel=1e-3)


def test_plate_against_hankel_integral() -> None:
    # Winkler plate under a circle: w = q a / k l^2 int J1(a t) J0(0) / (1 + t^4 ...) taken as a ring integral of points
    stiffness, modulus, radius, load = 900.0, 2.5e7, 0.06, 1500.0
    spread = plate_length(stiffness, modulus)

    def point(r: float) -> float:
        """Sag at distance r of a unit point load, l units: 1/(2 pi k l^2) int t J0(t r) / (1 + t^4) dt."""
        value, _ = quad(lambda t: t * j0(t * r / spread) / (1.0 + t**4), 0.0, 60.0, limit=400)
        return value / (2.0 * math.pi * modulus * spread**2)

    even = load / (math.pi * radius**2)
    summed, _ = quad(lambda r: 2.0 * math.pi * r * point(r) * even, 0.0, radius, epsabs=1e-9, limit=60)
    assert plate_inside(load, stiffness, modulus, radius).sag == pytest.approx(summed, rel=1e-3)


# his sag is a straight line in nu, drawn for stiff pavements: at 0.3 it is 1.1 % under the integral
@pytest.mark.parametrize(("poisson", "line"), [(0.0, 0.005), (0.15, 0.005), (0.3, 0.015)])
def test_edge_against_westergaard(poisson: float, line: float) -> None:
    # Westergaard (1926): a point load on the edge sags (1 + 0.4 nu) P / (sqrt 6 k l^2). Westergaard (1948): the moment
    # along the edge grows by 2 (1 + nu) P / (pi (3 + nu)) for each e-fold of l over the contact.
    found = [plate_edge(1.0, 1.0, 1.0, half, poisson) for half in (0.02, 0.04)]
    assert found[0].sag == pytest.approx((1.0 + 0.4 * poisson) / math.sqrt(6.0), rel=line)
    growth = (found[0].moment - found[1].moment) / math.log(2.0)
    assert growth == pytest.approx(2.0 * (1.0 + poisson) / (math.pi * (3.0 + poisson)), rel=0.01)


def test_inside_moment_against_westergaard() -> None:
    # Westergaard (1926) as in Huang, Pavement Analysis and Design: 0.316 P / h^2 (4 log10(l/b) + 1.069) at nu 0.15
    for radius in (0.02, 0.05, 0.1):
        stress = 0.316 * (4.0 * math.log10(1.0 / radius) + 1.069)
        assert plate_inside(1.0, 1.0, 1.0, radius, 0.15).moment == pytest.approx(stress / 6.0, rel=0.01)


@forall(st.floats(200.0, 5000.0), st.floats(0.03, 0.15), st.floats(5e6, 8e7))
def test_lapped_lies_between_inside_and_butted(load: float, radius: float, modulus: float) -> None:
    panel = panel_of(0.5 * INCH).value
    inside, lapped, butted = (wheel_on_panel(load, radius, panel, modulus, j) for j in ("inside", "lapped", "butted"))
    assert inside.pressure <= lapped.pressure * (1 + 1e-12) <= butted.pressure * (1 + 1e-12)
    assert inside.bending <= lapped.bending * (1 + 1e-12) <= butted.bending * (1 + 1e-12)
    # a limp sheet under a wide wheel dips deeper in the middle than even pressure would, by x ker'x at most
    x = np.linspace(0.01, 20.0, 4000)
    assert inside.pressure <= load / (math.pi * radius**2) * (1.0 + float((x * kerp(x)).max()))
    twice = wheel_on_panel(2.0 * load, radius, panel, modulus)
    assert twice.pressure == pytest.approx(2.0 * lapped.pressure)


def test_two_loose_layers_do_less_than_one_thick_one() -> None:
    # mechanics: two loose sheets are twice as stiff as one, one of twice the thickness eight times
    thin = Panel("thin", 0.01, 100.0, 100.0, 50.0, 50.0, 1e5)
    thick = Panel("thick", 0.02, 800.0, 800.0, 200.0, 200.0, 2e5)
    two = wheel_on_panel(1000.0, 0.05, thin, 2e7, "inside", layers=2)
    one = wheel_on_panel(1000.0, 0.05, thick, 2e7, "inside")
    assert one.pressure < two.pressure < wheel_on_panel(1000.0, 0.05, thin, 2e7, "inside").pressure


def test_half_inch_rule_is_workable_on_firm_lawn_and_stops_somewhere() -> None:
    """Common practice of the trade, no published source: half-inch sheets, lapped joints, heavy rounds on a dolly.

    A round 30 in across and 18 in long of green oak at 62 lb/ft3 is 457 lb; with a 65 lb dolly on two wheels, 261 lb
    on each.
    """
    half, wheel = panel_of(0.5 * INCH).value, 261.0 * POUND
    firm, damp, wet = (boards_under_wheel(wheel, 0.05, half, lawn_state(state).lawn) for state in lawn_states())
    assert firm.workable
    assert firm.words.startswith("workable on firm lawn; it stops when the sheets crack")
    assert firm.most_wheel.likely > damp.most_wheel.likely > wet.most_wheel.likely
    assert not wet.workable
    assert not boards_under_wheel(2.0 * wheel, 0.05, half, lawn_state("firm").lawn).workable
    # edge to edge instead of lapped it does not do: one edge carries the whole wheel
    assert not boards_under_wheel(wheel, 0.05, half, lawn_state("firm").lawn, "butted").workable


def test_thickness_under_a_loader() -> None:
    # trade talk on lawns under loaders: 3/4 in and more works, 5/8 in and thinner does not (low authority).
    # A compact loader of 1.8 t on four wheels, pneumatic tyres at 2 bar.
    lawn, load = lawn_state("firm").lawn, 1800.0 * 9.80665 / 4.0 * 1.2
    radius = math.sqrt(load / (math.pi * 200e3))
    thick, thin = (boards_under_wheel(load, radius, panel_of(t * INCH).value, lawn) for t in (0.75, 0.625))
    assert thick.bending.likely < thin.bending.likely
    assert thick.most_wheel.likely > thin.most_wheel.likely


def test_thickness_table() -> None:
    assert panel_of(0.5 * INCH).value.name.startswith("32/16")
    assert panel_of(0.70 * INCH).value.name.startswith("40/20")
    assert panel_of(3.0 * INCH).value.name.startswith("floor 48oc")
    with pytest.raises(BadInput, match="thinner than any"):
        panel_of(0.25 * INCH)


def test_it_stops_where_it_says() -> None:
    lawn, panel = lawn_state("damp").lawn, panel_of(0.75 * INCH).value
    stop = boards_under_wheel(1000.0, 0.06, panel, lawn).most_wheel.likely
    assert boards_under_wheel(stop * 0.999, 0.06, panel, lawn).workable
    assert not boards_under_wheel(stop * 1.001, 0.06, panel, lawn).workable
    assert pytest.approx(1.6 * 0.75) == STRENGTH_SHARE
    assert not boards_under_wheel(stop, 0.06, panel, Lawn("worse", Range(1e6, 1e6, 1e6), 1e3)).workable


@forall(st.floats(0.1, 200.0), st.floats(0.5, 4.0), st.floats(0.0, 0.45))
def test_sheets_cover_the_route_and_one_fewer_does_not(route: float, length: float, share: float) -> None:
    lap = share * length
    count = sheets_in_line(route, length, lap)
    assert length + (count - 1) * (length - lap) >= route - 1e-6
    assert count == 1 or length + (count - 2) * (length - lap) < route + 1e-6


def test_layouts() -> None:
    # counting: 100 ft with 4 x 8 sheets lapped a foot is 15 lengthwise; a wider machine goes crosswise
    foot = FOOT
    assert layout(100 * foot, 3 * foot, 8 * foot, 4 * foot, 1 * foot).sheets == 15
    wide = layout(100 * foot, 5 * foot, 8 * foot, 4 * foot, 1 * foot)
    assert (wide.lanes, wide.sheets) == ((2, 30) if not wide.crosswise else (1, 33))
    assert wide.sheets == 30
    assert layout(0.0, 1.0, 2.0, 1.2, 0.3).sheets == 0


def test_leap_frog() -> None:
    assert leap_frog(15, 20, 10).moves == 0
    short = leap_frog(15, 9, 10)
    assert (short.down, short.moves, short.leap_frog) == (9, 60, True)
    with pytest.raises(BadInput, match="at least 3"):
        leap_frog(15, 2, 10)
