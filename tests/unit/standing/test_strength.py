"""Tables of moduli: shell errors, openings, and what is refused."""

from __future__ import annotations

import numpy as np
import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.standing.strength import CLOCKS, DIRECTIONS, area_at, decayed_strength, modulus_at, sound_strength


def hollow(diameter: float, shell: float) -> float:
    """Closed form of a hollow round."""
    inner = diameter - 2.0 * shell
    return float(np.pi / 32.0 * (diameter**4 - inner**4) / diameter)


def test_directions_and_clocks() -> None:
    """A push forward is towards 6, to the left towards 9, back towards 12, to the right towards 3."""
    pairs = dict(zip(np.round(np.degrees(DIRECTIONS)).astype(int).tolist(), CLOCKS.tolist(), strict=True))
    assert [pairs[d] for d in (0, 90, 180, 270)] == pytest.approx([6.0, 9.0, 0.0, 3.0])


def test_shell_errors_are_thicker_and_thinner_shells() -> None:
    """At the tabled errors exactly the closed form, between them nearly."""
    strength = decayed_strength(0.8, ((12.0, 0.1),), errors=(-0.02, -0.01, 0.0, 0.01, 0.02))
    for error in (-0.02, 0.0, 0.01):
        assert float(modulus_at(strength, error, 1.0)) == pytest.approx(hollow(0.8, 0.1 + error), rel=1e-4)
    assert float(modulus_at(strength, 0.005, 1.0)) == pytest.approx(hollow(0.8, 0.105), rel=2e-3)
    assert float(area_at(strength, 0.0)) == pytest.approx(np.pi / 4.0 * (0.64 - 0.36), rel=1e-4)


def test_one_thin_side_is_weakest_towards_it() -> None:
    """Thin at 3 o'clock: a push to the right or from the right finds less than one forward."""
    strength = decayed_strength(1.0, ((3.0, 0.05), (12.0, 0.3), (6.0, 0.3), (9.0, 0.3)))
    right, forward = modulus_at(strength, 0.0, [1.5 * np.pi, 0.0])
    assert right < forward


def test_shape_of_the_question_is_kept() -> None:
    """(2, 3) in, (2, 3) out, for one error or many."""
    for errors in ((0.0,), (-0.01, 0.0, 0.01)):
        strength = decayed_strength(0.5, ((12.0, 0.1),), errors=errors)
        assert modulus_at(strength, np.zeros((2, 3)), np.ones((2, 3))).shape == (2, 3)


def test_full_turn() -> None:
    """360 degrees is 0 degrees."""
    strength = decayed_strength(0.5, ((3.0, 0.05), (9.0, 0.2)))
    np.testing.assert_allclose(modulus_at(strength, 0.0, [0.0]), modulus_at(strength, 0.0, [2.0 * np.pi]))
    assert sound_strength(0.5).kept.strength_worst == pytest.approx(1.0)


def test_shell_thicker_than_the_radius() -> None:
    """One sentence with both numbers."""
    with pytest.raises(BadInput, match=r"more than the radius.*25\.0 cm"):
        decayed_strength(0.5, ((3.0, 0.3),))


def test_cavity_all_round() -> None:
    """No wood left is no section."""
    with pytest.raises(BadInput, match="No sound wood"):
        decayed_strength(0.5, ((3.0, 0.0), (9.0, 0.0)))
