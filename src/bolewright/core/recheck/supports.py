"""Which supports carry: the wood is let down onto its springs until nothing moves any more.

The stored energy of wood and springs together is a convex function of the node movements, made of quadratic patches,
one for each set of loaded supports. From the place where the wood was measured we step to the bottom of the current
patch, but along that line never past the lowest point of the whole function, and take the patch we then stand on.
The energy falls at every round, so no set comes back and the search ends. The free body is held in its rigid motions
by a weak drag on the foot of the body, which is moved along every round and so leaves no force behind.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from scipy import sparse
from scipy.sparse.linalg import SuperLU, splu

from bolewright.core.recheck.body import Flags, Floats

_DRAG = 1e-4  # stiffness of the drag while the set is sought, in units of the body's own stiffness
_LAST_DRAG = 1e-9  # the same once the set stands
_LEAST_GIVE = 1e-10  # smallest support compliance, in units of the body's own
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
class Wood:
    """The free elastic body in scaled units (frame.py); the first `foot` freedoms are the foot's rigid motions."""

    ties: sparse.csr_matrix
    soft: sparse.csr_matrix
    sag: Floats
    load: Floats
    foot: int


@dataclass(frozen=True)
class Lie:
    """A shape of the body: movements of its nodes and the forces on its elements' ends that belong to them."""

    movement: Floats
    inner: Floats

    def towards(self, other: Lie, share: float) -> Lie:
        """The shape a share of the way from this one to another."""
        return Lie(
            self.movement + share * (other.movement - self.movement), self.inner + share * (other.inner - self.inner)
        )


@dataclass(frozen=True)
class Rest:
    """Where the body comes to rest: its shape, forces, and whether the search ended."""

    lie: Lie
    force: Floats
    breach: float  # worst breach of "no force without touching"
    rounds: int
    settled: bool


def come_to_rest(wood: Wood, springs: Springs) -> Rest:
    """The rest position of a free elastic body on m bounded one-sided springs, all in scaled units [-].

    The caller has made sure that some set of allowed forces balances the load; then a rest position exists.
    `settled` is False if the rounds ran out.
    Source: Newton's method with exact line search on a convex piecewise quadratic (Sun 1997, from memory), with a
    proximal term (Rockafellar 1976, from memory).
    Checked by: tests/unit/recheck/test_supports.py, tests/handbook/test_beams_recheck.py
    """
    springs = replace(springs, give=np.maximum(springs.give, _LEAST_GIVE))
    solver = _PatchSolver(wood, springs)
    touch, force = _loaded(springs, np.zeros(len(wood.load)))
    lie, _ = solver.bottom(touch, force, np.zeros(len(wood.load)), _DRAG)
    drag = _DRAG
    for round_ in range(1, _MOST_ROUNDS + 1):
        if drag == _DRAG:
            touch, force = _loaded(springs, lie.movement)
        target, aimed = solver.bottom(touch, force, lie.movement, drag)
        breach = _breach(springs, touch, target.movement, aimed)
        if breach > _CLOSE:
            lie, drag = lie.towards(target, _lowest(wood, springs, lie, target)), _DRAG
            continue
        pull = drag * float(np.max(np.abs(target.movement[: wood.foot] - lie.movement[: wood.foot]), initial=0.0))
        lie = target
        if drag == _LAST_DRAG and pull <= _CLOSE:
            return Rest(lie, np.clip(aimed, springs.lower, springs.upper), breach, round_, True)
        drag = _LAST_DRAG
    return Rest(lie, _loaded(springs, lie.movement)[1], np.inf, _MOST_ROUNDS, False)


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

    def __init__(self, wood: Wood, springs: Springs) -> None:
        self.wood, self.springs = wood, springs
        self.factors: dict[tuple[bytes, float], tuple[sparse.csc_matrix, SuperLU]] = {}

    def bottom(self, touch: Flags, force: Floats, movement: Floats, drag: float) -> tuple[Lie, Floats]:
        """The shape and forces at the patch's bottom; springs not touching keep the force given."""
        matrix, factors = self._factored(touch, drag)
        wood, springs = self.wood, self.springs
        pushed = wood.load + springs.rows[~touch].T @ force[~touch]
        pushed[: wood.foot] += drag * movement[: wood.foot]
        right = np.concatenate([pushed, wood.sag, -springs.gap[touch]])
        answer = factors.solve(right)
        answer += factors.solve(right - matrix @ answer)
        size, inner = len(wood.load), len(wood.sag)
        result = force.copy()
        result[touch] = answer[size + inner :]
        return Lie(answer[:size], answer[size : size + inner]), result

    def _factored(self, touch: Flags, drag: float) -> tuple[sparse.csc_matrix, SuperLU]:
        key = (touch.tobytes(), drag)
        if key not in self.factors:
            wood, rows = self.wood, self.springs.rows[touch]
            held = np.zeros(len(wood.load))
            held[: wood.foot] = drag
            give = sparse.diags_array(self.springs.give[touch])
            blocks = [
                [sparse.diags_array(held), wood.ties.T, -rows.T],
                [wood.ties, -wood.soft, None],
                [rows, None, give],
            ]
            matrix = sparse.bmat(blocks).tocsc()
            self.factors[key] = (matrix, splu(matrix))
        return self.factors[key]


def _lowest(wood: Wood, springs: Springs, lie: Lie, target: Lie) -> float:
    """How far towards the target the energy is lowest: its slope is a rising broken line, so its zero is exact."""
    way, inner = target.movement - lie.movement, target.inner - lie.inner
    rate, now = springs.rows @ way, springs.rows @ lie.movement + springs.gap
    stretch = wood.soft @ inner
    bend, start = float(inner @ stretch), float(lie.inner @ stretch - wood.load @ way)

    def slope(t: float) -> float:
        force = np.clip(-(now + t * rate) / springs.give, springs.lower, springs.upper)
        return start + t * bend - float(force @ rate)

    with np.errstate(divide="ignore", invalid="ignore"):
        corners = np.concatenate([(-springs.give * bound - now) / rate for bound in (springs.lower, springs.upper)])
    low, at_low = 0.0, slope(0.0)
    for corner in np.unique(corners[np.isfinite(corners) & (corners > 0.0)]):
        at_corner = slope(float(corner))
        if at_corner >= 0.0:
            return low + (float(corner) - low) * -at_low / max(at_corner - at_low, 1e-300) if at_low < 0.0 else low
        low, at_low = float(corner), at_corner
    beyond = slope(low + 1.0) - at_low
    return low - at_low / beyond if beyond > 0.0 else low + 1.0
