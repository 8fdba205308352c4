"""Ways out for a piece: which are allowed, which is quickest, and the words when none is."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from bolewright.core.cutting.handling import LEFT_ON_PLATE, MINUTES, HandlingLimits, PieceFacts, way_out
from bolewright.planning.both import both_masses

CREW = HandlingLimits(
    carry=40.0, drop=200.0, drop_height=3.0, roll=300.0, line=150.0, crane=1000.0, mass_words=both_masses
)
NOBODY = HandlingLimits(carry=0.0, drop=0.0, roll=0.0)


def facts(
    roof: bool = False, care: bool = False, air: float = 2.0, diameter: float = 0.2, plate: int = -1, word: str = ""
) -> PieceFacts:
    """Two pieces: the first is the one asked about, the second lies clear and low."""
    return PieceFacts(
        mass=np.array([[30.0], [20.0]]),
        over_building=np.array([roof, False]),
        over_protected=np.array([care, False]),
        air=np.array([air, 0.2]),
        cut_diameter=np.array([diameter, 0.1]),
        plate=plate,
        plate_word=word,
    )


@pytest.mark.parametrize(
    ("mass", "where", "method"),
    [
        (30.0, facts(), "free drop"),  # 4 min beats carrying (5)
        (30.0, facts(air=4.0), "carry"),  # too high to drop
        (30.0, facts(roof=True), "carry"),  # nothing is dropped on a roof
        (100.0, facts(roof=True), "lower on a line"),
        (100.0, facts(care=True), "lower on a line"),
        (250.0, facts(air=0.5), "roll off"),  # too heavy to drop, low enough to roll
        (250.0, facts(air=0.7), "crane pick"),  # too high to roll
        (190.0, facts(air=0.5), "free drop"),
        (900.0, facts(), "crane pick"),
    ],
)
def test_the_quickest_way_allowed(mass: float, where: PieceFacts, method: str) -> None:
    way = way_out([0], mass, where, CREW)
    assert (way.method, way.refused) == (method, "")
    assert way.minutes == pytest.approx(MINUTES[method] + 40.0 * 0.2**2)  # 40 min a square metre of wood
    assert way.sudden == (1.0 if method == "crane pick" else 2.0)


@pytest.mark.parametrize("limit", ["carry", "drop", "roll", "line", "crane"])
def test_a_limit_is_a_limit(limit: str) -> None:
    """At its limit a way is open, a hair over it is not."""
    only = HandlingLimits(**{"carry": 0.0, "drop": 0.0, "roll": 0.0, limit: 100.0})
    low = facts(air=0.3)
    assert not way_out([0], 100.0, low, only).refused
    assert way_out([0], 100.001, low, only).refused


def test_the_words_say_where_and_how_much() -> None:
    said = way_out([0], 1200.0, facts(roof=True), CREW).refused
    assert "1,200 kg" in said
    assert "2,650 lb" in said  # 2,645.5 lb at 0.45359237 kg a pound
    assert "over the building" in said
    assert "over something to protect" in way_out([0], 1200.0, facts(care=True), CREW).refused
    assert "clear of the building" in way_out([0], 1200.0, facts(), CREW).refused


def test_a_short_heavy_round_gets_out_split() -> None:
    """What gets out is 100 kg; rounds up to 0.6 m are split along the grain, in four of 100 kg."""
    limits = HandlingLimits(drop=900.0, heaviest=100.0, longest=2.0, split=0.6, in_split=400.0, passing="100 kg")
    for mass, length, stuck in ((390.0, 0.6, False), (390.0, 0.7, True), (410.0, 0.5, True), (99.0, 2.0, False)):
        one = replace(
            facts(), log=np.array([[mass], [0.0]]), log_length=np.array([length, 0.0]), log_on=np.array([0, 0])
        )
        refused = way_out([0], mass, one, limits).refused
        assert bool(refused) is stuck
        assert not stuck or "cannot be cut again where they land: the limit is 100 kg" in refused


def test_pieces_leaving_together_go_by_the_worst_placed() -> None:
    """One of two over the roof: neither may be dropped; one of two high up: too high to roll."""
    assert way_out([0, 1], 30.0, facts(roof=True), CREW).method == "carry"
    assert way_out([0, 1], 250.0, facts(air=0.9), CREW).method == "crane pick"


def test_no_ways_entered_no_way_out() -> None:
    assert way_out([0], 1.0, facts(), NOBODY).refused


@pytest.mark.parametrize("word", ["stands up", "stays"])
def test_a_plate_keeps_its_stub(word: str) -> None:
    way = way_out([0], 5000.0, facts(plate=0, word=word), CREW)
    assert (way.method, way.refused) == (LEFT_ON_PLATE, "")


@pytest.mark.parametrize("word", ["falls forward", "not enough is known", ""])
def test_a_plate_that_may_fall_is_not_cut_free(word: str) -> None:
    way = way_out([0], 10.0, facts(plate=0, word=word), CREW)
    assert way.method == ""
    assert "restrain it first" in way.refused


def test_nothing_leaves_with_the_plate() -> None:
    assert way_out([0, 1], 10.0, facts(plate=0, word="stays"), CREW).refused
