"""Choosing a prop: order, limits and what is left out."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.props.bearing import ground_allowed
from bolewright.core.props.choose import choose_prop, crib_option
from bolewright.core.props.green import green_round_strengths
from bolewright.core.props.option import PropNeed
from bolewright.core.props.post import post_option
from bolewright.core.props.timber import INCH, PSI, Timber
from bolewright.reference.timber import cross_grain_of, timber_of

FOOT, POUND = 12.0 * INCH, 4.4482216152605
NEED = PropNeed(
    height=8.0 * FOOT, force=3000.0 * POUND, ground_pressure_allowed=ground_allowed("lawn").value,
    head_cross_grain=cross_grain_of("Quercus rubra").value, stem_diameter=20.0 * INCH,
)  # fmt: skip
FOUR = timber_of("4x4", 10.0 * FOOT, 4, "DF-L", "No.2")


def check(option_checks: tuple[tuple[str, float, float, str], ...], start: str) -> tuple[str, float, float, str]:
    """The check whose name starts so."""
    return next(found for found in option_checks if found[0].startswith(start))


def test_eight_foot_four_by_four_by_hand() -> None:
    # pocket calculator: Fc* = 1350 x 1.25 x 1.15 = 1940.6; FcE = 0.822 x 580000 / (96/3.5)^2 = 633.7; r = 0.3265;
    # (1 + r)/1.6 = 0.8291; CP = 0.8291 - sqrt(0.8291^2 - 0.3265/0.8) = 0.3007; 0.3007 x 1940.6 x 12.25 = 7148 lb
    option = post_option(NEED, FOUR)
    assert option is not None
    assert check(option.checks, "post: crushes")[2] / POUND == pytest.approx(7148.0, rel=1e-3)
    # head: bite of a 20 in stem at 1/4 in is 2 sqrt(0.25 x 19.75) = 4.444 in, more than the post; Cb 3.875/3.5;
    # 820 x 0.67 x 3.5 x 3.875 = 7451 lb
    assert check(option.checks, "head")[2] / POUND == pytest.approx(7451.0, rel=1e-3)
    # foot: 625 x 3.5 x 3.875 = 8477 lb
    assert check(option.checks, "foot")[2] / POUND == pytest.approx(8477.0, rel=1e-3)
    # pad: sqrt(3000/750) = 2 ft, built in steps of 5 cm: 65 cm
    assert option.pad_side == pytest.approx(0.65)
    assert option.brace_force / POUND == pytest.approx(60.0)
    assert option.inside
    assert option.ratio <= 1.0 <= option.capacity / NEED.force


def test_stiffness_is_below_each_link() -> None:
    option = post_option(NEED, FOUR)
    assert option is not None
    post = 1.6e6 * PSI * (3.5 * INCH) ** 2 / option.cut_length
    ground = 120.0 * NEED.ground_pressure_allowed * option.pad_side**2
    assert 0.5 * ground < option.stiffness < ground < post


def test_inside_before_outside_and_single_before_doubled() -> None:
    timbers = (FOUR, timber_of("6x6", 10.0 * FOOT, 2, "DF-L"), timber_of("2x6", 10.0 * FOOT, 6))
    for force in (1000.0, 3000.0, 6000.0, 12000.0, 60000.0):
        options = choose_prop(replace(NEED, force=force * POUND), timbers)
        inside = [option.inside for option in options]
        assert inside == sorted(inside, reverse=True)
        forms = [option.form for option in options if option.inside]
        assert forms == sorted(forms, key=("single post", "doubled post", "tripled post", "crib").index)
    assert not any(option.inside for option in options)  # 60,000 lb is beyond all of these


def test_heavier_never_turns_outside_into_inside() -> None:
    for timber in (FOUR, timber_of("round 6 in", 3.0, 1)):
        ratios = []
        for force in range(500, 30000, 500):
            option = post_option(replace(NEED, force=force * POUND), timber)
            assert option is not None
            ratios.append(check(option.checks, "post: crushes")[1] / check(option.checks, "post: crushes")[2])
        assert ratios == sorted(ratios)


def test_what_cannot_be_built_is_left_out() -> None:
    assert choose_prop(NEED, ()) == ()
    assert post_option(replace(NEED, height=11.0 * FOOT), FOUR) is None  # too short
    assert post_option(NEED, replace(FOUR, count=1), 2) is None  # too few
    thin = timber_of("2x6", 20.0 * FOOT, 4)
    assert post_option(replace(NEED, height=9.5 * FOOT), thin) is None  # 76 times its thickness
    assert post_option(replace(NEED, temporary=False, height=7.0 * FOOT), thin) is None  # 56, left standing for good


def test_round_wood_from_the_tree() -> None:
    # green white oak clear wood (Wood Handbook 2010 Table 5-3): 24.5 MPa, 57 MPa, 8.6 GPa, 8.6 MPa
    wood = green_round_strengths(24.5e6, 57e6, 8.6e9, 8.6e6, cross_grain_of("Quercus alba").value, hardwood=True)
    post = Timber("round 8 in", "round", 7.0 * INCH, 9.0 * INCH, 9.0 * FOOT, 1, wood, origin="cut from L4")
    options = choose_prop(NEED, (post, FOUR))
    assert [option.origin for option in options if option.inside][:2] == ["from the truck", "cut from L4"]
    oak = next(option for option in options if option.from_tree)
    assert any("decay" in flag for flag in oak.flags)
    assert any("from memory" in flag for flag in oak.flags)
    assert post_option(NEED, replace(post, count=2), 2) is None  # round posts are not fastened side by side


def test_anything_above_the_rescue_table_is_flagged() -> None:
    select = timber_of("4x4", 12.0 * FOOT, 1, "DF-L", "SS")
    option = post_option(NEED, select)
    assert option is not None
    assert check(option.checks, "post: crushes")[2] > 8000.0 * POUND
    assert any("rescue post table" in flag for flag in option.flags)
    plain = post_option(NEED, FOUR)
    assert plain is not None
    assert not any("rescue post table" in flag for flag in plain.flags)


def test_a_leaning_prop_carries_more_and_kicks_out() -> None:
    lean = math.radians(20.0)
    upright, leaning = post_option(NEED, FOUR), post_option(replace(NEED, lean=lean), FOUR)
    assert upright is not None
    assert leaning is not None
    assert check(leaning.checks, "post: crushes")[1] == pytest.approx(NEED.force / math.cos(lean))
    name, thrust, held, _ = check(leaning.checks, "foot: slides")
    assert thrust == pytest.approx(NEED.force * math.tan(lean)), name
    assert held == pytest.approx(0.25 * NEED.force)
    assert not leaning.inside  # tan 20 is 0.36, friction 0.25


def test_crib_under_a_log() -> None:
    need = replace(NEED, height=3.0 * FOOT, force=4000.0 * POUND)
    option = crib_option(need, timber_of("4x4", 8.0 * FOOT, 12, "DF-L", "No.2"))
    assert option is not None
    # two crossings of 3.5 in at 500 psi are 12,250 lb
    assert check(option.checks, "crib: crossings")[2] / POUND == pytest.approx(12250.0, rel=1e-6)
    assert option.inside
    assert option.kind == "crib"
    assert option.cut_length == pytest.approx(26.5 * INCH)  # 16 in width + 3 timbers
    assert option.sticks >= 20
    assert any("two crossings" in flag for flag in option.flags)


def test_no_crib_above_its_height_or_without_sticks() -> None:
    many = timber_of("4x4", 8.0 * FOOT, 40, "DF-L")
    assert crib_option(replace(NEED, height=4.5 * FOOT), many) is None
    assert crib_option(replace(NEED, height=3.0 * FOOT), replace(many, count=3)) is None
    assert crib_option(replace(NEED, height=3.0 * FOOT, lean=0.1), many) is None
    assert crib_option(replace(NEED, height=3.0 * FOOT), timber_of("2x6", 3.0, 90)) is None


def test_every_check_has_the_shape_of_the_results() -> None:
    for option in choose_prop(replace(NEED, height=3.0 * FOOT), (FOUR, timber_of("4x4", 8.0 * FOOT, 20))):
        for name, demand, capacity, source in option.checks:
            assert name
            assert source
            assert 0.0 < demand < math.inf
            assert 0.0 < capacity < math.inf


def test_a_need_needs_a_load() -> None:
    for change in ({"height": 0.0}, {"force": -1.0}, {"ground_pressure_allowed": 0.0}, {"head_cross_grain": 0.0}):
        with pytest.raises(BadInput):
            replace(NEED, **change)
