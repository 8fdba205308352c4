"""Neighbours: what their shelter does to the gust a tree stands, while they stand or before they were lost."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.range import Range
from bolewright.core.standing.failing import GUSTS
from bolewright.core.standing.unknowns import draw_factor
from bolewright.planning.standing import defaults
from bolewright.planning.standing.case import Whole
from bolewright.planning.standing.results import Sheltered

Floats = NDArray[np.float64]
OWN_STREAM = 1_000_003  # keeps these samples apart from all others of the same seed
WORDS = {
    "standing": "Held against the wind as if it stood alone. In its neighbours' shelter it stands more; lose them, "
    "and that is lost at once.",
    "lost": "Held against the wind it gets now. Neighbours that were lost took part of that wind while they stood; the "
    "tree grew in their shelter and is not yet grown to the wind it gets.",
}


def shelter_of(whole: Whole, failing: Floats) -> Sheltered | None:
    """The gust the tree fails at in its neighbours' shelter, from the gusts (B,) it fails at without; None without any.

    All wind speeds at the tree are taken down by one share, so the gust read in the open rises by its inverse.
    """
    standing = whole.tree.standing
    if standing.neighbours not in ("standing", "lost"):
        return None
    given = standing.shelter
    taken = Range(given.low, given.likely, given.high) if given is not None else defaults.SHELTER
    left = Range(1.0 - taken.high, 1.0 - taken.likely, 1.0 - taken.low)
    rng = np.random.default_rng((whole.tree.job.limits.seed, OWN_STREAM))
    share = draw_factor(Range(max(left.low, 0.05), max(left.likely, 0.05), max(left.high, 0.05)), failing.size, rng)
    gust = np.minimum(failing / share, GUSTS[-1])
    words = WORDS[standing.neighbours]
    return Sheltered(standing.neighbours, taken, given is not None, Range.of_samples(gust), words)
