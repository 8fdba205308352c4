"""Formulas side by side and the way a wall gives."""

from __future__ import annotations

import pytest

from bolewright.core.sections import formulas_beside, hollow_round, solid_round, strength_kept, wall_mode


def test_errors_of_the_formulas_on_a_centred_hollow() -> None:
    """(d/D)^4 is exact there, (d/D)^3 is cautious."""
    kept = strength_kept(hollow_round(1.0, 0.7), solid_round(1.0))
    cautious, exact, with_opening = formulas_beside(kept, 0.7)
    assert exact.error == pytest.approx(0.0, abs=1e-12)
    assert cautious.error == pytest.approx(0.343 - 0.2401)
    assert with_opening.loss == pytest.approx(cautious.loss)
    assert exact.source == "Coder 1989"


@pytest.mark.parametrize(("ratio", "mode"), [(0.03, "flattening"), (0.1, "cracking"), (0.3, "bending")])
def test_wall_mode(ratio: float, mode: str) -> None:
    """Huang et al. 2017."""
    assert wall_mode(ratio * 0.5, 0.5) == mode
