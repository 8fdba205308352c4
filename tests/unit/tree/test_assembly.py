"""The arrays of an assembly: how members are cut up, joined and found again."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.tree.assembly import STUB_STIFFNESS, build_assembly, member_lines, place
from bolewright.core.tree.segments import cut_up, nodes_along
from bolewright.core.tree.spec import Hollow, Limb, Station, TreeSpec

STEM = (Station(0.0, 1.0, 0.5), Station(5.0, 0.8, 1.5), Station(10.0, 0.4, 2.0))
# given child first: the order of the job must not matter
LIMBS = (
    Limb("L2", "L1", 3.0, 12.0, 0.8, 2.5, 0.1, 0.02),
    Limb("L1", "stem", 6.3, 3.0, 0.9, 5.0, 0.25, 0.05),
    Limb("L3", "stem", 10.0, 9.0, 0.4, 4.0, 0.3, 0.05),
)
SPEC = TreeSpec(
    STEM, LIMBS, (Hollow("stem", 0.0, 2.2, ((12.0, 0.15),)),), wood_density=900.0, split_at=(("stem", 3.33),)
)


def test_segments_join_end_to_start() -> None:
    a = build_assembly(SPEC)
    assert a.parent[0] == -1
    assert np.all(a.parent[1:] < np.arange(1, a.member.size))  # parents before children
    assert np.all(a.parent[1:] >= 0)
    np.testing.assert_allclose(a.start[1:], a.end[a.parent[1:]], atol=1e-9)


def test_segments_run_the_length_of_their_member() -> None:
    a = build_assembly(SPEC)
    np.testing.assert_allclose(np.linalg.norm(a.end - a.start, axis=1), a.s_end - a.s_start, rtol=1e-9)
    assert [a.length_of(member) for member in a.members] == pytest.approx([10.0, 5.0, 4.0, 2.5])
    assert a.members == ("stem", "L1", "L3", "L2")


def test_segments_end_where_they_have_to() -> None:
    a = build_assembly(SPEC)
    for member, s in (("stem", 5.0), ("stem", 6.3), ("stem", 2.2), ("stem", 3.33), ("L1", 3.0)):
        assert np.min(np.abs(a.s_end[a.of(member)] - s)) < 1e-12
    assert np.all((a.s_end - a.s_start)[~a.stub] <= 0.5 + 1e-9)


def test_stub_is_one_stiff_weightless_segment_to_the_bark() -> None:
    a = build_assembly(SPEC)
    own = a.of("L1")
    first = own.start
    assert a.stub[own].tolist() == [True] + [False] * (own.stop - own.start - 1)
    assert a.s_end[first] == pytest.approx((0.8 - 0.4 * 1.3 / 5.0) / 2.0 / np.sin(0.9))
    assert a.bending_share[first] == a.area_share[first] == STUB_STIFFNESS
    assert a.mass[first].sum() == 0.0
    assert not np.any(a.stub[a.of("L3")])  # at the end of the stem there is no wood to be inside of
    assert a.stub_of("L3") == 0.0


def test_limbs_hang_on_the_segment_that_ends_at_them() -> None:
    a = build_assembly(SPEC)
    on = int(a.parent[a.of("L2").start])
    assert a.members[a.member[on]] == "L1"
    assert a.s_end[on] == pytest.approx(3.0)


def test_decay_only_where_it_is() -> None:
    a = build_assembly(SPEC)
    own = a.of("stem")
    decayed = a.s_end[own] <= 2.2 + 1e-9
    np.testing.assert_allclose(a.hollow_start[own], np.where(decayed, a.diameter_start[own] - 0.3, 0.0), atol=1e-12)
    middle = (a.diameter_start + a.diameter_end)[own] / 2.0
    np.testing.assert_allclose(
        a.bending_share[own], np.where(decayed, 1.0 - ((middle - 0.3) / middle) ** 4, 1.0), atol=1e-12
    )


def test_marks_a_hair_apart_are_one() -> None:
    hair = replace(SPEC, split_at=(("stem", 6.3 + 1e-8), ("stem", 5.0 - 1e-8), ("stem", 0.0), ("stem", 10.0)))
    a = build_assembly(hair)
    assert np.min(a.s_end - a.s_start) > 1e-3
    assert np.any(a.s_end == 5.0)


def test_nodes_and_cut_up_agree() -> None:
    lines = member_lines(SPEC)
    marks = [[1.0, 6.3, 10.0], [3.0], [], []]
    segments = cut_up(lines, marks, 0.7)
    nodes = nodes_along(lines[0], marks[0], 0.7)
    own = segments.member == 0
    np.testing.assert_array_equal(segments.s_start[own], nodes[:-1])
    np.testing.assert_array_equal(segments.s_end[own], nodes[1:])
    assert np.all(np.diff(nodes) <= 0.7 + 1e-9)


def test_place_finds_point_axis_and_diameter() -> None:
    a = build_assembly(TreeSpec((Station(0.0, 1.0, 0.5), Station(10.0, 1.0, 0.5)), LIMBS[1:2], wood_density=900.0))
    found = place(a, "stem", 3.7)
    np.testing.assert_allclose(found.point, [3.7, 0.0, 1.0], atol=1e-12)
    np.testing.assert_allclose(found.axis, [1.0, 0.0, 0.0], atol=1e-12)
    assert a.s_start[found.segment] <= 3.7 <= a.s_end[found.segment]
    limb = place(a, "L1", 5.0)
    np.testing.assert_allclose(limb.point, [6.3 + 5.0 * np.cos(0.9), -5.0 * np.sin(0.9), 1.0], atol=1e-12)
    assert limb.diameter == pytest.approx(0.05)
    assert limb.segment == a.of("L1").stop - 1


def test_place_at_a_joint_is_on_the_base_side() -> None:
    a = build_assembly(SPEC)
    assert a.s_end[place(a, "stem", 5.0).segment] == 5.0
    assert place(a, "stem", 0.0).segment == 0
    assert place(a, "stem", 10.0).segment == a.of("stem").stop - 1


@pytest.mark.parametrize(("member", "s"), [("stem", 10.1), ("stem", -0.1), ("L9", 1.0), ("L1", float("nan"))])
def test_no_wood_there(member: str, s: float) -> None:
    with pytest.raises(BadInput) as error:
        place(build_assembly(SPEC), member, s, "support[2].at")
    assert error.value.path == "support[2].at"


def test_a_plumb_stem_takes_limbs() -> None:
    standing = TreeSpec(
        (Station(0.0, 0.6, 0.0), Station(12.0, 0.3, 12.0)), (replace(LIMBS[1], clock=6.0),), wood_density=900.0
    )
    tip = place(build_assembly(standing), "L1", 5.0).point
    # 12 o'clock of a stem pointing up is backward, so 6 is forward
    np.testing.assert_allclose(tip, [5.0 * np.sin(0.9), 0.0, 6.3 + 5.0 * np.cos(0.9)], atol=1e-6)


def test_hundreds_of_limbs_hang_where_they_should() -> None:
    on_stem = [replace(LIMBS[1], id=f"B{i}", at=1.0 + 0.017 * i) for i in range(100)]
    on_limbs = [Limb(f"B{i}", f"B{i % 100}", 3.0, 1.0, 1.0, 2.0, 0.05, 0.01) for i in range(100, 500)]
    a = build_assembly(replace(SPEC, limbs=(*on_limbs, *on_stem), small_wood_per_area=20000.0))
    assert len(a.members) == 501
    np.testing.assert_allclose(a.start[1:], a.end[a.parent[1:]], atol=2e-6)
    for i in (100, 377):
        assert a.members[a.member[a.parent[a.of(f"B{i}").start]]] == f"B{i % 100}"
