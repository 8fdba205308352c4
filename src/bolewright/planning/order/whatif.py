"""A change of the job beside the job as it is: what it does to the load on the building, to balance and to every cut.

Both sides are worked out from the same samples: the same seed gives every unknown they share the same draw, so the
change is taken sample by sample.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bolewright.core.base.range import Range
from bolewright.core.contact.actions import Array
from bolewright.job.model import Job
from bolewright.planning.holding.full import typical_sample
from bolewright.planning.holding.hold import NEUTRAL, building_load, stability_of
from bolewright.planning.holding.model import Model
from bolewright.planning.order.nextcuts import next_cuts
from bolewright.planning.order.ownprops import with_props_set
from bolewright.planning.order.steps import forces_by_support
from bolewright.planning.order.wanted import marks_in_words
from bolewright.planning.results import NextCut

Pair = tuple[str, NextCut | None, NextCut | None]
FEWER = 96  # samples, so that both sides are there in a few seconds


@dataclass(frozen=True)
class Side:
    """One side: the tree as it lies, with the crew's own props set. status: in balance | can roll | not held."""

    status: str
    building_N: Range
    tipping_m: float | None
    rolling_m: float | None
    forces: dict[str, Range]
    cuts: tuple[NextCut, ...]
    marks: str

    @property
    def allowed(self) -> int:
        """How many cuts are inside the limits."""
        return sum(cut.allowed for cut in self.cuts)


@dataclass(frozen=True)
class WhatIf:
    """Before and after. change_N: of the load on the building, sample by sample; None where the samples are not the
    same ones, because what was felt or read picked others."""

    before: Side
    after: Side
    change_N: Range | None
    samples: int

    @property
    def other(self) -> list[Pair]:
        """Cuts that become another, with both their answers."""
        return [row for row in self._pairs() if changed(row[1], row[2])]

    @property
    def same(self) -> list[Pair]:
        """Cuts that stay as they are."""
        return [row for row in self._pairs() if not changed(row[1], row[2])]

    def of(self, piece: str) -> Pair | None:
        """The cut of a piece on both sides; None where it is on neither."""
        return next((row for row in self._pairs() if row[0] == piece), None)

    def _pairs(self) -> list[Pair]:
        was, now = ({c.piece: c for c in side.cuts} for side in (self.before, self.after))
        return [(name, was.get(name), now.get(name)) for name in dict.fromkeys([*now, *was])]


def changed(was: NextCut | None, now: NextCut | None) -> bool:
    """Whether a cut is no longer what it was, by more than rounding."""
    if was is None or now is None:
        return True
    a, b = was.building_change_N.likely, now.building_change_N.likely
    moved = abs(was.at_m - now.at_m) > 1e-6 or was.takes != now.takes
    return moved or was.allowed != now.allowed or was.why != now.why or abs(a - b) > 0.01 * max(abs(a), abs(b), 100.0)


def what_if(before: Job, after: Job, samples: int = FEWER) -> WhatIf:
    """The two jobs side by side. Raises NotEnoughKnown or BadInput as `model_of` does."""
    models = [with_props_set(_fewer(job, samples)) for job in (before, after)]
    loads = [building_load(m, m.now) for m in models]
    return WhatIf(_side(models[0]), _side(models[1]), _change(models, loads), len(models[1].system.samples))


def _fewer(job: Job, samples: int) -> Job:
    limits = job.limits.model_copy(update={"samples": min(samples, job.limits.samples)})
    return job.model_copy(update={"limits": limits})


def _change(models: list[Model], loads: list[Array]) -> Range | None:
    masses = [m.system.samples.mass for m in models]
    if masses[0].shape != masses[1].shape or not np.array_equal(masses[0], masses[1]):
        return None
    both = models[0].now.held & models[1].now.held
    return Range.of_samples((loads[1] - loads[0])[both]) if both.any() else None


def _side(model: Model) -> Side:
    now = model.now
    held = bool(now.held.mean() >= model.job.limits.share.likely)
    found = stability_of(model, model.left, model.resting, typical_sample(now)) if now.held.any() else None
    rolls = model.rolls or (found is not None and found.rolling < NEUTRAL)
    return Side(
        status="not held" if not held else "can roll" if rolls else "in balance",
        building_N=Range.of_samples(building_load(model, now)),
        tipping_m=found.tipping if found else None,
        rolling_m=found.rolling if found else None,
        forces=forces_by_support(model, now, now.present),
        cuts=next_cuts(model) if held else (),
        marks=marks_in_words(model),
    )
