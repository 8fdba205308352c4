"""Lean, bow, and what each place along the stem carries."""

from __future__ import annotations

import numpy as np
import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.standing.upright import (
    carried_at,
    crown_masses,
    leaned,
    stem_at_height,
    stem_points,
    tree_masses,
    upright,
)

from .trees import FORWARD, ball, forked, pole


def test_lean_tips_the_stem_towards_its_side() -> None:
    """30 degrees to the left: the top of a 20 m pole is 10 m left and 17.3 m up."""
    top = stem_points(leaned(pole(), np.radians(30.0), [0.0, 1.0]), [20.0])[0]
    np.testing.assert_allclose(top, [0.0, 10.0, 20.0 * np.cos(np.radians(30.0))], atol=1e-9)


def test_bow_bulges_at_half_height() -> None:
    """A bow of 40 cm forward; foot and top stay."""
    bowed = leaned(pole(), 0.0, FORWARD, 0.4)
    np.testing.assert_allclose(stem_points(bowed, [0.0, 10.0, 20.0])[:, 0], [0.0, 0.4, 0.0], atol=1e-9)


@pytest.mark.parametrize("degrees", [85.0, 90.0, 120.0])
def test_a_tree_that_lies_is_refused(degrees: float) -> None:
    """One sentence."""
    with pytest.raises(BadInput, match="no standing tree"):
        leaned(pole(), np.radians(degrees), FORWARD)


def test_limbs_are_carried_where_they_grow() -> None:
    """A branch on a limb reaches the stem where the limb does."""
    assembly = forked()
    at = carried_at(assembly)
    np.testing.assert_allclose(at[assembly.of("A")], 6.0)
    np.testing.assert_allclose(at[assembly.of("B")], 6.0)
    own = assembly.of("stem")
    np.testing.assert_allclose(at[own], (assembly.s_start[own] + assembly.s_end[own]) / 2.0)


def test_distance_along_a_leaning_stem() -> None:
    """10 m up a stem leaning 60 degrees is 20 m along it."""
    assembly = leaned(pole(), np.radians(60.0), FORWARD)
    np.testing.assert_allclose(stem_at_height(assembly, [5.0, 50.0]), [10.0, 20.0])


def test_crown_mass_is_all_there_and_over_the_stem() -> None:
    """The groups add up, and the centre is the stem's plus the offset."""
    masses = crown_masses(pole(), ball(), [1.0, -2.0], [0.0, 0.0, 300.0, 50.0, 0.0])
    np.testing.assert_allclose(masses.mass.sum(axis=0), [0.0, 0.0, 300.0, 50.0, 0.0])
    np.testing.assert_allclose(masses.mass[:, 2] @ masses.point[:, :2] / 300.0, [1.0, -2.0])


def test_bare_stem_takes_wind_below_the_crown_only() -> None:
    """8 m of a half-metre stem."""
    standing = upright(pole(), [0.0, 4.0], ball())
    assert standing.stem.area.sum() == pytest.approx(8.0 * 0.5)
    assert np.all(standing.crown.height > 8.0)
    assert tree_masses(pole()).mass.sum() == pytest.approx(900.0 * np.pi / 4.0 * 0.25 * 20.0)
