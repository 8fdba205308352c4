"""How timber is spoken of, and what is made of it."""

from __future__ import annotations

import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.base.sourced import Status
from bolewright.core.props.timber import INCH, PSI, Timber, adjusted
from bolewright.reference.timber import lumber_strengths, section_of, timber_of


@pytest.mark.parametrize(
    ("text", "kind", "width", "depth"),
    [
        ("4x4", "sawn", 3.5, 3.5),
        ("2x6", "sawn", 1.5, 5.5),
        ("6 X 2", "sawn", 1.5, 5.5),
        ("6x6", "sawn", 5.5, 5.5),
        ("8x8", "sawn", 7.5, 7.5),  # PS 20: timbers are half an inch off ...
        ("4x8", "sawn", 3.5, 7.25),  # ... dimension lumber of 8 in three quarters
        ("round 8 in", "round", 8.0, 8.0),
        ("Round 20.32 cm", "round", 8.0, 8.0),
        ("152.4 x 101.6 mm", "sawn", 4.0, 6.0),  # an exact size is what it says
    ],
)
def test_sizes(text: str, kind: str, width: float, depth: float) -> None:
    got = section_of(text)
    assert got[0] == kind
    assert [side / INCH for side in got[1:]] == pytest.approx([width, depth])


@pytest.mark.parametrize("text", ["", "4", "4x", "7x7", "4x4x4", "round", "round 8", "round 0 in", "x" * 10000])
def test_sizes_that_make_no_sense(text: str) -> None:
    with pytest.raises(BadInput):
        section_of(text)


def test_grades_as_people_write_them() -> None:
    for grade in ("No.2", "no 2", "#2", "2", "Number 2", ""):
        assert lumber_strengths("Douglas-fir", grade, 3.5 * INCH).compression / PSI == pytest.approx(1350.0)
    with pytest.raises(BadInput, match=r"No\.1"):
        lumber_strengths("DF-L", "clear", 3.5 * INCH)
    with pytest.raises(BadInput, match="balsa"):
        lumber_strengths("balsa", "", 3.5 * INCH)


def test_nothing_said_means_the_weakest_of_the_four() -> None:
    unmarked = lumber_strengths("", "", 3.5 * INCH)
    for species in ("DF-L", "HF", "SPF", "SP"):
        row = lumber_strengths(species, "No.2", 3.5 * INCH)
        for name in ("bending", "tension", "shear", "cross_grain", "compression", "modulus", "modulus_min"):
            assert getattr(unmarked, name) <= getattr(row, name)
    assert unmarked.status is Status.MEMORY


def test_big_timbers_have_their_own_grades() -> None:
    # NDS Supplement 2024 Table 4D: DF-L No.2 posts and timbers, Fc 700 psi, against 1350 psi for a 4x4
    assert lumber_strengths("DF-L", "No.2", 5.5 * INCH).compression / PSI == pytest.approx(700.0)


def test_wet_wood_is_never_stronger() -> None:
    for size in ("2x6", "4x4", "6x6"):
        dry, wet = (adjusted(timber_of(size, 3.0, 1, "DF-L", wet=w), True) for w in (False, True))
        for name in ("bending", "shear", "cross_grain", "compression", "modulus", "modulus_min"):
            assert getattr(wet, name) <= getattr(dry, name)


def test_a_stick_needs_a_size() -> None:
    wood = lumber_strengths("", "", 0.1)
    with pytest.raises(BadInput):
        Timber("4x4", "sawn", 0.0, 0.1, 2.0, 1, wood)
    with pytest.raises(BadInput):
        Timber("4x4", "sawn", 0.1, 0.1, 2.0, -1, wood)
    with pytest.raises(BadInput, match="smaller"):
        Timber("4x2", "sawn", 0.1, 0.05, 2.0, 1, wood)
