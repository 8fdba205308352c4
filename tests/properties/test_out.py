"""Nothing is lost on the way out, and nothing is moved that is heavier or longer than what moves it takes."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.unit.planning.out_jobs import DOLLY, LEG, LOG, TRAILER, job

from bolewright.planning.haul.out import out

HARD = LOG + LEG.replace("lawn", "pavement") + DOLLY + TRAILER


@settings(max_examples=40)
@given(st.integers(20, 900), st.integers(8, 40), st.integers(250, 2000), st.integers(3, 20))
def test_all_wood_leaves_in_parts_that_fit(payload: int, inches: int, trailer: int, bed: int) -> None:
    result = out(
        job(
            HARD,
            ("310 kg", f"{payload} kg"),
            ("700 kg", f"{trailer} kg"),
            ('"20 in"', f'"{inches} in"'),
            ('length = "10 ft"', f'length = "{bed} ft"'),
        )
    )
    most = max(payload, 80 * 0.45359237)
    assert result.heaviest_kg.high <= most * (1 + 1e-9)
    for piece in result.pieces:
        assert piece.log_kg.high / piece.parts <= most * (1 + 1e-9)
        assert piece.length_m / piece.parts <= bed * 0.3048 * (1 + 1e-9)
    logs = sum(piece.log_kg.high for piece in result.pieces)
    (material,) = (one for one in result.materials if one.kind == "logs")
    assert material.mass_kg.high == pytest.approx(logs)
    loaded = [load for load in result.loads if load.kind == "logs"]
    left = [reason for reason in result.outside if "trailer takes" in reason or "room in trailer" in reason]
    assert left or sum(load.mass_kg for load in loaded) == pytest.approx(logs)
    assert all(load.mass_kg <= trailer * (1 + 1e-9) for load in loaded)
    names = [name for load in loaded for name in load.items]
    assert len(names) == len(set(names))
    assert len(names) + len(left) == sum(piece.parts for piece in result.pieces)
    assert result.trips * most >= logs * (1 - 1e-9)


@settings(max_examples=25)
@given(st.floats(1.0, 150.0), st.floats(1.0, 3.0))
def test_a_longer_way_takes_no_less_time(metres: float, more: float) -> None:
    here, there = (out(job(HARD, ('"100 ft"', f'"{length:.2f} m"'))) for length in (metres, metres * more))
    assert there.hours.likely >= here.hours.likely - 1e-9
    assert there.trips == here.trips
