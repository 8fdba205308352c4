"""Whether any equilibrium exists at all, for one set of contacts and many weights: a quick test before solving.

With three equations a set of contacts fails to hold a weight exactly when some rigid movement lets the weight do work
that the contacts cannot take back. The only movements that need trying are those that leave two contacts at rest, so
they are all tried (Farkas' lemma; the extreme rays of a cone in three dimensions are meets of two planes).
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

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
    own = _limits(*(np.ascontiguousarray(x, dtype=float).tobytes() for x in (columns, low, high)))
    asked = -(own.rays @ weight)
    out = (asked <= own.taken[:, None] + CLOSE * size).all(axis=0)
    if own.along is not None:
        off = weight - own.along[:, None] * (own.along @ weight)
        out &= np.abs(off).max(axis=0) <= CLOSE * size
    return np.asarray(out)


class _Limits(NamedTuple):
    """rays (R, 3): movements; taken (R,): the most work the contacts take back in each; along (3,): the one direction
    of contacts that all act alike, None where they do not."""

    rays: Array
    taken: Array
    along: Array | None


@lru_cache(maxsize=4096)
def _limits(columns_data: bytes, low_data: bytes, high_data: bytes) -> _Limits:
    """Of one set of contacts. Most states of a search rest on a set that others rest on too, so they are kept."""
    low, high = np.frombuffer(low_data), np.frombuffer(high_data)
    columns = np.frombuffer(columns_data).reshape(3, len(low))
    rays, along = _rays(columns), None
    if not len(rays):
        along = columns[:, 0] / np.linalg.norm(columns[:, 0])
        rays = np.stack([along, -along])
    share = rays @ columns
    share[np.abs(share) < 1e-12 * (np.abs(rays) @ np.abs(columns) + 1e-300)] = 0.0
    with np.errstate(invalid="ignore"):
        taken = np.where(share > 0.0, share * high, np.where(share < 0.0, share * low, 0.0)).sum(axis=1)
    use = np.isfinite(taken)
    return _Limits(rays[use], taken[use], along)


def _rays(columns: Array) -> Array:
    """(R, 3) unit movements at which two contacts do no work, both ways."""
    i, j = np.triu_indices(columns.shape[1], 1)
    unit = columns / np.maximum(np.linalg.norm(columns, axis=0), 1e-300)
    normal = np.cross(unit[:, i].T, unit[:, j].T)
    length = np.linalg.norm(normal, axis=1)
    sound = length > 1e-9
    normal = normal[sound] / length[sound, None]
    return np.concatenate([normal, -normal])
