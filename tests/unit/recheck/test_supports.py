"""The contact search against a quadratic programme solver (DAQP) on random springs."""

from __future__ import annotations

import daqp
import numpy as np
import pytest
from scipy import sparse

from bolewright.core.recheck.supports import Springs, Wood, come_to_rest


@pytest.mark.parametrize("seed", range(150))
def test_forces_are_those_of_the_quadratic_programme(seed: int) -> None:
    """A chain of one element per freedom, wholly free at its foot, on m bounded springs in random directions.

    Dual: least 1/2 l'(C + S)l + (g + gap)'l with the foot in balance, lower <= l <= upper.
    """
    rng = np.random.default_rng(seed)
    n, m, foot = 9, int(rng.integers(3, 13)), 3
    root = rng.normal(size=(n - foot, n - foot))
    soft = root @ root.T + 0.1 * np.eye(n - foot)
    ties = np.hstack([rng.normal(size=(n - foot, foot)), np.eye(n - foot)])
    rows, give = rng.normal(size=(m, n)), 10.0 ** rng.uniform(-4, 0, m)
    gap = np.where(rng.random(m) < 0.4, 0.0, rng.uniform(0, 3, m))
    lower, upper = np.where(rng.random(m) < 0.3, -rng.uniform(0, 1, m), 0.0), np.where(rng.random(m) < 0.3, 0.5, 1e3)
    balanced = lower + rng.random(m) * np.minimum(upper - lower, 1.0)
    load = rng.normal(size=n)
    rigid = np.vstack([np.eye(foot), -ties[:, :foot]])  # movements that stretch nothing
    load[:foot] = 0.0
    load[:foot] = -(rigid.T @ (load + rows.T @ balanced))
    wood = Wood(sparse.csr_matrix(ties), sparse.csr_matrix(soft), np.zeros(n - foot), load, foot)
    rest = come_to_rest(wood, Springs(sparse.csr_matrix(rows), give, gap, lower, upper))
    assert rest.settled
    elastic = rows[:, foot:]
    H = elastic @ soft @ elastic.T + np.diag(give)
    f = elastic @ soft @ load[foot:] + gap
    A = np.vstack([np.eye(m), rigid.T @ rows.T])
    fixed = -(rigid.T @ load)
    sense = np.concatenate([np.zeros(m), np.full(foot, 5)]).astype(np.int32)
    force, _, flag, _ = daqp.solve(
        H,
        f,
        A[m:],
        np.concatenate([upper, fixed]),
        np.concatenate([lower, fixed]),
        sense,
        primal_tol=1e-11,
        dual_tol=1e-11,
    )
    assert flag == 1
    assert rest.force == pytest.approx(force, abs=1e-8 * max(1.0, np.abs(force).max()))
