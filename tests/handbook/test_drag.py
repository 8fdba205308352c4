"""Crown drag against the published tunnel tests.

Sources: Rudnicki, Mitchell and Novak 2004, Can. J. For. Res. 34(3) (conifers); Vollsinger et al. 2005, Can. J. For.
Res. 35(5) (broadleaves); Peltola et al. 1999 (Scots pine model value, second-hand); drag form: J. Arboric. 31(3), 2005.
"""

from __future__ import annotations

import numpy as np
import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.standing.drag import area_left, crown_drag, stem_drag, streamlining
from bolewright.reference.standing import drag_for, drag_table

# share of still-air frontal area left at 20 m/s, and drag number on the still-air area, as printed in the abstracts
PRINTED = {
    "Thuja plicata": (0.46, 0.22), "Tsuga heterophylla": (0.61, 0.47), "Pinus contorta": (0.64, 0.47),
    "Populus trichocarpa": (0.28, None), "Alnus rubra": (0.37, None), "Betula papyrifera": (0.20, None),
}  # fmt: skip


def test_shipped_table_is_as_printed() -> None:
    """Area left and drag number of the six crowns; 0.15 to 0.22 for the broadleaves."""
    rows = {row.species: row for row in drag_table()}
    for species, (area, number) in PRINTED.items():
        assert rows[species].area_left == area
        low, high = rows[species].drag_low, rows[species].drag_high
        assert (low, high) == ((number, number) if number else (0.15, 0.22))


@pytest.mark.parametrize("species", PRINTED)
def test_area_against_speed(species: str) -> None:
    """Whole at 4 m/s, the printed share at 20 m/s, never rising, held beyond."""
    share = PRINTED[species][0]
    assert float(area_left(4.0, share)) == pytest.approx(1.0)
    assert float(area_left(20.0, share)) == pytest.approx(share)
    assert float(area_left(35.0, share)) == pytest.approx(share)
    assert np.all(np.diff(area_left(np.linspace(0.0, 30.0, 61), share)) <= 1e-12)


def test_drag_rises_with_the_speed_and_beyond_20_with_its_square() -> None:
    """Both papers: drag proportional to speed from 4 to 20 m/s; above, the number is held (not carried on)."""
    drag = crown_drag([5.0, 10.0, 20.0, 40.0], 10.0, 0.2)
    assert drag[1] / drag[0] == pytest.approx(2.0)
    assert drag[2] / drag[1] == pytest.approx(2.0)
    assert drag[3] / drag[2] == pytest.approx(4.0)


@pytest.mark.parametrize("species", ["Betula papyrifera", "Populus trichocarpa", "Alnus rubra"])
def test_two_published_statements_agree(species: str) -> None:
    """Drag ~ U and drag ~ U2 A(U) over 4 to 20 m/s, both stated: for the broadleaves within a factor of 1.9."""
    share = PRINTED[species][0]
    fall = float(streamlining(20.0) / streamlining(4.0))
    assert fall == pytest.approx(0.2)
    assert 1.0 / 1.9 < fall / share < 1.9


def test_by_hand() -> None:
    """12 m2 at Cd 0.22 in 20 m/s: 0.5 x 1.225 x 0.22 x 12 x 400 = 646.8 N; a stem 0.4 m by 5 m at Cd 1: 490 N."""
    assert float(crown_drag(20.0, 12.0, 0.22)) == pytest.approx(646.8)
    assert float(stem_drag(20.0, 0.4, 5.0)) == pytest.approx(490.0)


def test_what_is_taken_for_a_species() -> None:
    """A species tested gets its own number; others the band of their kind, reaching above the small crowns tested."""
    assert drag_for("Thuja plicata", "conifer").value.likely == pytest.approx(0.22)
    maple, pine = drag_for("Acer rubrum", "broadleaf").value, drag_for("Pinus strobus", "conifer").value
    assert maple.low == 0.15
    assert maple.high > 0.22
    assert pine.low == 0.22
    assert pine.high >= 0.47
    assert pine.low < 0.29 < pine.high  # Peltola et al. 1999


def test_a_share_that_cannot_be() -> None:
    """One sentence."""
    with pytest.raises(BadInput, match="share of area"):
        area_left(10.0, 0.0)
