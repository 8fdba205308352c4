"""Bearing, presumptive values, subgrade moduli and stress spread against published values and worked examples."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given as forall
from hypothesis import strategies as st
from scipy.integrate import dblquad
from tests.handbook.cases import Case, cases, judge, of_models
from tests.handbook.test_panels import MODELS as PANELS
from tests.handbook.test_ruts import MODELS as RUTS

from bolewright.core.base.errors import BadInput
from bolewright.core.ground.bearing import (
    Factors,
    Soil,
    bearing_factors,
    corrections,
    general_bearing,
    terzaghi_bearing,
    terzaghi_factors,
)
from bolewright.core.ground.contact import contact_radius, mean_pressure, nominal_pressure, track_pressure
from bolewright.core.ground.stress import spread_two_to_one, under_circle, under_point
from bolewright.core.ground.subgrade import PCI, between_points, subgrade_faa, subgrade_for_size, subgrade_pca
from bolewright.reference.ground import pressure_mark, presumptive, soil_spring, subgrade_points

FORMS = {"Ngamma_2(Nq-1)tan": "Eurocode 7", "Ngamma_Vesic": "Vesic"}


def factors(given: dict[str, Any], quantity: str) -> float:
    found = bearing_factors(math.radians(given["phi_deg"]), FORMS.get(quantity, "Vesic"))
    return {"Nq": found.surcharge, "Nc": found.cohesion}.get(quantity, found.weight)


def terzaghi(given: dict[str, Any], _: str, local: bool = False, cohesion: bool = True) -> float:
    rounded = 0.867 / (1.3 * 2.0 / 3.0) if local else 1.0  # the sheet prints 1.3 x 2/3 as 0.867
    soil = Soil(given["c_kPa"] * rounded if cohesion else 0.0, 0.0, given["gamma_kN_m3"])
    number = Factors(given["Nc"], given["Nq"], given["Ngamma"])
    return terzaghi_bearing(soil, number, given["B_m"], given["Df_m"], given["shape"], local)


def surface(given: dict[str, Any], _: str) -> float:
    soil = Soil(given["c_kPa"], 0.0, given["gamma_kN_m3"])
    number = Factors(given["Nc_prime"], given["Nq_prime"], given["Ng_prime"])
    return terzaghi_bearing(soil, number, given["B_m"], local=True)


def hansen(given: dict[str, Any], quantity: str) -> float:
    soil = Soil(given["c_t_m2"], math.radians(given["phi_deg"]), given["gamma_eff_t_m3"])
    form = bearing_factors(soil.friction, "Brinch Hansen 1961")
    found = corrections(soil, given["B_eff_m"], given["L_eff_m"], given["D_m"], given["V_t"], given["H_t"])
    if quantity == "qu":  # the bulletin adds the surcharge of the soil and water beside as it is
        return soil.cohesion * form.cohesion * found.shape_c * found.depth_c * found.slant_c + given["q_t_m2"]
    names = {
        "sc": found.shape_c, "dc": found.depth_c, "ic": found.slant_c, "sgamma": found.shape_g,
        "iq": found.slant_q, "igamma": found.slant_g, "Nq": form.surcharge, "Nc": form.cohesion,
    }  # fmt: skip
    return names.get(quantity, form.weight)


def pad(given: dict[str, Any], quantity: str) -> float:
    width, length, deep = given["B_m"], given["L_m"], given["D_m"]
    load = 1818.28125
    if quantity == "V_d":
        own = width * length * deep * given["gamma_conc"]
        return given["gamma_G"] * (given["VG_kN"] + own) + given["gamma_Q"] * given["VQ_kN"]
    soil = Soil(0.0, math.radians(given["phi_deg"]), given["gamma_kN_m3"])
    form = bearing_factors(soil.friction)
    number = Factors(form.cohesion, form.surcharge, 1.75 * (form.surcharge - 1.0) * math.tan(soil.friction))
    found = corrections(soil, width, length, deep, load, 0.0)
    return load / (general_bearing(soil, width, deep, number, found) * width * length / 1.4)


def code_value(given: dict[str, Any], quantity: str) -> float:
    column = {"vertical": "allowable_psf", "lateral_bearing": "lateral_psf_ft"}.get(quantity)
    names = {"sliding_friction": "sliding_friction", "sliding_cohesion": "sliding_cohesion_psf"}
    return float(presumptive("IBC", given["class"])[column or names[quantity]])


def subgrade(given: dict[str, Any], _: str) -> float:
    return (subgrade_faa if "FAA" in given["formula"] else subgrade_pca)(given["CBR"]) / PCI


def spring(given: dict[str, Any], quantity: str) -> float:
    low, high = soil_spring(given["soil"]).value
    value = low if quantity == "ks_low" else high
    assert value is not None
    return value / 1e6


MODELS = {
    "bearing_factors": factors,
    "terzaghi_factors": lambda given, quantity: terzaghi_factors(math.radians(given["phi_deg"]))[quantity == "Nq"],
    "terzaghi_general": terzaghi,
    "terzaghi_local": lambda given, quantity: terzaghi(given, quantity, local=True),
    "terzaghi_general_c0": lambda given, quantity: terzaghi(given, quantity, cohesion=False),
    "terzaghi_local_square_surface": surface,
    "brinch_hansen_short_term": hansen,
    "brinch_hansen_long_term": hansen,
    "EC7_DA2_pad": pad,
    "presumptive_bearing": code_value,
    "presumptive_bearing_24CFR": lambda given, _: float(presumptive("24 CFR", given["class"])["allowable_psf"]),
    "k_from_CBR": subgrade,
    "k_from_CBR_table": lambda given, _: between_points(given["soaked_CBR"], subgrade_points("IRC 58")) / 1e6,
    "CBR_from_k": lambda given, _: between_points(
        given["k_pci"], [(round(k / PCI, 6), ratio) for ratio, k in subgrade_points("Huang")]
    ),
    "ks_table_Bowles": spring,
    "ks_size_effect": lambda given, _: subgrade_for_size(
        given["k_0.3m_plate_MN_m3"], given["B_m"], given["soil"] == "sand"
    ),
    "boussinesq_point": lambda given, _: under_point(given["P_N"], given["z_m"], given["r_m"]),
    "boussinesq_circle_centre": lambda given, _: under_circle(given["q"], 1.0, given["z_over_radius"]),
    "two_to_one_spread": lambda given, _: spread_two_to_one(given["P"], given["B"], given["L"], given["z"]),
    "nominal_ground_pressure": lambda given, _: (
        nominal_pressure(given["wheel_load_kg"] * 9.81, given["radius_m"], given["width_m"]) / 1000.0
    ),
    "car_tyre": lambda given, _: mean_pressure(given["W_lb"], given["contact_in2"]),
    "turf_pressure_reference": lambda given, _: pressure_mark(given["what"]).value / 1000.0,
}


@pytest.mark.parametrize("case", of_models("ground.csv", MODELS), ids=str)
def test_published(case: Case) -> None:
    judge(case, MODELS)


def test_every_row_of_the_table_is_taken() -> None:
    assert {case.model for case in cases("ground.csv")} == set(MODELS) | set(PANELS) | set(RUTS)


def test_circle_against_points_summed() -> None:
    # Boussinesq's point load integrated over a circle of radius 1 by quadrature
    summed, _ = dblquad(lambda r, _angle: r * under_point(1.0, 0.8, r), 0.0, 2.0 * math.pi, 0.0, 1.0)
    assert under_circle(1.0, 1.0, 0.8) == pytest.approx(summed, rel=1e-8)


def test_a_contact_circle_carries_its_load() -> None:
    # definition: area x pressure = load
    radius = contact_radius(2000.0, 200_000.0)
    assert math.pi * radius**2 * 200_000.0 == pytest.approx(2000.0)
    assert track_pressure(10_000.0, 0.2, 1.0) == pytest.approx(25_000.0)


@forall(st.floats(0.5, 44.0), st.floats(0.1, 5.0), st.floats(1.0, 50.0))
def test_stronger_soil_bears_more(degrees: float, more: float, cohesion: float) -> None:
    here, there = (bearing_factors(math.radians(d)) for d in (degrees, degrees + more))
    assert there.cohesion > here.cohesion > math.pi + 2.0 - 1e-9
    assert there.surcharge > here.surcharge
    assert there.weight > here.weight
    weak, strong = (Soil(c, math.radians(degrees), 18.0) for c in (cohesion, cohesion * (1.0 + more)))
    assert terzaghi_bearing(strong, here, 1.0) > terzaghi_bearing(weak, here, 1.0)


@pytest.mark.parametrize(
    "call",
    [
        lambda: bearing_factors(math.radians(60.0)),
        lambda: bearing_factors(0.5, "Nobody"),
        lambda: corrections(Soil(1.0, 0.0, 1.0), 1.0, 1.0, 0.0, 10.0, 2.0),
        lambda: under_point(1.0, 0.0),
        lambda: subgrade_faa(0.0),
        lambda: between_points(200.0, subgrade_points("IRC 58")),
        lambda: presumptive("IBC", "peat"),
    ],
)
def test_nonsense_is_refused(call: Any) -> None:
    with pytest.raises(BadInput):
        call()
