"""Slings, blocks, wraps, pulleys, drags and crane rules against published charts and worked examples."""

from __future__ import annotations

import math
from typing import Any

import pytest
from tests.handbook.cases import Case, judge, of_models

from bolewright.core.base.errors import BadInput
from bolewright.core.base.sourced import Sourced, Status
from bolewright.core.lifting.blocks import advantage, bend_loss, block_load, holding_pull, redirect_load, wrap_ratio
from bolewright.core.lifting.crane import net_capacity, reliable_weight_needed
from bolewright.core.lifting.drag import best_rope_angle, drag_pull, roll_up_pull
from bolewright.core.lifting.ropes import used, working_load_limit
from bolewright.core.lifting.slings import (
    choke_factor,
    leg_factor,
    leg_rating,
    leg_tension,
    leg_tension_from_lengths,
    stability_ratio,
    two_leg_tensions,
    two_point_pick,
)
from bolewright.reference.rigging import bend_points, careful, choke_steps, rigging

SYSTEMS = {
    "2:1 moving pulley": ((2,), 0),
    "2:1 moving + 1 redirect": ((2,), 1),
    "3:1 Z": ((3,), 0),
    "3:1 Z + 1 redirect": ((3,), 1),
    "4:1 (2:1 on 2:1)": ((2, 2), 0),
    "5:1 simple": ((5,), 0),
}


def sling_angle(given: dict[str, Any], quantity: str) -> float:
    factor = leg_factor(math.radians(given["angle_from_horizontal_deg"]))
    return factor if quantity == "tension_factor" else 1.0 / factor


def sling_lengths(given: dict[str, Any], quantity: str) -> float:
    height, length = (next(v for k, v in given.items() if k.startswith(letter)) for letter in ("H_", "L_"))
    if quantity == "tension":
        return leg_tension_from_lengths(given["leg_load_lb"], height, length)
    return leg_rating(given["rating_lb"], height, length)


def choke(given: dict[str, Any], _: str) -> float:
    middle = (given["choke_angle_deg_from"] + given["choke_angle_deg_to"]) / 2.0
    return choke_factor(math.radians(middle), choke_steps())


def unequal(given: dict[str, Any], quantity: str) -> float:
    angles = (math.radians(given[f"angle{n}_from_horizontal_deg"]) for n in (1, 2))
    return two_leg_tensions(given["W"], *angles)[("T1", "T2").index(quantity)]


def block(given: dict[str, Any], _: str) -> float:
    pull = given.get("line_pull_lb") or given["line_pull_kg"]
    return block_load(pull, math.radians(given["angle_deg"]))


def wraps(given: dict[str, Any], quantity: str) -> float:
    turned = given.get("wrap_rad") or given["wraps"] * 2.0 * math.pi
    load = given.get("load_N") or given.get("m_kg", 0.0) * given.get("g", 0.0)
    return wrap_ratio(given["mu"], turned) if quantity == "ratio" else holding_pull(load, given["mu"], turned)


def pulleys(given: dict[str, Any], _: str) -> float:
    system = given["system"]
    if "efficiency" in given:
        parts, redirects = SYSTEMS[system]
        return advantage(parts, given["efficiency"], redirects)
    return advantage((3,), float(system.split("efficiency ")[1].split(" ")[0]))


def redirect(given: dict[str, Any], quantity: str) -> float:
    angle = math.radians(given["angle_deg"])
    return redirect_load(given["load"], given["efficiency"], angle, raising=quantity == "block_load_raising")


def crane_limit(given: dict[str, Any], _: str) -> float:
    names = {
        "crawler, no outriggers": "crawler, no outriggers",
        "crawler, outriggers extended": "crawler, outriggers extended",
        "truck/wheel, with or without outriggers": "truck or wheel",
        "locomotive, boom <=60 ft": "locomotive, boom to 60 ft",
        "locomotive, outriggers extended": "locomotive, outriggers extended",
    }
    return rigging("crane share of tipping", names[given["mounting"]]).value.likely


def tipping(given: dict[str, Any], _: str) -> float:
    return stability_ratio(given["W_machine"] * given["x_cg_to_tip_axis"], given["load"] * given["x_load_to_tip_axis"])


MODELS = {
    "sling_angle": sling_angle,
    "sling_LH": sling_lengths,
    "choker_angle_factor": choke,
    "choker_rating": lambda given, _: rigging("hitch", "choker, synthetic").value.likely,
    "two_leg_unequal": unequal,
    "two_point_pick": lambda given, _: two_point_pick(given["W"], given["L_between"], given["x_cg_from_A"])[0],
    "block_load_factor": lambda given, _: block_load(1.0, math.radians(given["angle_between_parts_deg"])),
    "block_load": block,
    "capstan": wraps,
    "capstan_vnotch": lambda given, _: wrap_ratio(
        given["mu"], given["wrap_rad"], math.radians(given["notch_angle_deg"])
    ),
    "mechanical_advantage": pulleys,
    "redirect_block": redirect,
    "wire_rope_bend_loss": lambda given, _: bend_loss(given["D_over_d"], bend_points()),
    "skid_pull": lambda given, _: (
        drag_pull(given["W"], given["mu"], math.radians(given["slope_deg"])) if "slope_deg" in given else math.nan
    ),
    "skid_pull_inclined_rope": lambda given, _: drag_pull(
        given["W"], given["mu"], rope=math.radians(given["rope_angle_above_horizontal_deg"])
    ),
    "crane_net_capacity": lambda given, _: net_capacity(
        given["chart_lb"], given["block_lb"], given["ball_lb"], given["rigging_lb"], given["stowed_jib_deduct_lb"]
    ),
    "crane_stability_limit": crane_limit,
    "crane_75pct_rule": lambda given, _: 0.75 * given["rated_at_longest_radius_lb"],
    "tipping": tipping,
    "rope_WLL": lambda given, _: working_load_limit(given["MBS_lb"], given["knot_efficiency"], given["design_factor"]),
}
# The charts print block factors and a few others to two decimals: half a unit in the last place either way, and the
# makers' own rounding of up to one.
ROUNDED = {"block_load_factor": 0.0101}


@pytest.mark.parametrize("case", of_models("lifting.csv", MODELS), ids=str)
def test_published(case: Case) -> None:
    judge(case, MODELS, ROUNDED.get(case.model, 1e-9))


def test_flat_legs_are_refused() -> None:
    # sling makers' charts: below 30 degrees from the horizontal do not use
    assert leg_tension(1000.0, 2, math.radians(30.0)) == pytest.approx(1000.0)
    with pytest.raises(BadInput, match="too flat"):
        leg_tension(1000.0, 2, math.radians(29.0))


def test_on_the_line_between_two_chokes_the_lower_counts() -> None:
    assert choke_factor(math.radians(120.0), choke_steps()) == 0.87
    assert choke_factor(math.radians(121.0), choke_steps()) == 1.0
    assert choke_factor(0.0, choke_steps()) == 0.49


def test_a_sheave_below_the_table_is_refused() -> None:
    # between table points a straight line: 6 -> 21 %, 8 -> 17 %
    assert bend_loss(7.0, bend_points()) == pytest.approx(0.19)
    assert bend_loss(40.0, bend_points()) == 0.09
    with pytest.raises(BadInput, match="larger block"):
        bend_loss(4.0, bend_points())


def test_best_rope_angle_is_the_least_pull() -> None:
    # calculus: d/dt of the pull is 0 at tan t = mu
    best = best_rope_angle(0.5)
    assert math.tan(best) == pytest.approx(0.5)
    pulls = [drag_pull(1000.0, 0.5, rope=best + step) for step in (-0.05, 0.0, 0.05)]
    assert min(pulls) == pulls[1]


def test_parbuckle_halves_the_pull() -> None:
    # statics of a moving pulley: each of two parts holds half of W sin a
    assert roll_up_pull(1000.0, math.radians(30.0)) == pytest.approx(250.0)
    assert roll_up_pull(1000.0, math.radians(30.0), bight=False) == pytest.approx(500.0)


def test_rope_limit_carries_its_weakest_status() -> None:
    knot, factor = careful("efficiency", "knot"), careful("design factor", "lowering line")
    found = used(1000.0, 20_000.0, knot, factor)
    assert found.limit == pytest.approx(20_000.0 * 0.5 / 10.0)
    assert (found.words, found.status) == ("inside the limit", Status.MEMORY)
    tagged = used(1000.0, 20_000.0, knot, factor, tag=900.0)
    assert (tagged.words, tagged.status) == ("outside the limit", Status.MEASURED)
    sure = Sourced(1.0, "tag", Status.CONFIRMED)
    assert used(1.0, 10.0, sure, Sourced(5.0, "tag", Status.CONFIRMED)).status is Status.CONFIRMED


def test_reliable_weight_rule() -> None:
    # 29 CFR 1926.1417(o)(3): 75 % of the rating at the longest radius
    assert not reliable_weight_needed(6000.0, 8000.0)
    assert reliable_weight_needed(6001.0, 8000.0)


@pytest.mark.parametrize(
    "call",
    [
        lambda: leg_factor(0.0),
        lambda: two_point_pick(1.0, 0.0, 0.0),
        lambda: block_load(-1.0, 0.0),
        lambda: advantage((), 0.9),
        lambda: advantage((3,), 0.0),
        lambda: net_capacity(1000.0, 600.0, 400.0),
        lambda: working_load_limit(1000.0, 1.2, 5.0),
        lambda: drag_pull(-1.0, 0.3),
        lambda: stability_ratio(10.0, 0.0),
        lambda: rigging("efficiency", "granny"),
    ],
)
def test_nonsense_is_refused(call: Any) -> None:
    with pytest.raises(BadInput):
        call()
