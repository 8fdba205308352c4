"""The assembled frame: what is on it, what it refuses, and that the way it is cut up does not matter."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from tests.references.random_trees import Case, random_case

from bolewright.core.base.errors import BadInput
from bolewright.core.recheck import PointLoads, Segments, Supports, recheck_state
from bolewright.core.recheck.element import integrals, stiffness
from bolewright.core.recheck.frame import build_frame


def wood_of(case: Case) -> Segments:
    """The case's wood."""
    return Segments.of(case.start, case.end, case.parent, case.EI, case.GJ, case.EA, case.weight)


def supports_of(case: Case) -> Supports:
    """The case's supports."""
    return Supports.of(case.support_segment, case.support_point, case.direction, 1 / case.stiffness, case.gap)


def test_eliminating_the_end_forces_gives_the_assembled_stiffness() -> None:
    """ties' soft^-1 ties is the sum of the 12x12 element matrices at their nodes."""
    case = random_case(5)
    wood = wood_of(case)
    frame = build_frame(
        wood, np.ones(wood.count, dtype=bool), supports_of(case).__class__.of([], [], (0, 0, 1), []), PointLoads.none()
    )
    length = np.linalg.norm(wood.end - wood.start, axis=1)
    blocks = stiffness(wood.end - wood.start, integrals(length, wood.bending, wood.torsion, wood.axial))
    want = np.zeros((6 * frame.nodes,) * 2)
    for k, block in enumerate(blocks):
        at = np.concatenate([6 * (wood.parent[k] + 1) + np.arange(6), 6 * (k + 1) + np.arange(6)])
        want[np.ix_(at, at)] += block
    ties = frame.ties.toarray()
    assembled = ties.T @ np.linalg.inv(frame.soft.toarray()) @ ties
    assert np.abs(assembled - want).max() < 1e-9 * np.abs(want).max()


def test_wood_that_is_gone_takes_its_supports_along() -> None:
    """A state with a limb off equals a tree drawn without it."""
    case = random_case(11)
    wood, supports = wood_of(case), supports_of(case)
    last = wood.count - 1
    on_tree = np.arange(wood.count) != last
    assert last not in wood.parent
    bare = Segments(*(getattr(wood, name)[:last] for name in Segments.__dataclass_fields__))
    stays = case.support_segment != last
    masked = recheck_state(wood, supports, on_tree=on_tree)
    alone = recheck_state(bare, supports_of(case.only(stays)))
    assert masked.forces[stays] == pytest.approx(alone.forces, rel=1e-9, abs=1e-6, nan_ok=True)
    assert np.all(masked.forces[~stays] == 0.0)
    assert np.all(np.isnan(masked.displacements[last]))


def test_removing_a_support_equals_never_having_it() -> None:
    """The mask of supports present."""
    case = random_case(2)
    present = np.arange(len(case.gap)) != 0
    masked = recheck_state(wood_of(case), supports_of(case), present=present)
    alone = recheck_state(wood_of(case), supports_of(case.only(present)))
    assert masked.status == alone.status
    assert masked.forces[present] == pytest.approx(alone.forces, nan_ok=True)


def test_weight_may_be_given_as_point_loads() -> None:
    """Half the tree's weight as loads in the middles, on rigid wood, leaves the forces as they were."""
    case = random_case(7)
    stiff = np.ones(len(case.start), dtype=bool)
    wood = replace(wood_of(case), rigid=stiff)
    loads = PointLoads.of(
        np.arange(wood.count), 0.5 * (wood.start + wood.end), np.outer(-0.5 * wood.weight, [0.0, 0.0, 1.0])
    )
    spread = recheck_state(wood, supports_of(case))
    mixed = recheck_state(replace(wood, weight=0.5 * wood.weight), supports_of(case), loads=loads)
    assert mixed.forces == pytest.approx(spread.forces, rel=1e-9, abs=1e-6)


def test_a_nearly_rigid_stub_costs_no_digits() -> None:
    """Runs a million times stiffer, or cut into 2 mm slices, give the forces of rigid ones to the last digits."""
    case = random_case(3)
    wood = wood_of(case)
    stub = wood.parent == 0
    stiff = np.where(stub, 1e12, 1.0)[:, None]
    very = replace(wood, bending=wood.bending * stiff, torsion=wood.torsion * stiff, axial=wood.axial * stiff)
    a = recheck_state(very, supports_of(case))
    b = recheck_state(replace(wood, rigid=stub), supports_of(case))
    assert a.residual < 1e-10
    assert a.forces == pytest.approx(b.forces, rel=1e-7, abs=1e-7 * wood.weight.sum())


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"parent": [-1, 1]}, "after the one"),
        ({"end": [[1, 0, 0], [1, 0, 0]]}, "no length"),
        ({"bending": [1.0, -1.0]}, "bending stiffness"),
    ],
)
def test_wood_that_cannot_be_is_refused(change: dict, words: str) -> None:
    """One plain sentence each."""
    good = {"start": [[0, 0, 0], [1, 0, 0]], "end": [[1, 0, 0], [2, 0, 0]], "parent": [-1, 0], "bending": [1.0, 1.0]}
    with pytest.raises(BadInput, match=words):
        Segments.of(**{**good, **change}, torsion=1.0, axial=1.0, weight=1.0)


def test_two_bodies_and_tilted_forces_are_refused() -> None:
    """A state must be one body; the vertical problem takes vertical forces."""
    case = random_case(1)
    wood, supports = wood_of(case), supports_of(case)
    with pytest.raises(BadInput, match="separate bodies"):
        recheck_state(wood, supports, on_tree=np.arange(wood.count) != 1)
    tilted = replace(supports, direction=supports.direction + [0.1, 0.0, 0.0])
    with pytest.raises(BadInput, match="up-and-down"):
        recheck_state(wood, tilted)
