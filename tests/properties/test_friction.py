"""Laws every answer with friction must keep: balance, one-sidedness, pyramids, least energy, scale and turning."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from numpy.typing import NDArray

from bolewright.core.contact.friction import Cone, Equilibrium, friction_needed, pyramid, solve_friction

Array = NDArray[np.float64]
SEEDS = st.integers(0, 2**31)


class Tree:
    """A bending tree on frictional contacts of random tilt, as the numbers the solver takes."""

    def __init__(self, seed: int, mu: float, count: int = 5) -> None:
        rng = np.random.default_rng(seed)
        self.points = rng.uniform([0, -1.5, 0], [14, 1.5, 3.0], (count, 3))
        normal = rng.normal([0, 0, 1.0], 0.3, (count, 3))
        normal /= np.linalg.norm(normal, axis=1)[:, None]
        first = np.cross(normal, [0.0, 1.0, 0.0])
        first /= np.linalg.norm(first, axis=1)[:, None]
        self.directions = np.stack([normal, first, np.cross(normal, first)], axis=1).reshape(-1, 3)
        self.centre = rng.dirichlet(np.ones(count)) @ self.points
        self.newtons = float(rng.uniform(5e3, 8e4))
        root = rng.normal(0.0, 3e-4, (3 * count, 3 * count))
        self.flexibility, self.sag = root @ root.T, rng.normal(0, 5e-3, 3 * count)
        self.gap = np.where(np.arange(3 * count) % 3 == 0, rng.uniform(0, 0.01, 3 * count), 0.0)
        self.low, self.high = np.tile([0.0, -np.inf, -np.inf], count), np.full(3 * count, np.inf)
        self.cones = tuple(Cone(3 * i, 3 * i + 1, 3 * i + 2, mu) for i in range(count))

    def wrench(self, turn: Array | None = None, shift: Array | None = None) -> Array:
        turned = np.eye(3) if turn is None else turn
        moved = np.zeros(3) if shift is None else shift
        points = np.repeat(self.points, 3, axis=0) @ turned.T + moved
        directions = self.directions @ turned.T
        return np.concatenate([directions, np.cross(points, directions)], axis=1).T

    def weight(self, turn: Array | None = None, shift: Array | None = None) -> Array:
        turned = np.eye(3) if turn is None else turn
        moved = np.zeros(3) if shift is None else shift
        force = np.array([0.0, 0.0, -self.newtons])  # turns are about the vertical
        return np.concatenate([force, np.cross(turned @ self.centre + moved, force)])

    def solve(self, turn: Array | None = None, shift: Array | None = None, factor: float = 1.0) -> Equilibrium:
        give = np.full(len(self.low), 1e-7)
        load, weight = factor * self.sag, factor * self.weight(turn, shift)
        wrench, gap = self.wrench(turn, shift), factor * self.gap
        return solve_friction(self.flexibility, load, wrench, weight, give, gap, self.low, self.high, self.cones)


@given(seed=SEEDS, mu=st.floats(0.3, 1.2))
def test_balance_limits_and_least_energy(seed: int, mu: float) -> None:
    """The four conditions of Karush, Kuhn and Tucker, which prove the answer without trusting the solver."""
    tree = Tree(seed, mu)
    answer = tree.solve()
    assume(answer.status == "held")
    assert answer.force is not None
    assert answer.movement is not None
    assert answer.multipliers is not None
    force, wrench, sides = answer.force, tree.wrench(), pyramid(tree.cones, len(tree.low))
    assert answer.residual < 1e-9
    assert np.all(force[::3] >= 0.0)
    strays = sides @ force
    assert np.all(strays <= 1e-6 * tree.newtons)
    energy = tree.flexibility + 1e-7 * np.eye(len(force))
    opening = energy @ force + tree.sag + tree.gap + wrench.T @ answer.movement
    pushed = opening + sides.T @ answer.multipliers.cones - answer.multipliers.limits
    size = float(np.max(np.abs(energy @ force)))
    np.testing.assert_allclose(pushed, 0.0, atol=1e-8 * size)
    assert np.all(answer.multipliers.cones >= -1e-8 * size)
    assert np.all(answer.multipliers.limits[::3] >= -1e-8 * size)
    np.testing.assert_allclose(answer.multipliers.limits * force, 0.0, atol=1e-7 * size * tree.newtons)
    np.testing.assert_allclose(answer.multipliers.cones * strays, 0.0, atol=1e-7 * size * tree.newtons)


@given(seed=SEEDS, angle=st.floats(-3.1, 3.1), far=st.floats(-30.0, 30.0))
def test_turning_and_moving_the_job_changes_no_force(seed: int, angle: float, far: float) -> None:
    """The same tree, turned about the vertical and moved: the same forces."""
    tree = Tree(seed, 0.8)
    c, s = np.cos(angle), np.sin(angle)
    turn, shift = np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]]), np.array([far, -0.5 * far, 2.0])
    first, second = tree.solve(), tree.solve(turn, shift)
    assume(friction_margin(tree) > 1e-6)
    assert first.status == second.status
    if first.force is not None:
        assert second.force == pytest.approx(first.force, abs=1e-6 * tree.newtons)


def friction_margin(tree: Tree) -> float:
    """How far the friction there is lies from the friction needed: near zero, either word is right."""
    needed = friction_needed(tree.wrench(), tree.weight(), tree.low, tree.high, tree.cones)
    return 1.0 if needed is None else abs(needed - tree.cones[0].mu)


@given(seed=SEEDS, factor=st.floats(0.01, 100.0))
def test_scale_of_force_changes_nothing_else(seed: int, factor: float) -> None:
    """Weight, sag and gaps times k: forces and movement times k (the problem is homogeneous)."""
    tree = Tree(seed, 0.8)
    first, second = tree.solve(), tree.solve(factor=factor)
    assume(friction_margin(tree) > 1e-6)
    assert first.status == second.status
    if first.force is not None and first.movement is not None:
        assert second.force == pytest.approx(factor * first.force, abs=1e-6 * factor * tree.newtons)
        size = factor * float(np.max(np.abs(first.movement)))
        assert second.movement == pytest.approx(factor * first.movement, abs=1e-6 * size)


@given(seed=SEEDS)
def test_the_needed_friction_parts_held_from_not_held(seed: int) -> None:
    """Just below it nothing holds, just above it something does; without an answer not even a friction of 90 holds."""
    tree = Tree(seed, 0.0)
    needed = friction_needed(tree.wrench(), tree.weight(), tree.low, tree.high, tree.cones)
    if needed is None:
        assert Tree(seed, 90.0).solve().status == "no equilibrium"
    else:
        assert Tree(seed, needed * 1.001 + 1e-6).solve().status == "held"
        assert needed < 1e-6 or Tree(seed, needed * 0.999 - 1e-7).solve().status == "no equilibrium"


@given(seed=SEEDS)
def test_eight_sides_need_no_more_friction_than_four(seed: int) -> None:
    """The square pyramid with its corners on the octagon's lies inside it."""
    tree = Tree(seed, 0.0)
    four = friction_needed(tree.wrench(), tree.weight(), tree.low, tree.high, tree.cones, 4)
    eight = friction_needed(tree.wrench(), tree.weight(), tree.low, tree.high, tree.cones, 8)
    if four is not None:
        assert eight is not None
        assert eight <= four + 1e-7
        assert eight >= four * np.cos(np.pi / 4) - 1e-7
