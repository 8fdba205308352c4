"""Outlines of crowns against closed areas, and ice on twigs by hand."""

from __future__ import annotations

import numpy as np
import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.standing.crown import ICE_DENSITY, SHAPES, crown_slices, ice_mass, iced_solidity

AREAS = {"round": np.pi / 4.0, "dome": np.pi / 4.0, "cone": 0.5, "column": 1.0, "fan": 0.5}
MIDDLES = {"round": 0.5, "dome": 4.0 / (3.0 * np.pi), "cone": 1.0 / 3.0, "column": 0.5, "fan": 2.0 / 3.0}


@pytest.mark.parametrize("shape", SHAPES)
def test_area_and_middle(shape: str) -> None:
    """Ellipse pi/4 w h, triangle w h/2, rectangle w h; centroids of the same plane figures."""
    slices = crown_slices(4.0, 14.0, 6.0, shape)
    assert slices.area.sum() == pytest.approx(AREAS[shape] * 60.0, rel=1e-9)
    middle = (slices.area @ slices.height) / slices.area.sum()
    assert middle == pytest.approx(4.0 + 10.0 * MIDDLES[shape], abs=0.02)


@pytest.mark.parametrize(
    ("base", "top", "width", "shape", "word"),
    [(10.0, 9.0, 5.0, "round", "below the top"), (2.0, 9.0, 0.0, "round", "width"), (2.0, 9.0, 5.0, "star", "shape")],
)
def test_crowns_that_cannot_be(base: float, top: float, width: float, shape: str, word: str) -> None:
    """One sentence each."""
    with pytest.raises(BadInput, match=word):
        crown_slices(base, top, width, shape)


def test_ice_by_hand() -> None:
    """1 m2 of 4 mm twigs is 318 m of twig; 6 mm of ice all round: pi x 6 x 10 mm2 x 900 kg/m3 on each metre."""
    length = 1.0 / 0.004 * 4.0 / np.pi
    assert float(ice_mass(1.0, 0.006)) == pytest.approx(ICE_DENSITY * np.pi * 0.006 * 0.010 * length)
    assert float(ice_mass(1.0, 0.0)) == 0.0


def test_iced_crowns_fill_up() -> None:
    """More ice shows more, never more than the outline."""
    filled = iced_solidity(0.25, 0.0), iced_solidity(0.25, 0.006), iced_solidity(0.25, 0.05)
    assert float(filled[0]) == pytest.approx(0.25)
    assert 0.25 < float(filled[1]) < float(filled[2]) <= 1.0
