"""Rigid trees settled to rest in MuJoCo against the second formulation: what statics alone decides."""

from __future__ import annotations

import numpy as np
import pytest
from tests.references.mujoco_rest import mujoco_rest

from bolewright.core.recheck import HELD, Segments, Supports, recheck_state

START = np.array([[0.0, 0.0, 1.0], [4.0, 0.0, 1.4], [4.0, 0.0, 1.4], [4.0, 0.0, 1.4]])
END = np.array([[4.0, 0.0, 1.4], [9.0, 0.3, 1.7], [6.0, 2.0, 1.1], [5.5, -1.8, 1.2]])
PARENT = np.array([-1, 0, 0, 0])
WEIGHT = np.array([9000.0, 5000.0, 1200.0, 800.0])
ON = [0, 2, 3, 1]
PADS = np.array([[0.5, 0.0, 0.8], [5.6, 1.6, 1.0], [5.1, -1.3, 1.0], [8.0, 0.24, 1.5]])


def rigid_recheck(segment: list[int], point: np.ndarray, gap: np.ndarray) -> np.ndarray:
    """Our forces with wood that does not bend and supports that hardly give."""
    wood = Segments.of(START, END, PARENT, 1e6, 1e6, 1e6, WEIGHT, rigid=np.ones(4, dtype=bool))
    result = recheck_state(wood, Supports.of(segment, point, (0, 0, 1), 1e-9, gap))
    assert result.status == HELD
    return result.forces


@pytest.mark.parametrize(
    "gap", [(0.0, 0.0, 0.0, 0.05), (0.0, 0.0, 0.005, 0.0), (0.0, 0.0, 0.002, 0.0005), (0.001, 0.0, 0.0, 0.03)]
)
def test_three_of_four_pads_carry(gap: tuple[float, ...]) -> None:
    """Which three of four pads carry after settling through millimetres, and how much.

    Tolerance: MuJoCo's contacts give by hundredths of a millimetre and its turns are finite (a few milliradians).
    """
    theirs = mujoco_rest(START, END, WEIGHT, PADS, gap)
    ours = rigid_recheck(ON, PADS, np.array(gap))
    assert theirs.sum() == pytest.approx(WEIGHT.sum(), rel=1e-6)
    assert (theirs > 1.0).tolist() == (ours > 1.0).tolist()
    assert ours == pytest.approx(theirs, abs=1e-3 * WEIGHT.sum())


def test_small_turns_are_what_is_left_out() -> None:
    """Rolling onto a pad ten times lower makes the difference ten times greater: it is the turn, not the statics."""
    apart = []
    for gap in (0.005, 0.05):
        gaps = (0.0, 0.0, gap, 0.0)
        apart.append(
            np.abs(mujoco_rest(START, END, WEIGHT, PADS, gaps) - rigid_recheck(ON, PADS, np.array(gaps))).max()
        )
    assert apart[1] / apart[0] == pytest.approx(10.0, rel=0.2)
    assert apart[1] < 0.01 * WEIGHT.sum()
