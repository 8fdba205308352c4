"""A value together with where it was published and how far that is confirmed."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Generic, TypeVar

T = TypeVar("T")


class Status(StrEnum):
    """How well a value stands. The word travels with the value to the report."""

    CONFIRMED = "confirmed"  # read in the source, or in a named work that quotes it
    DERIVED = "derived"  # closed form from mechanics or from confirmed values
    ESTIMATE = "estimate"  # modelled from confirmed values of other species or sizes
    REGRESSION = "regression"  # kept by others as a test of a published example
    COMMON_PRACTICE = "common practice"  # the trade does so; no published source
    MEMORY = "from memory"  # recalled, not confirmed
    MEASURED = "measured"  # entered by the user


@dataclass(frozen=True)
class Sourced(Generic[T]):
    """A value, its source (work, table, page) and its status."""

    value: T
    source: str
    status: Status
