"""The second, independent formulation: assembled stiffness with one-sided springs. See docs/recheck.md."""

from bolewright.core.recheck.body import (
    HELD,
    NOT_HELD,
    UNSETTLED,
    PointLoads,
    RecheckResult,
    Segments,
    Supports,
)
from bolewright.core.recheck.from_tree import wood_of
from bolewright.core.recheck.state import recheck_state

__all__ = [
    "HELD",
    "NOT_HELD",
    "UNSETTLED",
    "PointLoads",
    "RecheckResult",
    "Segments",
    "Supports",
    "recheck_state",
    "wood_of",
]
