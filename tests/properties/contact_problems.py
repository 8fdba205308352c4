"""Random contact problems for the property tests: a tree on supports, some of them odd, the same for the same seed."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bolewright.core.contact.trial import Problem

Array = NDArray[np.float64]
COLUMNS = 24


def random_problem(seed: int, count: int, columns: int = COLUMNS) -> Problem:
    """`columns` samples of a tree on `count` unknowns: supports that push; among them one that also holds down to a
    capacity (hinge fibre), a couple bounded both ways (rolling), one that is not there, one with a most it may carry.

    Flexibilities spread over four powers of ten, gaps over centimetres; about a tenth of the weights lie where
    nothing can hold them.
    """
    rng = np.random.default_rng(seed)
    x, y = rng.uniform(0.0, 12.0, count), rng.uniform(-2.0, 2.0, count)
    rows = np.stack([np.ones(count), y, -x])
    root = rng.normal(size=(count, count)) * 10.0 ** rng.uniform(-5.0, -3.0)
    flexibility = (root @ root.T)[:, :, None] * rng.uniform(0.5, 2.0, columns)
    flexibility[np.arange(count), np.arange(count)] += 10.0 ** rng.uniform(-8.0, -4.0, (count, columns))
    low, high = np.zeros((count, columns)), np.full((count, columns), np.inf)
    kind = rng.permutation(count)
    if count > 4:
        low[kind[0]] = -rng.uniform(0.0, 5e3)
        rows[:, kind[1]] = [0.0, 1.0, 0.0]
        low[kind[1]], high[kind[1]] = -rng.uniform(100.0, 3e3), rng.uniform(100.0, 3e3)
    if count > 5:
        high[kind[2]] = 0.0
        high[kind[3]] = rng.uniform(100.0, 1e4)
    weight = rng.uniform(5e3, 5e4, columns)
    inside = rng.dirichlet(np.ones(count), columns)
    where, across = inside @ x + rng.normal(0.0, 0.3, columns), inside @ y
    load = np.stack([-weight, -weight * across, weight * where])
    offset = rng.normal(0.0, 0.01, (count, columns))
    return Problem(flexibility, rows, load, offset, low, high)
