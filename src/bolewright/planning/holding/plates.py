"""What the root plate does with its stub once the stem is cut off."""

from __future__ import annotations

import numpy as np

from bolewright.core.base.vectors import GRAVITY
from bolewright.core.contact.plate import HOLDING, SPRING_BACK, PlateSamples, plate_states
from bolewright.planning.holding.model import Model
from bolewright.planning.results import PlateOutcome

STUBS = np.array([0.3, 0.6, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0])


def plate_outcomes(model: Model, stubs: tuple[float, ...] | None = None) -> tuple[PlateOutcome, ...]:
    """Stands up, stays or falls forward, for these stub lengths, or for a row of them up to the length of the
    stem; empty without a plate."""
    plate = model.body.grown.spec.plate
    if plate is None:
        return ()
    assembly, mass = model.body.assembly, model.system.samples.mass
    axis = assembly.end[0] - assembly.start[0]
    soil = assembly.lump_mass[0, 4] * mass[4]
    rng = np.random.default_rng(model.job.limits.seed + 1)
    lever = soil * GRAVITY * plate.diameter / 2.0
    taper = (assembly.diameter_start[0] - assembly.diameter_end[0]) / float(np.linalg.norm(axis))
    samples = PlateSamples(
        mass=soil,
        diameter=plate.diameter,
        thickness=plate.thickness,
        slope=float(np.arctan2(axis[2], np.hypot(axis[0], axis[1]))),
        butt_diameter=float(assembly.diameter_start[0]),
        taper=taper,
        wood_density=model.body.grown.spec.wood_density * mass[0],
        spring_back=rng.uniform(*SPRING_BACK, len(soil)) * lever,
        holding=rng.uniform(*HOLDING, len(soil)) * lever,
    )
    asked = STUBS[assembly.length_of("stem") > STUBS] if stubs is None else np.array(stubs)
    return tuple(PlateOutcome(s.stub, s.outcome, s.moment, s.share) for s in plate_states(samples, asked))
