"""The quick answer while a tree is being measured: what it weighs and what carries it, from fewer samples.

Roles, margins, sliding and bounds are left to `hold`; the page that shows this says so.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from bolewright.core.base.range import Range
from bolewright.core.contact.state import total_weight
from bolewright.job.model import Job
from bolewright.planning.holding.hold import building_load, supports_of
from bolewright.planning.holding.model import Model, model_of
from bolewright.planning.results import SupportForce
from bolewright.planning.scene import scene
from bolewright.planning.shapes import Scene

QUICK_SAMPLES = 64


@dataclass(frozen=True)
class Quick:
    """What carries the tree as entered. status: in balance | can roll | not held."""

    status: str
    scene: Scene
    supports: tuple[SupportForce, ...]
    total_N: Range
    building_N: Range
    samples: int


def quick(job: Job, samples: int = QUICK_SAMPLES) -> Quick:
    """The quick answer. Raises NotEnoughKnown when heights or supports are missing, BadInput for what cannot be."""
    limits = job.limits.model_copy(update={"samples": min(samples, job.limits.samples)})
    model = model_of(job.model_copy(update={"limits": limits}))
    found = model.now
    held = bool(found.held.mean() >= job.limits.share.likely)
    return Quick(
        status="not held" if not held else "can roll" if model.rolls else "in balance",
        scene=scene(job, None, model),
        supports=_supports(model) if held else (),
        total_N=Range.of_samples(total_weight(model.system, model.left)),
        building_N=Range.of_samples(building_load(model, found)) if held else Range.exact(0.0),
        samples=len(model.system.samples),
    )


def _supports(model: Model) -> tuple[SupportForce, ...]:
    """Forces without the bounds, which take longer than all the rest."""
    unknown = np.full(len(model.contacts), np.nan)
    return tuple(replace(s, cannot_exceed_N=float("inf")) for s in supports_of(model, model.now, unknown, {}))
