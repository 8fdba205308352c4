"""What each piece does for the tree: prop, counterweight, ballast or idle."""

from __future__ import annotations

import numpy as np

from bolewright.core.base.range import Range
from bolewright.core.contact.actions import Array
from bolewright.core.contact.state import Bools, State, solve_states, total_weight
from bolewright.core.tree.pieces import subtree
from bolewright.planning.holding.model import Model
from bolewright.planning.results import PieceRole

CARRIES = 0.01  # of the whole weight: a piece whose contact carries this much is a prop
TAKES_ON = 0.01  # of the whole weight: one point of the building that gets this much more makes a counterweight
CHANGES = 0.005  # of the whole weight: a change of the building's load by this much is worth a name


def roles_of(model: Model) -> tuple[PieceRole, ...]:
    """The role of every piece, from the state without it and what it carries; of the one at the butt, from the state
    without it alone."""
    gone = subtree(model.body.parents)
    count = len(model.body.pieces)
    if count < 2:
        return ()
    left = model.left
    pieces = [p for p in range(count) if left[p]]
    gone[0] = np.arange(count) == 0
    keeps = [left & ~gone[p] for p in pieces]
    present = np.ones(model.system.count, dtype=bool)
    states = solve_states(model.system, keeps, [present] * len(keeps)) if keeps else []
    weight = total_weight(model.system, left)
    return tuple(_role(model, p, gone[p], state, weight) for p, state in zip(pieces, states, strict=True))


def _role(model: Model, piece: int, gone: Array, after: State, weight: Array) -> PieceRole:
    on = np.array([c.building for c in model.contacts], dtype=bool)
    now = model.now.force[on].sum(axis=0)
    both = model.now.held & after.held
    change = (after.force[on].sum(axis=0) - now)[both] if both.any() else np.zeros(1)
    band = Range.of_samples(change)
    share = float(np.median(change / weight[both])) if both.any() else 0.0
    carried = _carried(model, piece) / float(np.median(weight))
    name = model.body.pieces[piece].id
    if after.held.mean() < model.job.limits.share.likely:
        return PieceRole(
            name, "prop" if carried > CARRIES else "counterweight", band, "without it the rest is not held"
        )
    if carried > CARRIES:
        return PieceRole(name, "prop", band, f"its support carries {100 * carried:.0f} % of the whole weight")
    taker = _takes_on(model, after, both, weight)
    if share > CHANGES or taker:
        return PieceRole(name, "counterweight", band, f"its loss puts load on {taker or 'the building'}")
    if share < -CHANGES:
        return PieceRole(name, "ballast", band, "its loss takes load off the building")
    return PieceRole(name, "idle", band, "its loss changes nothing on the building")


def _takes_on(model: Model, after: State, both: Bools, weight: Array) -> str:
    """The point of the building that comes to carry clearly more, "" when none does."""
    if not both.any():
        return ""
    rise = np.median(((after.force - model.now.force) / weight)[:, both], axis=1)
    on = np.array([c.building and c.touching for c in model.contacts], dtype=bool)
    worst = int(np.where(on, rise, -np.inf).argmax())
    return model.contacts[worst].id if on[worst] and rise[worst] > TAKES_ON else ""


def _carried(model: Model, piece: int) -> float:
    """What the contacts on the piece itself carry now [N], likely."""
    resting = model.resting
    rows = [
        i
        for i, c in enumerate(model.contacts)
        if resting[i] and np.any(c.force) and int(model.system.integrals.action_piece[i]) == piece and c.segment >= 0
    ]
    return float(np.median(model.now.force[rows].sum(axis=0))) if rows else 0.0
