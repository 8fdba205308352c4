"""A mean of few values, drawn towards what was thought before."""

from __future__ import annotations

from collections.abc import Sequence


def weight_of(count: int, prior_count: float) -> float:
    """Share of trust that `count` values get against what was thought before [-], 0 for none, never quite 1.

    Picture: what was thought before counts like `prior_count` values more. That number is the variance of one value
    about the true mean over the variance of true means about the prior one.
    Parameters: count and prior_count [-], prior_count above 0.
    Source: Buehlmann credibility Z = n / (n + K), K = EPV / VHM; Loss Data Analytics (open text, Actuarial Community),
    sec. 9.3; the same as the posterior mean of a normal mean with known variances.
    Checked by: tests/handbook/test_record.py
    """
    return count / (count + prior_count)


def shrunk_mean(values: Sequence[float], prior_mean: float, prior_count: float) -> float:
    """Mean of the values drawn towards a prior mean [as the values]; the prior mean itself without values.

    Picture: Z of the mean found and 1 - Z of the mean thought before. Errs towards what was thought before.
    Parameters: values and prior_mean [in one unit], prior_count [-] as in `weight_of`.
    Source: Buehlmann credibility, Z X + (1 - Z) mu; Loss Data Analytics (open text), sec. 9.3.
    Checked by: tests/handbook/test_record.py
    """
    found = sum(values) / (len(values) + prior_count)
    return found + prior_mean * (1.0 - weight_of(len(values), prior_count))
