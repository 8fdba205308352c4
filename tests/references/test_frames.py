"""The force method against two general frame programs on random trees with the same loaded supports.

Which supports carry is the engine's own answer; the frame program then has those supports as plain springs. A wrong
contact set shows as a pull in theirs, or as wood sunk into a support the engine left out, and both are looked for.
200 trees go through each program by default; ten times as many with BOLEWRIGHT_TREES=2000 in the environment.
"""

from __future__ import annotations

import os
from dataclasses import replace

import numpy as np
import pytest
from tests.references.contact_engine import MODULUS, case_system, cut_at_supports, push_up, solved, system_of, wood
from tests.references.opensees_frame import opensees, opensees_forces
from tests.references.pynite_frame import pynite_forces
from tests.references.random_trees import Case, random_case, tilted_case, with_feet

from bolewright.core.contact.friction import solve_friction
from bolewright.core.contact.state import System, flex_between, sag_of

TREES = int(os.environ.get("BOLEWRIGHT_TREES", "200"))
AGREE = 1e-6  # of the tree's weight, or of the greatest force where supports work against each other
FIRST = 5000  # other trees than those the second formulation is checked with
needs_opensees = pytest.mark.skipif(isinstance(opensees(), str), reason=str(opensees()))


def forces_of(case: Case) -> np.ndarray:
    """The engine's forces (m,), after its own signs were looked at: no pull, no overlap, no push across a gap."""
    state = solved(case_system(case))
    assert state.held.all()
    assert state.residual.max() < 1e-9
    force, opening = state.force[:, 0], state.opening[:, 0]
    assert force.min() >= -1e-9 * case.weight.sum()
    carry = force > 0.0
    assert np.abs(opening[carry]).max() < 1e-9
    assert opening[~carry].min(initial=0.0) >= -1e-12
    return force


@pytest.mark.parametrize("seed", range(FIRST, FIRST + TREES))
def test_pynite_gives_the_same_forces(seed: int) -> None:
    """PyNite 2.x elastic frame with springs at the supports that carry; short feet of wood in both."""
    case = with_feet(random_case(seed))
    case = replace(case, GJ=case.EI / 8.0)
    force = forces_of(case)
    carry = force > 0.0
    theirs = pynite_forces(*case.only(carry).frame_arguments())
    assert np.abs(theirs - force[carry]).max() < AGREE * case.weight.sum()


@needs_opensees
@pytest.mark.parametrize("seed", range(FIRST, FIRST + TREES))
def test_opensees_gives_the_same_forces(seed: int) -> None:
    """OpenSees elasticBeamColumn frame with rigid arms from the axis to supports beside it."""
    case = cut_at_supports(random_case(seed))
    force = forces_of(case)
    carry = force > 0.0
    theirs = opensees_forces(*case.only(carry).frame_arguments())
    assert np.abs(theirs - force[carry]).max() < AGREE * case.weight.sum()


@needs_opensees
@pytest.mark.parametrize("seed", range(60))
def test_opensees_agrees_with_tilted_supports(seed: int) -> None:
    """All six balances: supports in any direction that hold both ways, through the problem that takes friction.

    Tolerance: supports work against each other here (gaps both ways), so forces are many times the weight and the
    greatest force is the measure.
    """
    case = cut_at_supports(tilted_case(seed))
    system = tilted_system(case)
    keep, every = np.ones(1, dtype=bool), slice(0, system.count)
    answer = solve_friction(
        flexibility=flex_between(system, keep, every, every),
        load_term=sag_of(system, keep, every)[:, 0],
        wrench=system.integrals.wrench,
        weight=system.integrals.weight.sum(axis=(0, 1)),
        compliance=1.0 / case.stiffness,
        gap=case.gap,
        lower=np.full(system.count, -np.inf),
        upper=np.full(system.count, np.inf),
        cones=(),
    )
    assert answer.force is not None
    theirs = opensees_forces(*case.frame_arguments(), vertical=False)
    assert np.abs(theirs - answer.force).max() < AGREE * np.abs(theirs).max()


def tilted_system(case: Case) -> System:
    """The engine's tree with a two-way hold along each support's direction."""
    assembly = wood(case.start, case.end, case.parent, case.EI, case.EA, case.weight, MODULUS)
    holds = [
        push_up(int(segment), point, 1.0 / stiffness, low=-np.inf, force=way, normal=way)
        for segment, point, stiffness, way in zip(
            case.support_segment, case.support_point, case.stiffness, case.direction, strict=True
        )
    ]
    return system_of(assembly, holds, case.gap, MODULUS)
