"""What a company's record of earlier jobs teaches about its times: one factor for each kind of work."""

from __future__ import annotations

import math
from collections.abc import Sequence

from bolewright.core.base.shrinkage import shrunk_mean
from bolewright.job.rates import Actual

PRIOR_JOBS = 4.0  # a new step is believed as much as four jobs would be (house rule: such a K is a judgement)


def learnt(record: Sequence[Actual], step: str) -> float:
    """Factor on a planned time from the company's record: its mean of took over planned, shrunk towards 1.

    With n jobs the logarithm counts n / (n + 4): a first job hardly moves it, many jobs almost replace the plan.
    """
    return math.exp(shrunk_mean(log_ratios(record, step), 0.0, PRIOR_JOBS))


def log_ratios(record: Sequence[Actual], step: str) -> list[float]:
    """Logarithm of took over planned, one for each job that had this step planned and has hours for it.

    Rows of one job (the same name and day) are added up first; a row without a name is a job by itself.
    """
    sums: dict[object, tuple[float, float]] = {}
    for n, row in enumerate(record):
        if row.step == step:
            key = n if row.job is None else (row.job.casefold(), row.on)
            planned, took = sums.get(key, (0.0, 0.0))
            sums[key] = planned + row.planned.likely, took + row.took.likely
    return [math.log(took / planned) for planned, took in sums.values() if planned > 0.0 and took > 0.0]
