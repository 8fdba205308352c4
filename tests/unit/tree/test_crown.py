"""Fill of small wood and foliage against sums done by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from bolewright.core.tree.assembly import FOLIAGE, LIMB_WOOD, SMALL_WOOD, STEM_WOOD, Assembly, build_assembly
from bolewright.core.tree.spec import Limb, Station, TreeSpec

STEM = (Station(0.0, 0.6, 1.0), Station(10.0, 0.6, 1.0))
ONE = Limb("L1", "stem", 4.0, 3.0, np.pi / 2, 5.3, 0.2, 0.2, "leaf")  # 5 m of it outside the bark
AREA = np.pi / 4.0 * 0.04
WOOD = 900.0 * AREA * 5.0


def tree(*limbs: Limb, **more: object) -> TreeSpec:
    spec = TreeSpec(STEM, limbs, wood_density=900.0, small_wood_per_area=10000.0, leaf_per_area=1200.0)
    return replace(spec, needle_per_area=2000.0, **more)  # type: ignore[arg-type]


def of(assembly: Assembly, member: str, group: int) -> float:
    return float(assembly.mass[assembly.of(member), group].sum())


def test_allowance_less_own_wood() -> None:
    assembly = build_assembly(tree(ONE))
    assert of(assembly, "L1", LIMB_WOOD) == pytest.approx(WOOD, rel=1e-12)
    assert of(assembly, "L1", SMALL_WOOD) == pytest.approx(10000.0 * AREA - WOOD, rel=1e-12)
    assert of(assembly, "L1", FOLIAGE) == pytest.approx(1200.0 * AREA, rel=1e-12)
    assert of(assembly, "stem", SMALL_WOOD) == of(assembly, "stem", FOLIAGE) == 0.0


def test_it_lies_on_the_outer_three_fifths_evenly() -> None:
    assembly = build_assembly(tree(ONE))
    own = assembly.of("L1")
    inner = assembly.s_end[own] <= 0.3 + 0.4 * 5.0 + 1e-9
    assert np.all(assembly.mass[own, SMALL_WOOD][inner] == 0.0)
    per_metre = assembly.mass[own, SMALL_WOOD][~inner] / (assembly.s_end[own] - assembly.s_start[own])[~inner]
    np.testing.assert_allclose(per_metre, (10000.0 * AREA - WOOD) / 3.0, rtol=1e-9)


def test_little_allowance_still_leaves_some_small_wood() -> None:
    assembly = build_assembly(tree(ONE, small_wood_per_area=100.0))
    assert of(assembly, "L1", SMALL_WOOD) == pytest.approx(0.15 * WOOD, rel=1e-12)


@pytest.mark.parametrize(
    ("kind", "wood", "leaf"), [("bare", 1, 0), ("none", 0, 0), ("needle", 1, 2000), ("leaf", 1, 1200)]
)
def test_kinds(kind: str, wood: int, leaf: float) -> None:
    assembly = build_assembly(tree(replace(ONE, foliage=kind)))
    assert of(assembly, "L1", SMALL_WOOD) == pytest.approx(wood * (10000.0 * AREA - WOOD))
    assert of(assembly, "L1", FOLIAGE) == pytest.approx(leaf * AREA)


def test_no_rate_no_fill() -> None:
    assembly = build_assembly(tree(ONE, small_wood_per_area=0.0, leaf_per_area=0.0))
    assert assembly.mass[:, SMALL_WOOD:].sum() == 0.0


def test_a_limb_on_a_limb_takes_its_whole_allowance_off() -> None:
    child = Limb("L2", "L1", 3.0, 12.0, np.pi / 2, 2.0, 0.1, 0.1, "leaf")
    assembly = build_assembly(tree(ONE, child))
    quarter = AREA / 4.0
    assert of(assembly, "L1", SMALL_WOOD) == pytest.approx(10000.0 * (AREA - quarter) - WOOD, rel=1e-12)
    assert of(assembly, "L1", FOLIAGE) == pytest.approx(1200.0 * (AREA - quarter), rel=1e-12)
    child_wood = 900.0 * quarter * 1.9  # 0.1 m of it inside L1
    assert of(assembly, "L2", SMALL_WOOD) == pytest.approx(10000.0 * quarter - child_wood, rel=1e-12)
    # all branch wood but the child's stub-less length: exactly the allowance of L1
    branches = assembly.mass[:, [LIMB_WOOD, SMALL_WOOD]].sum()
    assert branches == pytest.approx(10000.0 * AREA, rel=1e-12)


def test_the_top_of_the_stem_is_filled_only_when_told() -> None:
    spec = tree(stem_foliage="needle")
    assembly = build_assembly(spec)
    area = np.pi / 4.0 * 0.36
    top_wood = 900.0 * area * 3.0
    assert of(assembly, "stem", SMALL_WOOD) == pytest.approx(10000.0 * area - top_wood, rel=1e-12)
    assert of(assembly, "stem", FOLIAGE) == pytest.approx(2000.0 * area, rel=1e-12)
    filled = assembly.mass[:, FOLIAGE] > 0.0
    assert assembly.s_start[filled].min() == pytest.approx(8.2)  # the outer three fifths of the last 3 m
    assert of(assembly, "stem", STEM_WOOD) == pytest.approx(900.0 * area * 10.0)


def test_only_limbs_on_the_top_come_off_the_top() -> None:
    low, high = replace(ONE, at=6.9), replace(ONE, id="L2", at=7.1)
    area = np.pi / 4.0 * 0.36
    assert of(build_assembly(tree(low, stem_foliage="leaf")), "stem", FOLIAGE) == pytest.approx(1200.0 * area)
    assert of(build_assembly(tree(high, stem_foliage="leaf")), "stem", FOLIAGE) == pytest.approx(1200.0 * (area - AREA))
