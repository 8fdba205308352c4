"""The second formulation against two general frame programs, on 200 random trees with the same loaded supports.

The contact set is ours; the reference then has those supports as plain springs. If a support carried that should not,
or the reverse, the forces would differ or pull, and both are looked for.
"""

from __future__ import annotations

import numpy as np
import pytest
from tests.references.opensees_frame import opensees, opensees_forces
from tests.references.pynite_frame import pynite_forces
from tests.references.random_trees import Case, random_case, tilted_case, with_feet

from bolewright.core.recheck import HELD, RecheckResult, Segments, Supports, recheck_state

AGREE = 1e-6  # of the tree's weight, or of the greatest force where supports work against each other
needs_opensees = pytest.mark.skipif(isinstance(opensees(), str), reason=str(opensees()))


def recheck(case: Case, lower: float = 0.0, vertical: bool = True) -> RecheckResult:
    """Our answer for a case."""
    return recheck_state(
        Segments.of(case.start, case.end, case.parent, case.EI, case.GJ, case.EA, case.weight),
        Supports.of(case.support_segment, case.support_point, case.direction, 1 / case.stiffness, case.gap, lower),
        vertical=vertical,
    )


def moved_up(case: Case, result: RecheckResult) -> np.ndarray:
    """How far each support's point rises."""
    end = result.displacements[case.support_segment]
    return end[:, 2] + np.cross(end[:, 3:], case.support_point - case.end[case.support_segment])[:, 2]


@pytest.mark.parametrize("seed", range(200))
def test_pynite_gives_the_same_forces(seed: int) -> None:
    """PyNite elastic frame, support springs at the supports that carry; feet are wood in both."""
    case = with_feet(random_case(seed))
    result = recheck(case)
    assert result.status == HELD
    assert result.residual < 1e-9
    carry = result.forces > 0.0
    theirs = pynite_forces(*case.only(carry).frame_arguments())
    assert np.abs(theirs - result.forces[carry]).max() < AGREE * case.weight.sum()
    rises = moved_up(case, result)  # feet end at their support, so the foot's end is the support's point
    assert np.all(rises[~carry] + case.gap[~carry] >= -1e-12)


@needs_opensees
@pytest.mark.parametrize("seed", range(200))
def test_opensees_gives_the_same_forces(seed: int) -> None:
    """OpenSees elasticBeamColumn frame with rigid arms from the axis to supports off it."""
    case = random_case(seed)
    result = recheck(case)
    carry = result.forces > 0.0
    theirs = opensees_forces(*case.only(carry).frame_arguments())
    assert np.abs(theirs - result.forces[carry]).max() < AGREE * case.weight.sum()


@needs_opensees
@pytest.mark.parametrize("seed", range(60))
def test_opensees_agrees_with_tilted_supports(seed: int) -> None:
    """All six balances: supports in any direction that hold both ways."""
    case = tilted_case(seed)
    result = recheck(case, lower=-np.inf, vertical=False)
    theirs = opensees_forces(*case.frame_arguments(), vertical=False)
    assert np.abs(theirs - result.forces).max() < AGREE * np.abs(theirs).max()
