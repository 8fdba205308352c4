"""What gets out, how, over which boards and in how many trips, against sums done by hand on a plain log."""

from __future__ import annotations

import math

import numpy as np
import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range
from bolewright.planning.haul.learning import learnt
from bolewright.planning.haul.out import out
from bolewright.planning.haul.results import INSIDE, OUTSIDE

from .out_jobs import BOARDS, DOLLY, LEG, LOG, TRAILER, WHOLE, job

EACH = math.pi / 4.0 * 0.508**2 * 1.524 * 900.0  # kg, one of four pieces, by hand


def test_four_pieces_in_four_trips_on_thick_boards() -> None:
    """Each piece weighs 278 kg likely; the dolly takes 310 kg, so each goes whole and alone."""
    result = out(job(WHOLE))
    assert [piece.log_kg.likely for piece in result.pieces] == pytest.approx([EACH] * 4, rel=0.02)
    assert result.machine == "dolly"
    assert result.trips == 4
    assert [piece.parts for piece in result.pieces] == [1, 1, 1, 1]
    assert result.heaviest_kg.likely == pytest.approx(EACH, rel=0.02)
    assert result.shorter == ()


def test_sheets_by_counting() -> None:
    """100 ft with 8 ft sheets lapped a foot: 1 + ceil(92 / 7) = 15; the dolly (30 in) fits on one lane of 4 ft."""
    result = out(job(WHOLE))
    assert (result.sheets, result.boards and result.boards.lanes) == (15, 1)
    fewer = out(job(WHOLE, ("count = 20", "count = 10")))
    assert fewer.boards is not None
    assert fewer.boards.moves == 40  # five short, carried ahead on four trips there and four back
    with pytest.raises(BadInput, match="at least 3"):
        out(job(WHOLE, ("count = 20", "count = 2")))


def test_boards_spread_the_load_and_wet_lawns_get_ruts() -> None:
    """Under boards the lawn gets less than the tyre's 30 psi (207 kPa); ruts without boards grow with wetness."""
    found = [out(job(WHOLE, ('"firm"', f'"{state}"'))) for state in ("firm", "damp", "wet")]
    for result in found:
        assert result.ground is not None
        assert result.ground.bare_kPa.likely == pytest.approx(206.84, rel=0.01)
        assert result.ground.boards_kPa is not None
        assert result.pressure_kPa == result.ground.boards_kPa
        assert result.pressure_kPa.likely < 100.0
    ruts = [result.ground.bare_rut_m.likely for result in found if result.ground]
    assert ruts[0] < ruts[1] < ruts[2]


def test_half_inch_rule_is_told_with_where_it_stops() -> None:
    """Common practice: workable on a firm lawn, marked, with the load at which the sheets crack."""
    result = out(job(WHOLE, ('"3/4 in"', '"1/2 in"')))
    assert result.boards is not None
    assert result.boards.workable
    assert result.boards.practice.startswith(
        "half-inch sheets, lapped joints, heavy rounds on a dolly: workable on firm"
    )
    assert "then the sheets crack" in result.boards.practice
    assert "common practice" in result.boards.mark
    # pieces of 278 kg are more than the half-inch sheets take on this dolly: said back, not let pass
    assert result.boards.most_load_kg.likely < EACH
    assert {one.piece for one in result.shorter} == {piece.id for piece in result.pieces}
    thick = out(job(WHOLE))
    assert thick.boards is not None
    assert thick.boards.practice == ""


def test_bare_lawn_under_a_hard_tyre_is_outside() -> None:
    result = out(job(LOG + LEG + DOLLY + TRAILER))
    assert result.status == OUTSIDE
    assert any("Lay boards" in reason for reason in result.outside)
    assert out(job(LOG + LEG.replace("lawn", "pavement") + DOLLY + TRAILER)).status == INSIDE


def test_what_is_too_heavy_is_said_back_with_places_to_cut() -> None:
    """Payload 100 kg: a piece of up to 300 kg in 4 parts at most, equal lengths along the stem."""
    result = out(job(WHOLE, ("310 kg", "100 kg")))
    first = result.shorter[0]
    parts = result.pieces[0].parts
    assert parts == math.ceil(result.pieces[0].log_kg.high / 100.0)
    assert first.at_m == pytest.approx([1.524 * n / parts for n in range(1, parts)])
    assert result.heaviest_kg.high <= 100.0
    assert "does not get out whole" in first.sentence


def test_gate_narrower_than_the_log_means_splitting() -> None:
    gate = '\n[[access.gate]]\nid = "side gate"\nwidth = "20 in"\n'
    result = out(job(LOG + LEG + gate + DOLLY.replace("30 in", "16 in") + BOARDS + TRAILER))
    assert all(piece.split for piece in result.pieces)
    assert "along the grain" in result.shorter[0].sentence


def test_gate_narrower_than_a_person_is_bad_input() -> None:
    gate = '\n[[access.gate]]\nid = "side gate"\nwidth = "10 in"\n'
    with pytest.raises(BadInput, match="nobody gets through") as caught:
        out(job(WHOLE + gate))
    assert caught.value.path == 'access.gate["side gate"].width'


def test_gate_narrower_than_the_machine_means_by_hand() -> None:
    gate = '\n[[access.gate]]\nid = "side gate"\nwidth = "28 in"\n'
    result = out(job(WHOLE + gate))
    assert result.machine == "by hand"
    assert any("Not by dolly" in note for note in result.notes)
    # one carry of 80 lb (36.3 kg) at most
    assert result.heaviest_kg.high <= 80 * 0.45359237 + 1e-6


def test_steps_and_turns_keep_wheels_out() -> None:
    assert out(job(WHOLE, ('length = "100 ft"', 'length = "100 ft"\nsteps = 2'))).machine == "by hand"
    tight = out(
        job(WHOLE, ('length = "100 ft"', 'length = "100 ft"\nturn = "4 ft"'), ("pushed = true", 'turning = "6 ft"'))
    )
    assert tight.machine == "by hand"


def test_way_over_a_tank_is_outside_and_points_give_lengths() -> None:
    """From (0, 0) to 30 ft back and 40 ft right is 50 ft; a tank on that line is crossed, one beside it is not."""
    way = (
        ("owner_told = true", 'owner_told = true\nstart = { forward = "0 ft", right = "0 ft" }'),
        ('length = "100 ft"', 'to = { forward = "-30 ft", right = "40 ft" }'),
    )
    tank = '\n[[access.no_go]]\nid = "tank"\nkind = "septic"\nnear = "{}"\nfar = "{}"\nleft = "{}"\nright = "{}"\n'
    on = out(job(WHOLE + tank.format("-18 ft", "-12 ft", "-15 ft", "25 ft"), *way))
    assert on.route.length_m == pytest.approx(50 * 0.3048)
    assert on.route.crosses == ("tank",)
    assert any('runs over "tank"' in reason for reason in on.outside)
    beside = out(job(WHOLE + tank.format("-18 ft", "-12 ft", "25 ft", "-15 ft"), *way))
    assert beside.route.crosses == ()


def test_loads_keep_order_payload_and_length() -> None:
    """Four pieces of 278 kg, up to a tenth more, at 700 kg a load: two a load, in order."""
    result = out(job(WHOLE))
    logs = [load for load in result.loads if load.kind == "logs"]
    assert [len(load.items) for load in logs] == [2, 2]
    assert [name for load in logs for name in load.items] == [piece.id for piece in result.pieces]
    assert all(load.mass_kg <= 700.0 for load in logs)
    stays = out(job(WHOLE + '\n[haul]\nstays = ["logs"]\n'))
    assert not [load for load in stays.loads if load.kind == "logs"]
    short = out(job(WHOLE, ('length = "10 ft"', 'length = "4 ft"')))
    assert all(piece.length_m / piece.parts <= 4 * 0.3048 + 1e-9 for piece in short.pieces)


def test_push_against_the_published_filter() -> None:
    """F = m g Crr, half as much again to start (from memory): 308 kg on boards at 0.02 is 91 N, under the 196 N of
    HSE RR228; up 10 degrees it takes more than one."""
    level = out(job(WHOLE))
    assert level.push is not None
    assert level.push.force_N.likely == pytest.approx((EACH + 30.0) * 9.80665 * 0.02 * 1.5, rel=0.02)
    assert level.push.people == 1
    steep = out(job(WHOLE, ('length = "100 ft"', 'length = "100 ft"\nslope = "10 deg"')))
    assert steep.push is not None
    assert steep.push.people > 3
    assert any("people by the published filter" in reason for reason in steep.outside)


def test_dragging_with_pulleys_and_rolling_up_planks() -> None:
    """Statics: a Z passes on 1 + e + e^2 with e = 0.9, 2.71; a log in a bight of rope takes half of W sin 20."""
    drag = out(job(WHOLE)).drag
    assert drag is not None
    two, three = drag.geared
    assert (three.system, three.advantage) == ("3 to 1", pytest.approx(1.0 + 0.9 + 0.81))
    assert two.pull_N.likely == pytest.approx(drag.pull_N.likely / 1.9)
    assert three.pull_N.high == pytest.approx(drag.pull_N.high / (1.0 + 0.85 + 0.85**2))
    assert drag.rolled_up_N.likely == pytest.approx(EACH * 9.80665 * math.sin(math.radians(20.0)) / 2.0, rel=0.02)


def test_chart_picks_and_holes() -> None:
    """At 26 ft the 30 ft line holds: 1,800 lb less 600 lb on the hook leaves 1,200 lb."""
    crane = '\n[crane]\nradius = "26 ft"\nchart = """\nradius_ft,capacity_lb\n20,3000\n25,2300\n30,1800\n"""\n'
    result = out(job(WHOLE + crane))
    assert len(result.picks) == 4
    pick = result.picks[0]
    assert pick.net_kg == pytest.approx(1200 * 0.45359237)
    assert pick.margin == pytest.approx(1.0 - pick.mass_kg.high / pick.net_kg)
    assert pick.inside
    weak = out(job(WHOLE + crane, ("30,1800", "30,1300")))
    assert any("on the hook" in reason for reason in weak.outside)
    with pytest.raises(BadInput, match="chart with holes") as caught:
        out(job(WHOLE + crane, ("25,2300", "25,")))
    assert caught.value.path == "crane.chart"


def test_without_a_way_out_there_is_no_answer() -> None:
    with pytest.raises(BadInput, match=r"\[\[access.leg\]\]"):
        out(job(LOG))


def test_hours_add_up_and_use_the_companys_own_times() -> None:
    result = out(job(WHOLE))
    assert result.hours.likely == pytest.approx(sum(step.hours.likely for step in result.steps))
    own = out(job(WHOLE, ('crew_hour = "185.00"', 'crew_hour = "185.00"\nset_up = "2 h"')))
    (setting_up,) = (step for step in own.steps if step.step == "set-up")
    assert setting_up.hours == Range.exact(2.0)


def test_record_is_learnt_slowly_and_then_fully() -> None:
    """Mean of log ratios with n / (n + 4): one job at twice the plan gives 2^(1/5); forty give 2^(40/44)."""
    record = '\n[[rates.actual]]\nstep = "move"\nplanned = "2 h"\ntook = "4 h"\n'
    once, often = job(WHOLE + record), job(WHOLE + record * 40)
    assert learnt(once.rates.actual, "move") == pytest.approx(2.0**0.2)
    assert learnt(often.rates.actual, "move") == pytest.approx(2.0 ** (40 / 44))
    assert learnt(often.rates.actual, "cut") == 1.0
    base, changed = (next(s for s in out(j).steps if s.step == "move") for j in (job(WHOLE), once))
    assert changed.hours.likely == pytest.approx(base.hours.likely * 2.0**0.2)


def test_a_crane_on_the_plan_has_a_radius_for_each_piece() -> None:
    """Boom turning 30 ft beside the log's middle (10 ft forward): by Pythagoras 7.5 ft off gives 30.9 ft, 2.5 ft
    30.1 ft; both are held by the 35 ft line. Set down 38 ft away, the 40 ft line counts for all."""
    chart = '"""\nradius_ft,capacity_lb\n30,3000\n35,2300\n40,1900\n"""'
    crane = f'\n[crane]\nat = {{ forward = "10 ft", right = "30 ft" }}\nchart = {chart}\n'
    assert [pick.radius_m for pick in out(job(WHOLE + crane)).picks] == pytest.approx([35 * 0.3048] * 4)
    down = crane.replace("chart", 'down = { forward = "48 ft", right = "30 ft" }\nchart')
    assert [pick.radius_m for pick in out(job(WHOLE + down)).picks] == pytest.approx([40 * 0.3048] * 4)


def test_record_is_the_mean_of_its_posterior() -> None:
    """Integrated by numbers on a grid: normal prior about 0, normal scatter with four times its variance."""
    took = (2.0, 1.2, 0.9)
    grid = np.linspace(-6.0, 6.0, 20001)
    spread = 0.3
    log_likely = -(grid**2) / (2.0 * spread**2)
    for ratio in took:
        log_likely -= (math.log(ratio) - grid) ** 2 / (2.0 * 4.0 * spread**2)
    weight = np.exp(log_likely - log_likely.max())
    mean = float((grid * weight).sum() / weight.sum())
    record = "".join(f'\n[[rates.actual]]\nstep = "cut"\nplanned = "1 h"\ntook = "{ratio} h"\n' for ratio in took)
    assert learnt(job(WHOLE + record).rates.actual, "cut") == pytest.approx(math.exp(mean), rel=1e-6)
