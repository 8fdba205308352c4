"""What the crew felt at a support, as a weight on the samples of how the tree came to rest."""

from __future__ import annotations

import numpy as np

from bolewright.core.contact.actions import Array
from bolewright.core.contact.state import State
from bolewright.core.contact.supports import Contact, is_couple

# Share of the whole weight at which a hand takes a support for just loaded, and for hard loaded: judgement.
EDGES = {"loose": (0.0, 0.01), "snug": (0.005, 0.08), "hard": (0.05, np.inf)}
BLUR = 0.5  # standard deviation of a hand's error, as a natural logarithm: judgement
FEWEST = 8.0
FARTHEST = 3.0  # standard deviations of a hand's error: if every sample is farther off, the feel fits nothing


def felt(contacts: list[Contact], found: State) -> Array:
    """(B,) how well each sample agrees with what was felt at the supports as found, 0..1 for each support.

    Samples that nothing holds agree with nothing.
    Source: house rule.
    Checked by: tests/unit/planning/test_feel.py.
    """
    total = np.abs(found.force[~is_couple(contacts)]).sum(axis=0)  # a couple is no part of the weight
    weight = found.held.astype(float)
    for support in dict.fromkeys(c.id for c in contacts if c.feel):
        rows = [i for i, c in enumerate(contacts) if c.id == support]
        share = np.divide(found.force[rows].sum(axis=0), total, out=np.zeros_like(total), where=found.held)
        weight = weight * agreement(share, contacts[rows[0]].feel)
    return weight


def agreement(share: Array, feel: str) -> Array:
    """1 inside the band of that feel, falling off beyond it like a normal error of the logarithm."""
    low, high = EDGES[feel]
    safe = np.maximum(share, 1e-6)
    short = np.log(low / safe) if low > 0.0 else np.full_like(safe, -1.0)
    over = np.log(safe / high) if np.isfinite(high) else np.full_like(safe, -1.0)
    miss = np.maximum(np.maximum(short, over), 0.0)
    return np.asarray(np.exp(-0.5 * (miss / BLUR) ** 2))
