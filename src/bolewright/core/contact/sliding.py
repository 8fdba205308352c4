"""How much friction it takes to keep a tree where it lies: the smallest common friction that leaves an equilibrium.

At each trial friction a linear programme finds the least imbalance that is left over. It falls to zero at the answer;
the programme's own prices give its slope, so Newton's steps, halved where they overshoot, get there in a few trials.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog

from bolewright.core.contact.cones import Cone, corner_columns

Array = NDArray[np.float64]

MOST_FRICTION = 100.0  # a slope of 89.4 degrees: above this no surface holds by friction (house rule)
MOST_TRIALS = 60
SETTLED = 1e-9  # of weight: an imbalance below this counts as none
CLOSE = 1e-6  # of friction: from this near, Newton's step is right to about its square
SHORTER, SHORTEST = 0.04, 0.95  # a step that overshoots is shortened once, then halved


def friction_needed(
    wrench: Array, weight: Array, lower: Array, upper: Array, cones: tuple[Cone, ...], sides: int = 4
) -> float | None:
    """The smallest friction [-], the same at every cone, that leaves any equilibrium; None when none is enough.

    The cones' own friction is not used. With the pyramid inside the round cone the answer is never too small by that;
    but equilibrium counts as holding wherever friction COULD hold (associated law), which is optimistic: sliding may
    start above this value. wrench (6, m); weight (6,) [N, N m]; lower, upper (m,) [N], whose limits on the tangent
    unknowns are replaced by the pyramids. 0.0 means the shapes alone hold it.
    Source: Coulomb friction, statics; slope of a linear programme's value by its coefficients: Bertsimas & Tsitsiklis
    1997, ch. 5.
    Checked by: tests/unit/contact/test_friction.py, tests/properties/test_friction.py.
    """
    parts = _Parts(wrench, weight, lower, upper, cones, sides)
    low, high = 0.0, MOST_FRICTION
    left, step = _shortfall(parts, low)
    if left <= SETTLED:
        return low
    if _shortfall(parts, high)[0] > SETTLED:
        return None
    shorter = 1.0
    for _ in range(MOST_TRIALS):
        if step <= CLOSE or high - low <= CLOSE:
            break
        trial = low + shorter * step
        if shorter < SHORTEST or not low < trial < high:
            trial = 0.5 * (low + high)
        left, new = _shortfall(parts, trial)
        if left <= SETTLED:
            high, shorter = trial, shorter - SHORTER
        else:
            low, step, shorter = trial, new, 1.0
    return min(low + step, high)


class _Parts:
    """The problem in numbers near one, tangents replaced by the corners of the pyramids."""

    def __init__(
        self, wrench: Array, weight: Array, lower: Array, upper: Array, cones: tuple[Cone, ...], sides: int
    ) -> None:
        newtons = float(np.linalg.norm(weight[:3])) or 1.0
        arms = [np.max(np.abs(wrench[3:]), initial=0.0), np.max(np.abs(weight[3:])) / newtons]
        metres = float(max(arms)) or 1.0
        shrink = np.array([1.0, 1.0, 1.0, 1.0 / metres, 1.0 / metres, 1.0 / metres])
        inside = {i for c in cones for i in (c.normal, c.tangent1, c.tangent2)}
        plain = [i for i in range(wrench.shape[1]) if i not in inside]
        normal = [c.normal for c in cones]
        normals, corners = corner_columns(wrench * shrink[:, None], cones, sides)
        self.plain = wrench[:, plain] * shrink[:, None]
        self.normals, self.corners, self.sides = normals, corners, sides
        self.weight = weight * shrink / newtons
        self.low, self.high = lower[plain] / newtons, upper[plain] / newtons
        self.cone_low, self.cone_high = lower[normal] / newtons, upper[normal] / newtons

    def pushes(self, friction: float) -> Array:
        """(6, cones * sides) normal plus friction at each corner of each pyramid."""
        return np.asarray((self.normals[:, :, None] + friction * self.corners).reshape(6, -1))


def _shortfall(parts: _Parts, friction: float) -> tuple[float, float]:
    """The least total imbalance at this friction, and Newton's step to where it vanishes (inf: it does not fall)."""
    pushes = parts.pushes(friction)
    eye = np.eye(6)
    balance = np.concatenate([parts.plain, pushes, eye, -eye], axis=1)
    cost = np.concatenate([np.zeros(parts.plain.shape[1] + pushes.shape[1]), np.ones(12)])
    limits = [(a, b) for a, b in zip(parts.low, parts.high, strict=True)]
    limits += [(0.0, np.inf)] * (pushes.shape[1] + 12)
    total = np.kron(np.eye(len(parts.cone_low)), np.ones(parts.sides))
    total = np.concatenate([np.zeros((len(total), parts.plain.shape[1])), total, np.zeros((len(total), 12))], axis=1)
    above, below = np.isfinite(parts.cone_high), parts.cone_low > 0.0
    rows = np.concatenate([total[above], -total[below]])
    right = np.concatenate([parts.cone_high[above], -parts.cone_low[below]])
    answer = linprog(
        cost,
        A_eq=balance,
        b_eq=-parts.weight,
        A_ub=rows if len(rows) else None,
        b_ub=right if len(rows) else None,
        bounds=limits,
        method="highs",
        options={"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10},
    )
    prices = np.asarray(answer.eqlin.marginals)
    amounts = np.asarray(answer.x)[parts.plain.shape[1] : parts.plain.shape[1] + pushes.shape[1]]
    slope = -float(prices @ parts.corners.reshape(6, -1) @ amounts)  # of the imbalance with friction
    return float(answer.fun), (float(answer.fun) / -slope if slope < 0.0 else np.inf)
