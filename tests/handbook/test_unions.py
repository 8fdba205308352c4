"""What a union keeps of a limb's strength, against the published tests.

Sources: Slater and Ennos 2013, hazel forks by their component parts (abstract: about 74 % of the smaller arm); Slater
and Ennos 2015, Arboric. Urban For. 41(4):194-207 (abstract: 24 % lower with included bark, cup-shaped 36 % above those
with bark at the apex); Smiley 2003, J. Arboric. 29(2):104-106 (red maple: force 613 D - 1388 without, 537 D - 1285 with
included bark, D in inches); Arboric. Urban For. 34(2):105, Table 4, 2008 (codominant failures at about half the
stress); Dahle et al. 2022, Forests 13(7):1007 (aspect ratio).
"""

from __future__ import annotations

import pytest

from bolewright.planning.standing.limbs import CODOMINANT
from bolewright.reference.standing import union_for, union_table


def breaking(diameter: float, bark: bool) -> float:
    """Smiley 2003, as printed."""
    return 537.0 * diameter - 1285.0 if bark else 613.0 * diameter - 1388.0


@pytest.mark.parametrize("inches", [3.0, 4.0, 5.0, 6.0, 8.0])
def test_smileys_lines_lie_within_the_band(inches: float) -> None:
    """Force with bark over without."""
    band = union_table()["bark", "included"].kept
    assert band.low <= breaking(inches, True) / breaking(inches, False) <= band.high


def test_included_bark_as_printed() -> None:
    """24 % lower in the middle; partly grown over in between, by the 36 % printed."""
    included, cup = union_table()["bark", "included"].kept, union_table()["bark", "partly grown over"].kept
    assert included.likely == pytest.approx(1.0 - 0.24)
    open_bark = 2.0 * included.likely / 2.36  # half of each kind in the mean of 0.76
    assert cup.likely == pytest.approx(1.36 * open_bark, abs=0.01)


def test_forks_as_printed() -> None:
    """74 %; the low end reaches the half of the pulled maples."""
    fork = union_table()["form", "codominant"].kept
    assert fork.likely == pytest.approx(0.74)
    assert fork.low <= 0.5


def test_both_together() -> None:
    """The likely shares multiply; the band is wider than either and holds both ends met."""
    both = union_for("codominant", "included").value
    assert both.likely == pytest.approx(0.74 * 0.76)
    assert both.low < 0.5
    assert both.high > 0.74 * 0.87


def test_bark_not_known_is_anything_between() -> None:
    """From included to none."""
    unknown = union_for("codominant", None)
    assert unknown.value.low == pytest.approx(union_for("codominant", "included").value.low)
    assert unknown.value.high == pytest.approx(union_for("codominant", "none").value.high)
    assert "not known" in unknown.source


def test_codominant_from_the_published_ratio() -> None:
    """0.70 with, 0.83 without included bark: the lower one is taken."""
    assert CODOMINANT == 0.70
