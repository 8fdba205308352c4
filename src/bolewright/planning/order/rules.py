"""What a cut may not do, from the job and the tree as found, and which contacts a search has to look at."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bolewright.core.contact.state import Bools
from bolewright.core.contact.supports import Contact
from bolewright.core.cutting.pricing import Rules
from bolewright.core.tree.spec import STEM
from bolewright.job.model import Job
from bolewright.planning.holding.model import Model

SPRING = 6.0  # times the movement allowed at a support is what a free limb tip may spring (common practice)
OUT_OF_REACH = 2.0  # times its tolerance: a place further off than this cannot be reached by an allowed step


def rules_of(model: Model, caps: dict[str, float]) -> Rules:
    """What a cut may not do, from the job's limits, the props' capacities [N] and the state as found."""
    job, found, contacts = model.job, model.found, model.contacts
    weight = float(-(model.system.integrals.weight.sum(axis=(0, 1))[2]))
    floor = job.limits.floor.likely * weight
    building = np.array([c.building for c in contacts], dtype=bool)
    limit = np.full(found.force.shape, np.inf)
    given = job.limits.building
    for i, c in enumerate(contacts):
        if c.limit is not None:
            limit[i] = c.limit
        elif c.id in caps:
            limit[i] = caps[c.id]
        elif c.building and given is None:
            limit[i] = found.force[i] + floor
    together = []
    for rows in _saddles(contacts):
        if np.isfinite(limit[rows]).all():
            together.append((rows, limit[list(rows)].sum(axis=0)))
            limit[list(rows)] = np.inf
    total = found.force[building].sum(axis=0) + floor if given is None else np.full(found.force.shape[1], given.likely)
    tolerance = np.array([_tolerance(c, job) for c in contacts])
    return Rules(job.limits.share.likely, limit, building, total, tolerance, tuple(together))


def _saddles(contacts: tuple[Contact, ...]) -> list[tuple[int, ...]]:
    """Contacts that belong to one support, two by two."""
    rows: dict[str, list[int]] = {}
    for i, c in enumerate(contacts):
        rows.setdefault(f"{c.id}/{c.jacked}", []).append(i)
    return [tuple(r) for r in rows.values() if len(r) > 1]


def _tolerance(contact: Contact, job: Job) -> float:
    """How far the wood there may move in one step; the free tips of limbs may spring, but not so far that it rolls."""
    if contact.tolerance is not None:
        return contact.tolerance
    free = contact.kind == "possible" and contact.member != STEM
    return SPRING * job.limits.movement.likely if free else job.limits.movement.likely


def worth_solving(model: Model, present: Bools) -> NDArray[np.int64]:
    """Numbers of the contacts in place that an allowed step can load."""
    near = [
        c.touching or c.kind != "possible" or c.gap <= OUT_OF_REACH * _tolerance(c, model.job) for c in model.contacts
    ]
    return np.flatnonzero(present & np.array(near, dtype=bool))
