"""Balance of the whole body: can the supports hold it at all, and does an answer balance.

Written from the supports' geometry alone, without the frame, so it also checks the frame's assembly.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.optimize import linprog

from bolewright.core.recheck.body import Flags, Floats, PointLoads, Segments, Supports

VERTICAL_ROWS = (2, 3, 4)  # Fz, Mx, My
ALL_ROWS = (0, 1, 2, 3, 4, 5)
_BALANCED = 1e-9  # imbalance, as a share of the load, that counts as none


@dataclass(frozen=True)
class Balance:
    """The body's rigid balance about a point, in units of its load and size."""

    about: Floats
    size: float
    total: float  # N, sum of the loads' sizes
    wrench: Floats  # (rows,) of all loads
    columns: Floats  # (rows, m) of a unit force in each support
    rows: tuple[int, ...]


def balance_of(
    segments: Segments, on_tree: Flags, supports: Supports, loads: PointLoads, rows: tuple[int, ...]
) -> Balance:
    """The force and couple [N, N m] of weight and loads and of each support, about the middle of the body.

    Source: mechanics, sums of forces and moments.
    Checked by: tests/unit/recheck/test_equilibrium.py
    """
    points = np.vstack([segments.start[on_tree], segments.end[on_tree]])
    about = 0.5 * (points.min(axis=0) + points.max(axis=0))
    size = float(np.linalg.norm(np.ptp(points, axis=0)))
    weight = segments.weight[on_tree]
    down = np.zeros((len(weight), 3))
    down[:, 2] = -weight
    middle = 0.5 * (segments.start[on_tree] + segments.end[on_tree])
    force = np.vstack([down, loads.force])
    couple = np.vstack([np.zeros_like(down), loads.couple])
    arm = np.vstack([middle, loads.point]) - about
    wrench = np.concatenate([force.sum(axis=0), (np.cross(arm, force) + couple).sum(axis=0) / size])
    turning = (np.cross(supports.point - about, supports.direction) + supports.couple) / size
    columns = np.hstack([supports.direction, turning]).T
    total = float(np.abs(weight).sum() + np.linalg.norm(loads.force, axis=1).sum())
    total += float(np.linalg.norm(loads.couple, axis=1).sum()) / size
    pick = list(rows)
    return Balance(about, size, max(total, 1e-300), wrench[pick], columns[pick], rows)


def imbalance(balance: Balance, force: Floats) -> float:
    """Worst force or moment (over size) left over by support forces [N], as a share of the load [-].

    Source: mechanics, sums of forces and moments.
    Checked by: tests/references/test_frames_agree.py
    """
    return float(np.max(np.abs(balance.columns @ force + balance.wrench))) / balance.total


def motion_nothing_resists(balance: Balance, lower: Floats, upper: Floats) -> Floats | None:
    """None if forces [N] within bounds balance the load; else the rigid movement (at the origin) it starts with.

    The least total imbalance over all allowed forces is found by linear programming; its prices are the motion.
    Source: Farkas' lemma; the dual of the balance problem is a virtual motion on which the load does work.
    Checked by: tests/unit/recheck/test_equilibrium.py
    """
    rows, count = balance.columns.shape
    slack = np.hstack([np.eye(rows), -np.eye(rows)])
    ends = zip(lower / balance.total, upper / balance.total, strict=True)
    answer = linprog(
        np.concatenate([np.zeros(count), np.ones(2 * rows)]),
        A_eq=np.hstack([balance.columns, slack]),
        b_eq=-balance.wrench / balance.total,
        bounds=[*ends, *[(0, None)] * (2 * rows)],
        method="highs",
        options={"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10},
    )
    if answer.status != 0:
        raise ArithmeticError(f"the balance problem was not solved: {answer.message}")
    if answer.fun <= _BALANCED:
        return None
    motion = np.zeros(6)
    motion[list(balance.rows)] = -np.asarray(answer.eqlin.marginals)
    motion[3:] /= balance.size
    motion[:3] -= np.cross(motion[3:], balance.about)
    return motion / float(np.max(np.abs(motion)))


def loose_motions(balance: Balance, carrying: Flags) -> int:
    """How many rigid motions [-] no carrying support resists: the body is balanced there, not stopped.

    Source: mechanics, rank of the supports' wrenches.
    Checked by: tests/unit/recheck/test_equilibrium.py
    """
    columns = balance.columns[:, carrying]
    if columns.shape[1] == 0:
        return len(balance.rows)
    return len(balance.rows) - int(np.linalg.matrix_rank(columns, tol=1e-7))
