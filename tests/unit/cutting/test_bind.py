"""Binds against worked cases of saw manuals, beam tables and hand statics; standing rules case by case."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from bolewright.core.base.errors import BadInput
from bolewright.core.base.vectors import clock_direction, clock_of
from bolewright.core.cutting.bind import (
    Advice,
    BindKind,
    CutSection,
    SectionLoad,
    advise,
    bind_kinds,
    clocks,
    is_spring_pole,
    kerf_change,
    release_energy,
    round_section,
    section_load,
    side_words,
)
from bolewright.core.cutting.saw import where_to_stand

Array = NDArray[np.float64]
FORWARD, UPWARD = np.array([1.0, 0.0, 0.0]), np.array([0.0, 0.0, 1.0])
LOG = round_section(0.4)
STRENGTH = 45e6


def through(cut: Array, pushes: list[tuple[Array, Array]]) -> tuple[Array, Array]:
    """Force and moment (1, 3) on the distal part at the cut: what balances the pushes (place, force) on that part."""
    force = -np.sum([f for _, f in pushes], axis=0)
    moment = -np.sum([np.cross(p - cut, f) for p, f in pushes], axis=0)
    return force[None], moment[None]


def at(x: float, y: float = 0.0, z: float = 0.0) -> Array:
    return np.array([x, y, z])


def load_of(
    cut: Array, pushes: list[tuple[Array, Array]], axis: Array = FORWARD, section: CutSection = LOG
) -> SectionLoad:
    return section_load(*through(cut, pushes), axis, section, STRENGTH)


def advice_of(cut: Array, pushes: list[tuple[Array, Array]], axis: Array = FORWARD) -> Advice:
    return advise(load_of(cut, pushes, axis), axis, LOG)


def test_a_log_on_two_ends_is_squeezed_on_top() -> None:
    """Supported at both ends: first cut from above, one third, finish from below (chain saw operator manuals).

    6 m, 1.2 kN/m: at the middle M = w L^2 / 8 = 5.4 kN m (AISC Manual Table 3-23, simple beam), no shear.
    """
    pushes = [(at(6.0), 3600.0 * UPWARD), (at(4.5), -3600.0 * UPWARD)]
    load, advice = load_of(at(3.0), pushes), advice_of(at(3.0), pushes)
    assert load.bending == pytest.approx([5400.0])
    assert load.shear == pytest.approx([0.0], abs=1e-9)
    assert load.bending_stress == pytest.approx([5400.0 * 32 / (np.pi * 0.4**3)])
    assert (advice.kind, advice.start_clock, advice.finish_clock) == (BindKind.TOP, 12.0, pytest.approx(6.0))
    assert advice.start_depth == pytest.approx(0.4 / 3)
    assert advice.words == "Top bind: squeezed on top. Start on top, no deeper than a third; finish below."


def test_an_overhanging_end_is_squeezed_below() -> None:
    """Supported at one end: first cut from below, one third, finish from above (chain saw operator manuals).

    2 m beyond the cut at 1.2 kN/m: M = w a^2 / 2 = 2.4 kN m, shear 2.4 kN (AISC Manual Table 3-23, cantilever).
    """
    pushes = [(at(5.0), -2400.0 * UPWARD)]
    load, advice = load_of(at(4.0), pushes), advice_of(at(4.0), pushes)
    assert load.bending == pytest.approx([2400.0])
    assert load.shear == pytest.approx([2400.0])
    assert (advice.kind, advice.start_clock, advice.finish_clock) == (
        BindKind.BOTTOM,
        pytest.approx(6.0),
        pytest.approx(12.0),
    )
    assert advice.words == "Bottom bind: squeezed below. Start below, no deeper than a third; finish on top."


@pytest.mark.parametrize("heading", [0.3, 2.0, -1.2])
@pytest.mark.parametrize("lean", [0.0, 0.5, -0.4])
def test_heading_and_slope_of_the_log_change_nothing(heading: float, lean: float) -> None:
    """The overhang and the span again, for stems that point anywhere and climb or fall."""
    axis = np.array([np.cos(lean) * np.cos(heading), np.cos(lean) * np.sin(heading), np.sin(lean)])
    hangs = advice_of(np.zeros(3), [(axis, -2400.0 * UPWARD)], axis)
    spans = advice_of(np.zeros(3), [(3.0 * axis, 3600.0 * UPWARD), (1.5 * axis, -3600.0 * UPWARD)], axis)
    assert (hangs.kind, hangs.compression_clock) == (BindKind.BOTTOM, pytest.approx(6.0))
    assert (spans.kind, spans.compression_clock) == (BindKind.TOP, pytest.approx(12.0))


def test_pushed_from_the_right_it_is_squeezed_on_the_right() -> None:
    """The far end pushed to the right (-y) bends the stem round to the right: squeezed at 3 o'clock. And mirrored."""
    right = advice_of(at(0.0), [(at(3.0), np.array([0.0, -2000.0, 0.0]))])
    left = advice_of(at(0.0), [(at(3.0), np.array([0.0, 2000.0, 0.0]))])
    assert (right.kind, right.start_clock, right.finish_clock) == (
        BindKind.SIDE,
        pytest.approx(3.0),
        pytest.approx(9.0),
    )
    assert (left.kind, left.start_clock, left.finish_clock) == (BindKind.SIDE, pytest.approx(9.0), pytest.approx(3.0))
    assert "squeezed on the right" in right.words


def test_hanging_and_leaning_on_its_end() -> None:
    """A limb hanging plumb from the cut is pulled; a stem standing on its tip below the cut is pressed: end bind."""
    down = -UPWARD
    hangs = load_of(at(0, 0, 5.0), [(at(0, 0, 3.0), -900.0 * UPWARD)], down)
    assert hangs.axial == pytest.approx([900.0])
    assert bind_kinds(hangs, down)[0] is BindKind.NONE
    stands = load_of(at(0, 0, 5.0), [(at(0, 0, 3.0), -900.0 * UPWARD), (at(0, 0, 1.0), 20900.0 * UPWARD)], down)
    assert stands.axial == pytest.approx([-20000.0])
    assert stands.axial_stress == pytest.approx([-20000.0 / (np.pi * 0.04)])
    pressed = advise(stands, down, LOG)
    assert (pressed.kind, pressed.start_clock) == (BindKind.END, 12.0)
    assert "wedge" in pressed.words


def test_a_sideways_limb_twists_the_stem() -> None:
    """A limb of 1 kN reaching 3 m to the left, straight out at the cut: T = 3 kN m about the axis, J = 2 I."""
    load = load_of(at(0.0), [(at(0.0, 3.0), -1000.0 * UPWARD)])
    assert np.abs(load.torsion) == pytest.approx([3000.0])
    assert load.torsion_stress == pytest.approx([3000.0 * 16 / (np.pi * 0.4**3)])
    assert load.bending == pytest.approx([0.0], abs=1e-9)
    assert bind_kinds(load, FORWARD)[0] is BindKind.TWIST


def test_hardly_loaded_wood_has_no_bind_and_a_plumb_stem_no_top() -> None:
    """0.05 MPa of 45 MPa says nothing; a plumb stem pushed forward is squeezed at its side whatever the clock says."""
    quiet = advice_of(at(0.0), [(at(0.1), -50.0 * UPWARD)])
    assert (quiet.kind, quiet.start_depth) == (BindKind.NONE, pytest.approx(0.4))
    stem = advice_of(np.zeros(3), [(at(0, 0, 5.0), 2000.0 * FORWARD)], UPWARD)
    assert stem.kind is BindKind.SIDE


def test_clocks_agree_with_the_house_frame() -> None:
    """The vector form gives what core.base.vectors gives one at a time."""
    rng = np.random.default_rng(2)
    for _ in range(20):
        axis = rng.normal(size=3)
        axis /= np.linalg.norm(axis)
        hours = rng.uniform(0.01, 12.0, 5)
        directions = np.array([clock_direction(axis, h) for h in hours])
        assert clocks(axis, directions) == pytest.approx(hours)
        assert clocks(axis, directions) == pytest.approx([clock_of(axis, d) for d in directions])


def test_samples_that_disagree_are_said() -> None:
    """Six samples squeezed on top, four below: top bind, with the doubt in words."""
    moment = np.array([[0.0, 3000.0, 0.0]] * 6 + [[0.0, -3000.0, 0.0]] * 4)
    load = section_load(np.zeros((10, 3)), moment, FORWARD, LOG, STRENGTH)
    advice = advise(load, FORWARD, LOG)
    assert (advice.kind, advice.agree, advice.start_clock) == (BindKind.TOP, 0.6, 12.0)
    assert "Only 60 % of the samples agree" in advice.words


def test_spring_pole_needs_thin_and_bent_wood() -> None:
    """0.1 m at 40 % of strength is one; the same share in 0.4 m is not, nor is 0.1 m at 5 %."""
    thin = round_section(0.1)
    for section, share, answer in ((thin, 0.4, True), (LOG, 0.4, False), (thin, 0.05, False)):
        moment = share * STRENGTH * section.inertia / (section.diameter / 2) * np.array([[0.0, 1.0, 0.0]])
        load = section_load(np.zeros((1, 3)), moment, FORWARD, section, STRENGTH)
        assert load.share == pytest.approx([share])
        assert is_spring_pole(load, section) is answer
        assert ("two tree lengths" in advise(load, FORWARD, section).words) is answer


def test_a_stem_held_fast_at_both_ends_is_cut_in_the_middle() -> None:
    """Clamped beam under its weight, severed at midspan: two cantilevers of half the length.

    AISC Manual Table 3-23: M = w L^2 / 24 before; end slope of each cantilever w (L/2)^3 / 6 EI after. So the top shuts
    by twice slope x radius. Energy: potential -w^2 L^5 / 1440 EI before, -2 w^2 (L/2)^5 / 40 EI = -w^2 L^5 / 640 EI
    after (Clapeyron): w^2 L^5 / 1152 EI let go.
    """
    w, length, stiffness = 1200.0, 6.0, 9e9 * LOG.inertia
    slope = w * (length / 2) ** 3 / (6 * stiffness)
    moment = np.array([[0.0, w * length**2 / 24, 0.0]])  # squeezes the top: axis x moment is up
    load = section_load(np.zeros((1, 3)), moment, FORWARD, LOG, STRENGTH)
    assert load.clock == pytest.approx([12.0])
    sunk = w * (length / 2) ** 4 / (8 * stiffness)
    distal, proximal = np.array([0, 0, -sunk, 0, -slope, 0]), np.array([0, 0, -sunk, 0, slope, 0])
    movement = (distal - proximal)[None]
    assert kerf_change(movement, FORWARD, load.compression, 0.4) == pytest.approx([-2 * slope * 0.2])
    assert kerf_change(movement, FORWARD, -load.compression, 0.4) == pytest.approx([2 * slope * 0.2])
    energy = w**2 * length**5 / (1152 * stiffness)
    assert release_energy(np.zeros((1, 3)), moment, movement) == pytest.approx([energy])
    before, after = w**2 * length**5 / (1440 * stiffness), w**2 * length**5 / (640 * stiffness)
    assert energy == pytest.approx(after - before)


def test_a_hung_end_springs_back_by_half_its_work() -> None:
    """A spring of 20 kN/m stretched by 900 N, cut free of the weight: 900^2 / 2 / 20000 = 20.25 J (Hooke)."""
    force = np.array([[0.0, 0.0, 900.0]])
    movement = np.array([[0.0, 0.0, -900.0 / 20000.0, 0.0, 0.0, 0.0]])
    assert release_energy(force, np.zeros((1, 3)), movement) == pytest.approx([20.25])


def test_decay_takes_from_area_and_bending() -> None:
    """A shell with 0.7 of the radius gone keeps 0.51 of the area and 0.76 of bending (1 - 0.7^2, 1 - 0.7^4)."""
    hollow = round_section(0.4, 1 - 0.7**2, 1 - 0.7**4)
    load = load_of(at(0.0), [(at(1.0), -2400.0 * UPWARD)], section=hollow)
    sound = load_of(at(0.0), [(at(1.0), -2400.0 * UPWARD)])
    assert load.bending_stress / sound.bending_stress == pytest.approx([1 / 0.7599])


@pytest.mark.parametrize(
    ("clock", "words"),
    [
        (12.0, "on top"),
        (3.0, "on the right"),
        (6.0, "below"),
        (9.0, "on the left"),
        (1.4, "on the upper right"),
        (11.6, "on top"),
    ],
)
def test_sides_in_words(clock: float, words: str) -> None:
    """Eight sides, 1 1/2 hours each."""
    assert side_words(clock) == words


DOWN_TO_THE_RIGHT = np.array([0.0, -0.2, 0.0])


@pytest.mark.parametrize(
    ("kind", "clock", "rolls", "downhill", "side", "says"),
    [
        (BindKind.TOP, 12.0, "", None, "either", "either side"),
        (BindKind.TOP, 12.0, "", DOWN_TO_THE_RIGHT, "left", "uphill"),
        (BindKind.TOP, 12.0, "", -DOWN_TO_THE_RIGHT, "right", "uphill"),
        (BindKind.TOP, 12.0, "", 0.1 * DOWN_TO_THE_RIGHT, "either", "either side"),
        (BindKind.TOP, 12.0, "right", DOWN_TO_THE_RIGHT, "left", "roll to the right; that is uphill"),
        (BindKind.TOP, 12.0, "left", None, "right", "roll to the left"),
        (BindKind.TOP, 12.0, "left", DOWN_TO_THE_RIGHT, "none", "Chock it or tie it back"),
        (BindKind.SIDE, 3.0, "", None, "right", "inside the bend"),
        (BindKind.SIDE, 9.0, "", None, "left", "inside the bend"),
        (BindKind.SIDE, 3.0, "", DOWN_TO_THE_RIGHT, "left", "spring towards you"),
        (BindKind.TWIST, 12.0, "", None, "either", "clear of both"),
    ],
)
def test_where_to_stand(kind: BindKind, clock: float, rolls: str, downhill: Array | None, side: str, says: str) -> None:
    """Uphill (29 CFR 1910.266(h); operator manuals), off the roll side, inside the bend; contradictions are said."""
    stand = where_to_stand(kind, clock, FORWARD, rolls, downhill)
    assert stand.side == side
    assert says in stand.words


def test_beside_the_part_that_stays_and_out_of_the_arc() -> None:
    """Which part stays, and what a spring pole asks for."""
    stand = where_to_stand(BindKind.BOTTOM, 6.0, FORWARD, "left", None, "butt", True)
    assert "beside the butt part, which stays" in stand.words
    assert "out of the arc" in stand.words


def test_nonsense_is_refused() -> None:
    """No sound wood, no strength."""
    with pytest.raises(BadInput, match="sound wood"):
        round_section(0.4, 0.0)
    with pytest.raises(BadInput, match="strength"):
        section_load(np.zeros((1, 3)), np.zeros((1, 3)), FORWARD, LOG, 0.0)
