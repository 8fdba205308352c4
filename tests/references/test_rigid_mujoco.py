"""Rigid trees let go in MuJoCo and settled to rest against the contact engine: what statics alone decides."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray
from tests.references.contact_engine import push_up, solved, system_of, wood
from tests.references.mujoco_rest import mujoco_rest

Floats = NDArray[np.float64]
STIFF = 1e20  # N m2 and N: wood that does not bend to speak of
MODULUS = 1e10
GIVE = 1e-9  # m/N: pads that do not give to speak of
WEIGHT = np.array([8000.0, 4000.0, 1500.0, 900.0])
PARENT = np.array([-1, 0, 0, 0])


def tree(seed: int) -> tuple[Floats, Floats, Floats, list[int], Floats]:
    """A forked tree (start, end) whose four rods each have one pad under them, the pads, and gaps: the farthest pad
    is out of reach, so that three pads carry and statics alone says how much."""
    rng = np.random.default_rng(seed)
    fork = np.array([rng.uniform(3.0, 5.0), 0.0, rng.uniform(1.0, 1.6)])
    start = np.array([[0.0, 0.0, 1.0], fork, fork, fork])
    tips = np.array([[5.0, 0.3, 0.2], [2.0, 2.0, -0.2], [1.5, -1.8, -0.2]]) * rng.uniform(0.7, 1.3, (3, 3))
    end = np.vstack([fork, fork + tips])
    share = rng.uniform([0.05, 0.6, 0.6, 0.7], [0.3, 0.9, 0.9, 0.9])[:, None]
    on = [0, 2, 3, 1]
    pads = start[on] * (1 - share) + end[on] * share - [0.0, 0.0, 0.2]
    return start, end, pads, on, np.array([0.0, rng.uniform(0.0, 2e-3), 0.0, 0.4])


def engine(start: Floats, end: Floats, pads: Floats, on: list[int], gap: Floats) -> Floats:
    """The engine's forces with stiff wood on stiff pads."""
    assembly = wood(start, end, PARENT, np.full(4, STIFF), np.full(4, STIFF), WEIGHT, MODULUS)
    contacts = [push_up(segment, point, GIVE) for segment, point in zip(on, pads, strict=True)]
    state = solved(system_of(assembly, contacts, gap, MODULUS))
    assert state.held.all()
    return state.force[:, 0]


@pytest.mark.parametrize("seed", range(6))
def test_three_pads_carry_by_statics(seed: int) -> None:
    """MuJoCo lets the tree down through up to 2 mm onto three frictionless pads and reads the contact forces at rest.

    Tolerance 1e-3 of the weight: its pads give by hundredths of a millimetre and it turns through finite angles (2 mm
    over 2 m); the error is proportional to that turn, which tests/references/test_rigid_rest.py shows.
    """
    start, end, pads, on, gap = tree(seed)
    theirs = mujoco_rest(start, end, WEIGHT, pads, gap, seconds=12.0)
    ours = engine(start, end, pads, on, gap)
    assert theirs.sum() == pytest.approx(WEIGHT.sum(), rel=1e-6)
    assert (theirs > 1.0).tolist() == (ours > 1.0).tolist()
    assert ours == pytest.approx(theirs, abs=1e-3 * WEIGHT.sum())


@pytest.mark.parametrize("gap", [(0.0, 0.0, 0.0, 0.05), (0.0, 0.0, 0.005, 0.0), (0.001, 0.0, 0.0, 0.03)])
def test_which_three_of_four_pads(gap: tuple[float, ...]) -> None:
    """Four pads under one tree: both say which three carry after settling through the gaps, and how much."""
    start, end, pads, on, _ = tree(1)
    theirs = mujoco_rest(start, end, WEIGHT, pads, gap)
    ours = engine(start, end, pads, on, np.array(gap))
    assert (theirs > 1.0).tolist() == (ours > 1.0).tolist()
    assert ours == pytest.approx(theirs, abs=1e-3 * WEIGHT.sum())
