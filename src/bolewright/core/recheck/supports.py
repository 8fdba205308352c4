"""Which supports carry: the wood is let down onto its springs until nothing moves any more.

The stored energy of wood and springs together is a convex function of the node movements, made of quadratic patches,
one for each set of loaded supports. From the place where the wood was measured we step to the bottom of the current
patch, but along that line never past the lowest point of the whole function, and take the patch we then stand on.
The energy falls at every round, so no set comes back and the search ends. The free body is held in its rigid motions
by a weak drag on the foot of the body, which is moved along every round and so leaves no force behind.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import sparse
from scipy.sparse.linalg import SuperLU, splu

from bolewright.core.recheck.body import Flags, Floats

_DRAG = 1e-4  # stiffness of the drag, in units of the body's own stiffness
_LEAST_GIVE = 1e-9  # smallest support compliance, in units of the body's own
_CLOSE = 1e-11  # forces and movements below this share of the whole count as none
_MOST_ROUNDS = 400


@dataclass(frozen=True)
class Springs:
    """Supports in scaled units: rows of movement, give, gap and force bounds."""

    rows: sparse.csr_matrix
    give: Floats
    gap: Floats
    lower: Floats
    upper: Floats


@dataclass(frozen=True)
class Rest:
    """Where the body comes to rest: movements, forces, and whether the search ended."""

    movement: Floats
    force: Floats
    breach: float  # worst breach of "no force without touching"
    rounds: int
    settled: bool


def come_to_rest(stiffness: sparse.csc_matrix, load: Floats, springs: Springs, foot: int) -> Rest:
    """The rest position of a free elastic body on bounded one-sided springs, all in scaled units.

    `foot` is how many leading freedoms take the drag (the foot's rigid motions). The caller has made sure that some
    set of allowed forces balances the load; then a rest position exists. `settled` is False if the rounds ran out.
    Source: Newton's method with exact line search on a convex piecewise quadratic (Sun 1997, from memory), with a
    proximal term (Rockafellar 1976, from memory).
    Checked by: tests/unit/recheck/test_supports.py (against a quadratic programme solver), tests/handbook/test_beams_recheck.py.
    """
    springs = _at_least(springs)
    movement = np.zeros(len(load))
    solver = _PatchSolver(stiffness, load, springs, foot)
    for round_ in range(1, _MOST_ROUNDS + 1):
        touch, force = _loaded(springs, movement)
        target, aimed = solver.bottom(touch, force, movement)
        breach = _breach(springs, touch, target, aimed)
        if breach <= _CLOSE:
            pull = _DRAG * float(np.max(np.abs(target[:foot] - movement[:foot]), initial=0.0))
            movement = target
            if pull <= _CLOSE:
                return Rest(movement, np.clip(aimed, springs.lower, springs.upper), breach, round_, True)
            continue
        way = target - movement
        movement = movement + _lowest(stiffness, load, springs, movement, way) * way
    return Rest(movement, _loaded(springs, movement)[1], np.inf, _MOST_ROUNDS, False)


def _at_least(springs: Springs) -> Springs:
    return Springs(springs.rows, np.maximum(springs.give, _LEAST_GIVE), springs.gap, springs.lower, springs.upper)


def _loaded(springs: Springs, movement: Floats) -> tuple[Flags, Floats]:
    """Which springs work between their bounds, and the force in each."""
    wanted = -(springs.rows @ movement + springs.gap) / springs.give
    between = (wanted >= springs.lower) & (wanted <= springs.upper) & (springs.lower < springs.upper)
    return between, np.clip(wanted, springs.lower, springs.upper)


def _breach(springs: Springs, touch: Flags, movement: Floats, force: Floats) -> float:
    """How far a target breaks the rules: a force outside its bounds, or a spring idle that should carry."""
    over = np.maximum(springs.lower - force, force - springs.upper)
    scale = max(1.0, float(np.max(np.abs(force), initial=0.0)))
    worst = float(np.max(over[touch], initial=0.0)) / scale
    slack = springs.rows @ movement + springs.gap + springs.give * force
    size = max(1.0, float(np.max(np.abs(movement), initial=0.0)))
    at_lower, at_upper = ~touch & (force <= springs.lower), ~touch & (force >= springs.upper)
    should = np.where(at_lower & at_upper, 0.0, np.where(at_lower, -slack, np.where(at_upper, slack, 0.0)))
    return max(worst, float(np.max(should, initial=0.0)) / size)


class _PatchSolver:
    """Bottom of the energy patch of a set of loaded springs; remembers the factors of the sets already met."""

    def __init__(self, stiffness: sparse.csc_matrix, load: Floats, springs: Springs, foot: int) -> None:
        self.load, self.springs, self.foot = load, springs, foot
        drag = np.zeros(len(load))
        drag[:foot] = _DRAG
        self.held = (stiffness + sparse.diags(drag)).tocsc()
        self.factors: dict[bytes, tuple[sparse.csc_matrix, SuperLU]] = {}

    def bottom(self, touch: Flags, force: Floats, movement: Floats) -> tuple[Floats, Floats]:
        """Movements and forces at the patch's bottom; springs not touching keep the force given."""
        matrix, factors = self._factored(touch)
        size = len(self.load)
        right = np.zeros(size + int(touch.sum()))
        right[:size] = self.load + self.springs.rows[~touch].T @ force[~touch]
        right[: self.foot] += _DRAG * movement[: self.foot]
        right[size:] = -self.springs.gap[touch]
        answer = factors.solve(right)
        answer += factors.solve(right - matrix @ answer)
        result = force.copy()
        result[touch] = answer[size:]
        return answer[:size], result

    def _factored(self, touch: Flags) -> tuple[sparse.csc_matrix, SuperLU]:
        key = touch.tobytes()
        if key not in self.factors:
            rows = self.springs.rows[touch]
            give = sparse.diags(self.springs.give[touch]) if touch.any() else None
            matrix = sparse.bmat([[self.held, -rows.T], [rows, give]]).tocsc() if touch.any() else self.held
            self.factors[key] = (matrix, splu(matrix))
        return self.factors[key]


def _lowest(stiffness: sparse.csc_matrix, load: Floats, springs: Springs, movement: Floats, way: Floats) -> float:
    """How far along `way` the energy is lowest: its slope is a rising broken line, so its zero is found exactly."""
    rate, now = springs.rows @ way, springs.rows @ movement + springs.gap
    bend, start = float(way @ (stiffness @ way)), float(way @ (stiffness @ movement) - load @ way)

    def slope(t: float) -> float:
        force = np.clip(-(now + t * rate) / springs.give, springs.lower, springs.upper)
        return start + t * bend - float(force @ rate)

    with np.errstate(divide="ignore", invalid="ignore"):
        corners = np.concatenate([(-springs.give * bound - now) / rate for bound in (springs.lower, springs.upper)])
    ordered = np.unique(corners[np.isfinite(corners) & (corners > 0.0)])
    low, at_low = 0.0, slope(0.0)
    for corner in ordered:
        at_corner = slope(float(corner))
        if at_corner >= 0.0:
            return low + (float(corner) - low) * -at_low / max(at_corner - at_low, 1e-300) if at_low < 0.0 else low
        low, at_low = float(corner), at_corner
    beyond = slope(low + 1.0) - at_low
    return low - at_low / beyond if beyond > 0.0 else low + 1.0
