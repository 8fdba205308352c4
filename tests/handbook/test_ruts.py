"""Cone index from moisture, mobility numbers and ruts against published relations worked out."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given as forall
from hypothesis import strategies as st
from tests.handbook.cases import Case, judge, of_models

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range
from bolewright.core.ground.ruts import (
    PSI,
    Tyre,
    bearing_ratio_of_cone_drop,
    bekker_sinkage,
    brixius_number,
    cohesion_of_cone,
    cone_index,
    first_rut,
    later_rut,
    limiting_cone_index,
    maclaurin_number,
    peat_cone_index,
    rut,
    turnage_number,
    tyre_deflection,
)
from bolewright.reference.ground import lawn_state, lawn_states


def wheel(given: dict[str, Any], quantity: str) -> float:
    load, index = given["wheel_load_kg"] * 9.81, given["CI_kPa"] * 1000.0
    tyre = Tyre(given["b_m"], given["d_m"], given["section_h_m"], given["tyre_kPa"] * 1000.0)
    first = first_rut(maclaurin_number(index, load, tyre), tyre.diameter)
    if quantity.startswith("rut_n_pass_a"):
        return later_rut(first, given["passes"], float(quantity[-1]))
    return {
        "tyre_deflection": tyre_deflection(load, tyre.pressure),
        "N_Turnage": turnage_number(index, load, tyre),
        "N_Maclaurin": maclaurin_number(index, load, tyre),
        "N_Brixius": brixius_number(index, load, tyre),
        "limiting_CI": limiting_cone_index(load, tyre) / 1000.0,
        "rut_first_pass_N_M": first,
        "rut_first_pass_N_T": first_rut(turnage_number(index, load, tyre), tyre.diameter),
    }[quantity]


def bekker(given: dict[str, Any], _: str) -> float:
    return bekker_sinkage(given["p_kPa"], given["b_m"], given["kc_kN_m_n1"], given["kphi_kN_m_n2"], given["n"])


MODELS = {
    "rut": wheel,
    "CI_from_moisture": lambda given, _: cone_index(given["USCS"], given["gravimetric_w_percent"]) / PSI,
    "CI_peat": lambda given, _: peat_cone_index(given["w_percent"]) / 1000.0,
    "DCP_CBR": lambda given, _: bearing_ratio_of_cone_drop(given["DPI_mm_per_blow"]),
    "undrained_strength": lambda given, _: cohesion_of_cone(given["CI_kPa"]),
    "bekker_sinkage": bekker,
}
CART = Tyre(0.12, 0.40, 0.10, 200_000.0)


@pytest.mark.parametrize("case", of_models("ground.csv", MODELS), ids=str)
def test_published(case: Case) -> None:
    judge(case, MODELS)


@forall(st.floats(5.0, 45.0), st.floats(1.01, 2.0), st.sampled_from(["SM", "CL", "ML"]))
def test_wetter_is_softer(moisture: float, more: float, soil: str) -> None:
    assert cone_index(soil, min(moisture * more, 100.0)) < cone_index(soil, moisture)


@forall(st.floats(1e5, 3e6), st.floats(100.0, 5e3), st.floats(1.0, 3.0), st.integers(1, 50), st.integers(0, 50))
def test_ruts_deepen_with_load_softness_and_passes(
    index: float, load: float, more: float, passes: int, further: int
) -> None:
    here = rut(Range.exact(index), load, CART, passes, (3.0, 4.0))
    assert 0.0 < here.low <= here.likely <= here.high
    assert rut(Range.exact(index), load, CART, passes + further, (3.0, 4.0)).likely >= here.likely * (1.0 - 1e-12)
    softer = rut(Range(index / more, index, index), load, CART, passes, (3.0, 4.0))
    assert softer.high >= here.high * (1.0 - 1e-12)


def test_a_lawn_is_softer_the_wetter_it_is() -> None:
    states = [lawn_state(state) for state in lawn_states()]
    assert [s.lawn.state for s in states] == ["firm", "damp", "wet"]
    for firmer, softer in zip(states, states[1:], strict=False):
        assert softer.cone.likely < firmer.cone.likely
        assert softer.lawn.modulus.likely < firmer.lawn.modulus.likely
        assert softer.lawn.pressure_limit < firmer.lawn.pressure_limit
        assert softer.exponents[0] < firmer.exponents[0]
    assert lawn_state("firm", limit=50e3).lawn.pressure_limit == 50e3
    assert all(s.status == "common practice" for s in states)


def test_nonsense_is_refused() -> None:
    for call in (
        lambda: cone_index("GW", 20.0),
        lambda: cone_index("CL", 0.0),
        lambda: later_rut(0.1, 0.0, 3.0),
        lambda: first_rut(0.0, 1.0),
        lambda: lawn_state("frozen"),
    ):
        with pytest.raises(BadInput):
            call()
