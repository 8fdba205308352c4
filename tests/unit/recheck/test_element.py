"""One element against textbook matrices and closed forms."""

from __future__ import annotations

import numpy as np
import pytest

from bolewright.core.recheck.element import carry, cross_matrix, flexibility, integrals, part_of, sag, stiffness


def parts_of(length: float, bending: tuple[float, float], torsion: float = 5.0, axial: float = 7.0):
    """Integrals of one element."""
    one = np.array([length])
    return integrals(one, np.array([bending]), np.full((1, 2), torsion), np.full((1, 2), axial))


def test_prismatic_stiffness_is_the_textbook_matrix() -> None:
    """Przemieniecki 1968, Theory of Matrix Structural Analysis, eq. 5.116 without shear (from memory): 12EI/L3 etc."""
    EI, GJ, EA, L = 3.0, 5.0, 7.0, 2.0
    K = stiffness(np.array([[L, 0.0, 0.0]]), parts_of(L, (EI, EI)))[0]
    want = np.zeros((12, 12))
    a, b, c, d = 12 * EI / L**3, 6 * EI / L**2, 4 * EI / L, 2 * EI / L
    want[np.ix_([0, 6], [0, 6])] = EA / L * np.array([[1, -1], [-1, 1]])
    want[np.ix_([3, 9], [3, 9])] = GJ / L * np.array([[1, -1], [-1, 1]])
    bend = np.array([[a, b, -a, b], [b, c, -b, d], [-a, -b, a, -b], [b, d, -b, c]])
    want[np.ix_([1, 5, 7, 11], [1, 5, 7, 11])] = bend
    flip = np.diag([1, -1, 1, -1])
    want[np.ix_([2, 4, 8, 10], [2, 4, 8, 10])] = flip @ bend @ flip
    assert pytest.approx(want, abs=1e-12) == K


@pytest.mark.parametrize("ratio", [0.999999, 0.9, 0.4, 0.05])
def test_round_taper_matches_the_closed_form(ratio: float) -> None:
    """Tip load on a linear round taper: 64 P L3 / (3 pi E d_tip d_base3), that is L3 / (3 EI_base ratio)."""
    L, EI = 6.0, 2.0e7
    parts = parts_of(L, (EI, EI * ratio**4))
    assert parts.bend[2][0] == pytest.approx(L**3 / (3 * EI * ratio), rel=1e-11)
    assert parts.bend[0][0] == pytest.approx(L / (3 * EI) * (1 + ratio + ratio**2) / ratio**3, rel=1e-11)


def test_sag_under_spread_load() -> None:
    """wL4/8EI and wL3/6EI at the free end (Table 3-23, cantilever)."""
    L, EI, w = 2.0, 3.0, 1.5
    moved = sag(np.array([[1.0, 0.0, 0.0]]), parts_of(L, (EI, EI)), np.array([[0.0, 0.0, -w]]))[0]
    assert moved == pytest.approx([0, 0, -w * L**4 / (8 * EI), 0, w * L**3 / (6 * EI), 0])


def test_two_parts_make_the_whole() -> None:
    """A tapered element cut at 30 % bends as the uncut one."""
    bending, L = np.array([[9.0, 2.0]]), 3.0
    whole = flexibility(np.array([[1.0, 0, 0]]), parts_of(L, (9.0, 2.0)))[0]
    halves = [part_of(bending, np.array([a]), np.array([b]), 4)[0] for a, b in ((0.0, 0.3), (0.3, 1.0))]
    first, second = (
        flexibility(np.array([[1.0, 0, 0]]), parts_of(L * s, tuple(h)))[0]
        for s, h in zip((0.3, 0.7), halves, strict=True)
    )
    reach = carry(np.array([0.7 * L, 0.0, 0.0]))
    assert reach @ first @ reach.T + second == pytest.approx(whole)


def test_cross_matrix_and_carry() -> None:
    """A point at x + r moves by u + turn x r."""
    r, turn = np.array([1.0, 2.0, 3.0]), np.array([0.1, -0.2, 0.3])
    assert cross_matrix(r) @ turn == pytest.approx(np.cross(r, turn))
    assert (carry(r) @ np.concatenate([np.zeros(3), turn]))[:3] == pytest.approx(np.cross(turn, r))
