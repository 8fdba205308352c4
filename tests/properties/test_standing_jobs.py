"""Any standing tree that can be written down gets an answer or a plain sentence, never anything else."""

from __future__ import annotations

import json
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bolewright.core.base.errors import BolewrightError
from bolewright.job.faults import JobFaults
from bolewright.job.read import from_tables
from bolewright.planning import machine
from bolewright.planning.standing.stand import stand

SIDES = ("N", "NE", "E", "200 deg", "SW", "W", "NNW")


def lengths(low: float, high: float) -> st.SearchStrategy[str]:
    """A length in metres, sometimes with a spread."""
    return st.builds(
        lambda value, spread: f"{value:.2f} m{spread}",
        st.floats(low, high),
        st.sampled_from(["", "", " ± 5 %"]),
    )


shells = st.dictionaries(st.sampled_from(SIDES), lengths(0.0, 0.5), min_size=1, max_size=5)
drilled = st.fixed_dictionaries({"kind": st.just("drilling"), "height": lengths(0.0, 12.0), "shells": shells})
opened = st.fixed_dictionaries(
    {
        "kind": st.just("opening"),
        "height": lengths(0.0, 12.0),
        "side": st.sampled_from(SIDES),
        "width": lengths(0.0, 3.0),
    }
)
pulled = st.fixed_dictionaries(
    {
        "kind": st.just("pull"),
        "height": lengths(0.5, 12.0),
        "pull": st.sampled_from(["1 kN", "900 lbf", "80 kN"]),
        "tilt": st.sampled_from(["0.02 deg", "0.25 deg", "0.5 deg"]),
    }
)
options = st.fixed_dictionaries(
    {
        "id": st.just("o"),
        "kind": st.sampled_from(["reduce", "thin", "raise"]),
        "by": st.sampled_from(["0 %", "20 %", "100 %"]),
    }
)
standing = st.fixed_dictionaries(
    {"height": lengths(1.0, 60.0), "crown_width": lengths(0.2, 40.0)},
    optional={
        "crown_base": lengths(0.0, 40.0),
        "crown_shape": st.sampled_from(["round", "dome", "cone", "column", "fan"]),
        "crown_filled": st.sampled_from(["0 %", "30 %", "100 %"]),
        "lean": st.sampled_from(["0 deg", "3 deg", "40 deg", "84 deg"]),
        "lean_towards": st.sampled_from(SIDES),
        "sweep": st.sampled_from(["0 m", "1 m", "-2 m"]),
        "season": st.sampled_from(["in leaf", "bare", "wet", "iced"]),
        "terrain": st.sampled_from(["open water", "flat", "open", "suburb", "city"]),
        "wind_form": st.sampled_from(["ASCE", "EN"]),
        "design_gust": st.sampled_from(["5 mph", "70 mph", "149 m/s"]),
        "design_gust_is": st.sampled_from(["gust", "mean"]),
        "wind_from": st.sampled_from(SIDES),
        "roots_lost": st.sampled_from(["0 %", "40 %", "100 %"]),
        "trench": lengths(0.0, 10.0),
        "soil_state": st.sampled_from(["firm", "saturated"]),
    },
)
jobs = st.fixed_dictionaries(
    {
        "schema": st.just(1),
        "job": st.just({"title": "any"}),
        "tree": st.fixed_dictionaries(
            {
                "species": st.sampled_from(["live oak", "white spruce", "sycamore"]),
                "attached": st.just("standing"),
                "dbh": lengths(0.03, 4.0),
            }
        ),
        "standing": standing,
        "inspection": st.fixed_dictionaries({"test": st.lists(st.one_of(drilled, opened, pulled), max_size=3)}),
        "rating": st.fixed_dictionaries({"option": st.lists(options, max_size=1)}),
        "limits": st.just({"samples": 32}),
    }
)


@given(jobs)
@settings(max_examples=20, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
def test_an_answer_or_a_sentence(raw: dict[str, Any]) -> None:
    """Shares between 0 and 1, gusts within what is looked at, JSON without holes; or one sentence with its path."""
    try:
        result = stand(from_tables(raw))
    except (BolewrightError, JobFaults) as fault:
        assert str(fault).strip()
        return
    assert result.status in ("inside", "outside", "not enough known")
    assert 0.0 <= result.gust_m_s.low <= result.gust_m_s.high <= 100.0
    assert 0.0 <= result.share_standing <= 1.0
    for section in result.sections:
        assert 0.0 <= section.loss_of_strength <= 1.0
        assert section.margin.low > 0.0
    assert json.loads(machine.dumps(machine.stand_answer(result)))["gust_m_s"]
