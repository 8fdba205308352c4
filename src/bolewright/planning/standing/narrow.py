"""Which measurement would narrow the answer most, and how narrow it would be then."""

from __future__ import annotations

import numpy as np

from bolewright.core.base.range import Range
from bolewright.core.standing.curve import narrowing
from bolewright.core.standing.unknowns import Draws, one_at_a_time
from bolewright.planning.standing import defaults
from bolewright.planning.standing.case import Whole
from bolewright.planning.standing.options import failing_gust
from bolewright.planning.standing.results import Narrows

NOTHING = "nothing"  # how the words of what cannot be measured begin
WORTH = 3  # measurements followed through to what they would leave


def narrows_of(whole: Whole, draws: Draws, worst: float) -> tuple[Narrows, ...]:
    """Every unknown by how much it alone moves the failing gust, most first; for the few that can be measured and are
    worth most, the range left if they turned out at their likely value."""
    gusts = {name: failing_gust(whole.case, d, worst) for name, d in one_at_a_time(whole.unknowns).items()}
    found = narrowing(gusts)  # type: ignore[arg-type]
    worth = [item.name for item in found if _measurable(item.name)][:WORTH]
    return tuple(
        Narrows(
            *defaults.MEASURES[item.name],
            item.gust_low,
            item.gust_high,
            item.share,
            _measurable(item.name),
            _then(whole, draws, worst, item.name) if item.name in worth else None,
        )
        for item in found
    )


def _measurable(name: str) -> bool:
    return not defaults.MEASURES[name][1].startswith(NOTHING)


def _then(whole: Whole, draws: Draws, worst: float, name: str) -> Range:
    """Gust to fail with one unknown at its likely value and all else as it is."""
    likely = np.full_like(draws[name], getattr(whole.unknowns, name).likely)
    return Range.of_samples(failing_gust(whole.case, Draws({**draws.values, name: likely}, draws.groups), worst))
