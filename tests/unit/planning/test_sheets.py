"""Where every sheet lies: counted, spread and numbered as a crew would lay them."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bolewright.planning.haul.out import out
from bolewright.planning.haul.results import BoardsOut, OutResult

from .out_jobs import BOARDS, DOLLY, LEG, LOG, TRAILER, WHOLE, job

FOOT = 0.3048
WAY = (
    ("owner_told = true", 'owner_told = true\nstart = { forward = "0 ft", right = "0 ft" }'),
    ('length = "100 ft"', 'to = { forward = "-60 ft", right = "80 ft" }'),
)


def boards(result: OutResult) -> BoardsOut:
    """The boards of an answer."""
    assert result.boards is not None
    return result.boards


def test_numbered_from_the_tree_and_carried_ahead() -> None:
    """Ten sheets for fifteen places: place 11 gets sheet 1, place 15 sheet 5."""
    found = boards(out(job(WHOLE, ("count = 20", "count = 10"))))
    assert [place.n for place in found.places] == list(range(1, 16))
    assert [place.sheet for place in found.places] == [*range(1, 11), 1, 2, 3, 4, 5]
    assert found.down == 10


@given(st.integers(3, 190))
def test_a_run_is_covered_with_laps_kept(feet: int) -> None:
    """No gap, every joint lapped by a foot at least, first and last sheet level with the ends of the run."""
    text = LOG + LEG.replace("100 ft", f"{feet} ft") + DOLLY + BOARDS.replace("20", "60") + TRAILER
    places = boards(out(job(text))).places
    assert len(places) == max(math.ceil((feet - 1) / 7 - 1e-9), 1)
    assert places[0].from_m == pytest.approx(0.0)
    assert places[-1].to_m == pytest.approx(max(feet * FOOT, 8 * FOOT))
    for one, following in zip(places, places[1:], strict=False):
        assert one.to_m - following.from_m >= FOOT - 1e-9
        assert one.to_m - one.from_m == pytest.approx(8 * FOOT)


def test_butted_sheets_need_no_lap() -> None:
    """100 ft of 8 ft sheets edge to edge: 13, not the 15 of lapped joints."""
    butted = out(job(WHOLE, ('"3/4 in"', '"3/4 in"\nlaid = "butted"')))
    assert len(boards(butted).places) == 13


def test_true_to_scale_on_the_plan() -> None:
    """A way of 60 ft back and 80 ft right is 100 ft; every sheet is 8 ft by 4 ft and lies along it."""
    places = boards(out(job(WHOLE, *WAY))).places
    assert len(places) == 15
    for place in places:
        a, b, c, _ = place.corners
        assert math.dist(a, b) == pytest.approx(8 * FOOT)
        assert math.dist(b, c) == pytest.approx(4 * FOOT)
        assert (b[0] - a[0]) / math.dist(a, b) == pytest.approx(-0.6)
        assert (b[1] - a[1]) / math.dist(a, b) == pytest.approx(-0.8)  # right is minus y
    middle = [sum(corner[n] for corner in places[0].corners) / 4 for n in (0, 1)]
    assert middle == pytest.approx([-0.6 * 4 * FOOT, -0.8 * 4 * FOOT])


def test_hard_ground_and_sharp_bends_part_the_runs() -> None:
    """Lawn, 20 ft of pavement, lawn: two runs of 3 sheets for 20 ft each, where 40 ft in one would take 6 as well,
    none on the pavement."""
    legs = LEG.replace("100 ft", "20 ft") + LEG.replace("100 ft", "20 ft").replace("lawn", "pavement")
    found = boards(out(job(LOG + legs + LEG.replace("100 ft", "20 ft") + DOLLY + BOARDS + TRAILER)))
    assert len(found.places) == 6
    assert "in 2 runs" in found.words
    assert not [p for p in found.places if 20 * FOOT < (p.from_m + p.to_m) / 2 < 40 * FOOT]


def test_turning_places_get_sheets_side_by_side() -> None:
    """A 10 ft square beside 4 ft sheets lapped a foot: two rows of two more, ending with the stretch."""
    found = boards(out(job(WHOLE, ('length = "100 ft"', 'length = "100 ft"\nturn = "10 ft"'))))
    turning = [place for place in found.places if place.turning]
    assert len(turning) == 4
    assert found.needed == 19
    assert max(place.to_m for place in turning) == pytest.approx(100 * FOOT)
    reach = max(place.left_m for place in turning) - min(place.right_m for place in turning)
    assert reach >= 10 * FOOT - 1e-9


def test_wheel_load_and_passes_by_hand() -> None:
    """Two wheels, the heavier 1.2 of the mean: (30 + 306) kg x g / 2 x 1.2; four trips there and back."""
    result = out(job(WHOLE))
    assert result.ground is not None
    assert result.ground.passes == 8
    carried = result.heaviest_kg
    assert result.ground.wheel_N.likely == pytest.approx((30.0 + carried.likely) * 9.80665 / 2 * 1.2)


def test_downhill_the_load_is_held_back() -> None:
    """10 degrees down on boards at 0.02: W (sin a - 0.02 cos a) at the likely mass."""
    steep = out(job(WHOLE, ('length = "100 ft"', 'length = "100 ft"\nslope = "-10 deg"')))
    assert steep.push is not None
    slope = math.radians(10.0)
    weight = (30.0 + steep.heaviest_kg.likely) * 9.80665
    assert steep.push.holding_N.likely == pytest.approx(weight * (math.sin(slope) - 0.02 * math.cos(slope)), rel=0.01)
    assert any("Downhill" in reason for reason in out(
        job(WHOLE + "\n[day]\npeople = 1\n", ('length = "100 ft"', 'length = "100 ft"\nslope = "-10 deg"'))
    ).outside)  # fmt: skip


def test_the_half_inch_rule_stops_sooner_on_wetter_lawn() -> None:
    """Told for every state of the lawn; never more on softer ground."""
    found = boards(out(job(WHOLE, ('"3/4 in"', '"1/2 in"'))))
    assert [state for state, _ in found.by_state] == ["firm", "damp", "wet"]
    most = [load.likely for _, load in found.by_state]
    assert most[0] >= most[1] >= most[2]
    assert most[0] == pytest.approx(found.most_load_kg.likely)
