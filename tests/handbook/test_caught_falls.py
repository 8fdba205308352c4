"""Caught falls and letting run against the published energy model and its published correction."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given as forall
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from tests.handbook.cases import Case, cases, judge, of_models

from bolewright.core.base.errors import BadInput
from bolewright.core.lifting.falls import caught, letting_run, old_rule, peak_pull

G = 9.81  # as the published cases take it


def falling(given: dict[str, Any], quantity: str) -> float:
    weight = given["mass_kg"] * G
    peak = peak_pull(weight, given["fall_before_taut_m"], given["rope_length_m"], given["rope_modulus_N"])
    return peak if quantity == "peak_tension" else peak / weight


MODELS = {
    "suddenly_applied": lambda given, _: peak_pull(given["W"], given["h"], 1.0, given["k"]) / given["W"],
    "falling_piece": falling,
    "brake_run": lambda given, _: letting_run(given["W"], given["fall_m"], given["run_out_m"]),
    "rule_of_thumb_ft": lambda given, _: old_rule(given["W_lb"], given["fall_ft"]),
}
# Nothing to work out: how many trees a study had, and a forum's own figure for a rope not described.
NOT_WORKED_OUT = {"log_rigging_measured", "rule_of_thumb_metric"}


@pytest.mark.parametrize("case", of_models("lifting.csv", MODELS), ids=str)
def test_published(case: Case) -> None:
    judge(case, MODELS)


def test_every_row_of_the_table_is_taken_somewhere() -> None:
    from tests.handbook.test_slings import MODELS as SLINGS

    assert {case.model for case in cases("lifting.csv")} == set(MODELS) | set(SLINGS) | NOT_WORKED_OUT


def test_correction_of_weber() -> None:
    # Weber (2002), ITRS abstract: up to 30 % low at high weight and fall factor, good at low ones
    short = caught(100.0 * G, 0.2, 20.0, 200_000.0)
    assert not short.corrected
    assert short.peak.likely == pytest.approx(short.energy_model)
    long = caught(300.0 * G, 2.0, 6.0, 150_000.0)
    assert long.corrected
    assert long.peak.likely == pytest.approx(20348.78 / 0.7, rel=1e-4)
    assert long.peak.low == pytest.approx(20348.78, rel=1e-4)


def test_peak_against_a_falling_mass_on_a_spring_in_time() -> None:
    # Newton's law integrated step by step, m y'' = m g - k y from the moment the rope is taut
    mass, fall, rope, modulus = 200.0, 1.5, 12.0, 60_000.0
    k = modulus / rope
    path = solve_ivp(
        lambda _, y: [y[1], G - k / mass * y[0]], (0.0, 3.0), [0.0, (2.0 * G * fall) ** 0.5], max_step=1e-3, rtol=1e-9
    )
    assert peak_pull(mass * G, fall, rope, modulus) == pytest.approx(k * path.y[0].max(), rel=1e-5)


@forall(st.floats(10.0, 1e4), st.floats(0.0, 5.0), st.floats(1.0, 40.0), st.floats(1e4, 1e6), st.floats(1.0, 3.0))
def test_more_rope_is_kinder_and_more_fall_is_not(
    weight: float, fall: float, rope: float, modulus: float, more: float
) -> None:
    here = peak_pull(weight, fall, rope, modulus)
    assert here >= 2.0 * weight * (1.0 - 1e-12)
    assert peak_pull(weight, fall, rope * more, modulus) <= here * (1.0 + 1e-12)
    assert peak_pull(weight, fall * more, rope, modulus) >= here * (1.0 - 1e-12)
    assert caught(weight, fall, rope, modulus).peak.low == pytest.approx(here)


def test_nonsense_is_refused() -> None:
    with pytest.raises(BadInput):
        peak_pull(0.0, 1.0, 1.0, 1.0)
    with pytest.raises(BadInput):
        letting_run(10.0, 1.0, 0.0)
