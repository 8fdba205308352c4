"""Whether any equilibrium exists at all, for one set of contacts and many weights: a quick test before solving.

With three equations a set of contacts fails to hold a weight exactly when some rigid movement lets the weight do work
that the contacts cannot take back. The only movements that need trying are those that leave two contacts at rest, so
they are all tried (Farkas' lemma; the extreme rays of a cone in three dimensions are meets of two planes).
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from bolewright.core.contact.actions import Array

CLOSE = 1e-9  # of the size of the weight


def holdable(columns: Array, weight: Array, low: Array, high: Array) -> NDArray[np.bool_]:
    """(B,) whether contacts with columns (3, n) and bounds low, high (n,) [N] can balance weights (3, B) [N, N m].

    A weight exactly on the edge counts as held. Contacts that all pull one way (one column, or parallel ones) hold
    nothing but a weight along them.
    Source: Farkas' lemma, e.g. Bertsimas & Tsitsiklis, Introduction to Linear Optimization, 1997, section 4.6.
    Checked by: tests/properties/test_contact_properties.py.
    """
    size = np.maximum(np.abs(weight).max(axis=0), 1e-30)
    if columns.shape[1] == 0:
        return np.asarray(np.abs(weight).max(axis=0) <= CLOSE)
    rays = _rays(columns)
    if not len(rays):
        along = columns[:, 0] / np.linalg.norm(columns[:, 0])
        off = weight - along[:, None] * (along @ weight)
        rays = np.stack([along, -along])
        straight = np.abs(off).max(axis=0) <= CLOSE * size
    else:
        straight = np.ones(weight.shape[1], dtype=bool)
    share = rays @ columns
    share[np.abs(share) < 1e-12 * (np.abs(rays) @ np.abs(columns) + 1e-300)] = 0.0
    with np.errstate(invalid="ignore"):
        taken = np.where(share > 0.0, share * high, np.where(share < 0.0, share * low, 0.0)).sum(axis=1)
    use = np.isfinite(taken)
    asked = -(rays[use] @ weight)
    return np.asarray(straight & (asked <= taken[use, None] + CLOSE * size).all(axis=0))


def _rays(columns: Array) -> Array:
    """(R, 3) unit movements at which two contacts do no work, both ways. Many states share them, so they are kept."""
    return _kept_rays(np.ascontiguousarray(columns).tobytes(), columns.shape[1])


@lru_cache(maxsize=4096)
def _kept_rays(data: bytes, count: int) -> Array:
    columns = np.frombuffer(data).reshape(3, count)
    i, j = np.triu_indices(columns.shape[1], 1)
    unit = columns / np.maximum(np.linalg.norm(columns, axis=0), 1e-300)
    normal = np.cross(unit[:, i].T, unit[:, j].T)
    length = np.linalg.norm(normal, axis=1)
    sound = length > 1e-9
    normal = normal[sound] / length[sound, None]
    return np.concatenate([normal, -normal])
