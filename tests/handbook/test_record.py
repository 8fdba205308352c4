"""The shrinkage of the company's record against a published worked example and against a posterior by integration."""

from __future__ import annotations

import math

import numpy as np
import pytest

from bolewright.core.base.shrinkage import shrunk_mean, weight_of
from bolewright.planning.haul.learning import PRIOR_JOBS


def test_published_credibility_example() -> None:
    """Loss Data Analytics (open text, Actuarial Community, ed. Frees), ch. 9, example 9.3.5: EPV 5,050,000 and VHM
    1,750,000 give K = 2.89; five years of 1,000 in all each against 1,500 in the class give Z = 0.63 and 1,185.00 (with
    Z rounded to two places as printed there)."""
    k = 5_050_000 / 1_750_000
    assert round(k, 2) == 2.89
    assert round(weight_of(5, k), 2) == 0.63
    assert shrunk_mean([1000.0] * 5, 1500.0, k) == pytest.approx(1185.0, abs=500.0 * 0.005)  # what rounding Z leaves
    assert shrunk_mean([1000.0] * 5, 1500.0, 5 * (1 / 0.63 - 1)) == pytest.approx(1185.0, abs=1e-9)  # at their Z


def test_published_weights_of_the_whole_course() -> None:
    """The same text: Z = VHM / (VHM + EPV / n), so Z rises with n and never is 1."""
    epv, vhm = 1.0, 1.0 / 3.0  # its example 9.3.3, a Poisson count with its mean uniform on (0, 2)
    for n in (1, 2, 5, 40):
        assert weight_of(n, epv / vhm) == pytest.approx(vhm / (vhm + epv / n))
    assert weight_of(0, 3.0) == 0.0
    assert shrunk_mean([], 0.7, 3.0) == 0.7


@pytest.mark.parametrize("prior", [0.0, 0.4])
def test_posterior_of_a_normal_mean_by_integration(prior: float) -> None:
    """Normal prior, normal scatter with K times its variance: the posterior mean, integrated on a grid."""
    values, spread = (0.7, 0.2, -0.1), 0.3
    grid = np.linspace(-6.0, 6.0, 20001)
    log_density = -((grid - prior) ** 2) / (2.0 * spread**2)
    for value in values:
        log_density -= (value - grid) ** 2 / (2.0 * PRIOR_JOBS * spread**2)
    density = np.exp(log_density - log_density.max())
    mean = float((grid * density).sum() / density.sum())
    assert shrunk_mean(values, prior, PRIOR_JOBS) == pytest.approx(mean, rel=1e-9)
    assert math.isclose(PRIOR_JOBS, 4.0)  # said so in the papers
