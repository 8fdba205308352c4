"""The ways to do it, side by side: by hand, with props, with a crane."""

from __future__ import annotations

import numpy as np

from bolewright.planning.holding.model import Model
from bolewright.planning.order.facts import facts_of
from bolewright.planning.order.search import Memory, limits_for, search
from bolewright.planning.order.tried import Seen, Tried

BY_HAND = "by hand"


def by_hand(model: Model, seen: Seen, memory: Memory) -> Tried:
    """With what the crew has, no props added, no crane."""
    present = np.ones(model.system.count, dtype=bool)
    found = search(model, facts_of(model), model.body.limits, present, seen, memory=memory)
    return Tried(BY_HAND, model, found, model.body.limits)


def with_crane(model: Model, seen: Seen, memory: Memory) -> Tried | None:
    """With a crane of the capacity entered; None when none was."""
    crane = model.job.handling.crane
    if crane is None:
        return None
    limits = limits_for(model.job, model.body.limits, crane.likely)
    present = np.ones(model.system.count, dtype=bool)
    found = search(model, facts_of(model), limits, present, seen, memory=memory)
    return Tried("with crane", model, found, limits)
