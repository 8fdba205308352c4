"""Range: a value that is not known exactly, as low, likely and high (5, 50 and 95 % of the samples)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

LOW_PERCENT, HIGH_PERCENT = 5.0, 95.0


@dataclass(frozen=True, order=False)
class Range:
    """Low, likely and high of one quantity, all in the same SI unit, low <= likely <= high."""

    low: float
    likely: float
    high: float

    def __post_init__(self) -> None:
        if not self.low <= self.likely <= self.high:
            raise ValueError(f"a range must rise: {self.low} .. {self.likely} .. {self.high}")

    @classmethod
    def exact(cls, value: float) -> Range:
        """The range of a value taken as exact."""
        return cls(value, value, value)

    @classmethod
    def of_samples(cls, values: ArrayLike) -> Range:
        """The 5, 50 and 95 % points of samples (any shape, flattened)."""
        flat: NDArray[np.float64] = np.asarray(values, dtype=float).ravel()
        low, likely, high = np.percentile(flat, (LOW_PERCENT, 50.0, HIGH_PERCENT))
        return cls(float(low), float(likely), float(high))

    def scaled(self, factor: float) -> Range:
        """This range times a factor of either sign."""
        ends = sorted((self.low * factor, self.high * factor))
        return Range(ends[0], self.likely * factor, ends[1])

    def as_dict(self) -> dict[str, float]:
        """The three numbers under the keys used by every machine-readable result."""
        return {"low": self.low, "likely": self.likely, "high": self.high}
