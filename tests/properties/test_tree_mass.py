"""Mass and centre of mass of whole trees: closed forms, and laws that hold for every tree."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bolewright.core.base.vectors import GRAVITY
from bolewright.core.tree.assembly import GROUPS, Assembly, build_assembly, turned
from bolewright.core.tree.mass import centre_of_mass, group_masses, group_moments, run_mass, total_mass, weight_wrench
from bolewright.core.tree.pieces import divide, label_segments, piece_centres, piece_masses, piece_moments
from bolewright.core.tree.spec import Hollow, Limb, Plate, Station, TreeSpec

DENSITY = 900.0


def level_log(large: float, small: float, length: float, **more: object) -> TreeSpec:
    """A log with its centre line level, 1 m up."""
    stations = (Station(0.0, large, 1.0 - large / 2.0), Station(length, small, 1.0 - small / 2.0))
    return replace(TreeSpec(stations, wood_density=DENSITY), **more)  # type: ignore[arg-type]


def frustum(large: float, small: float, length: float) -> tuple[float, float]:
    """Volume of a cone frustum and distance of its centre from the large end.

    Source: closed forms that follow from integrating the area and the area times distance along the axis.
    """
    a, b = large / 2.0, small / 2.0
    volume = np.pi * length / 3.0 * (a * a + a * b + b * b)
    centre = length / 4.0 * (a * a + 2.0 * a * b + 3.0 * b * b) / (a * a + a * b + b * b)
    return float(volume), float(centre)


@pytest.mark.parametrize(("large", "small"), [(0.8, 0.8), (0.8, 0.5), (0.8, 0.0)])
def test_mass_of_cylinder_and_cone(large: float, small: float) -> None:
    assembly = build_assembly(level_log(large, small, 9.3))
    # exact however it is cut up: frusta of one cone add up to it
    assert float(total_mass(assembly)) == pytest.approx(DENSITY * frustum(large, small, 9.3)[0], rel=1e-12)


def test_centre_of_cylinder_is_exact() -> None:
    centre = centre_of_mass(build_assembly(level_log(0.6, 0.6, 7.0)))
    np.testing.assert_allclose(centre, [3.5, 0.0, 1.0], atol=1e-12)


@pytest.mark.parametrize("small", [0.5, 0.2, 0.0])
def test_centre_of_cone_frustum(small: float) -> None:
    """Mass is spread evenly within a segment, so the error falls as the square of the segment length."""
    exact = frustum(0.8, small, 8.0)[1]
    errors = []
    for longest in (0.5, 0.25, 0.125):
        centre = centre_of_mass(build_assembly(level_log(0.8, small, 8.0, longest=longest)))
        errors.append(float(centre[0]) - exact)
        np.testing.assert_allclose(centre[1:], [0.0, 1.0], atol=1e-12)
    assert 0.0 < errors[0] < 0.01  # too far out, as the docstring says, by under 1 cm
    assert errors[0] / errors[1] == pytest.approx(4.0, rel=0.02)
    assert errors[1] / errors[2] == pytest.approx(4.0, rel=0.02)


def test_hollow_cylinder_with_decayed_wood() -> None:
    """Closed form: full section less the hole, the hole counted at the decayed share of density."""
    spec = level_log(0.7, 0.7, 6.0, hollows=(Hollow("stem", 1.0, 3.5, ((12.0, 0.1),)),), decayed_share=0.3)
    hole = np.pi / 4.0 * 0.5**2 * 2.5
    full = np.pi / 4.0 * 0.7**2 * 6.0
    assert float(total_mass(build_assembly(spec))) == pytest.approx(DENSITY * (full - 0.7 * hole), rel=1e-12)
    empty = build_assembly(replace(spec, decayed_share=0.0))
    assert float(total_mass(empty)) == pytest.approx(DENSITY * (full - hole), rel=1e-12)


def test_hollow_cone_is_a_cone_less_a_cone() -> None:
    """Even shell in a taper: the hole is the frustum of the diameters less twice the shell."""
    spec = level_log(0.9, 0.6, 6.0, hollows=(Hollow("stem", 0.0, 6.0, ((6.0, 0.2),)),), decayed_share=0.0)
    expected = DENSITY * (frustum(0.9, 0.6, 6.0)[0] - frustum(0.5, 0.2, 6.0)[0])
    assert float(total_mass(build_assembly(spec))) == pytest.approx(expected, rel=1e-12)


def test_root_plate_is_a_disc_behind_the_butt() -> None:
    spec = level_log(0.6, 0.6, 4.0, plate=Plate(3.0, 0.8, 1700.0))
    assembly = build_assembly(spec)
    assert group_masses(assembly)[GROUPS.index("soil")] == pytest.approx(1700.0 * np.pi * 2.25 * 0.8, rel=1e-12)
    np.testing.assert_allclose(assembly.lump_point, [[-0.4, 0.0, 1.0]], atol=1e-12)


def test_weight_wrench_of_a_cylinder() -> None:
    """Moment of the weight about the origin by hand: M = r x F."""
    spec = replace(level_log(0.6, 0.6, 7.0), stations=(Station(0.0, 0.6, 0.7, -2.0), Station(7.0, 0.6, 0.7, -2.0)))
    weight = GRAVITY * DENSITY * np.pi * 0.09 * 7.0
    by_hand = [0.0, 0.0, -weight, -2.0 * weight, 3.5 * weight, 0.0]  # offset -2 to the right is +2 to the left
    np.testing.assert_allclose(weight_wrench(build_assembly(spec)), by_hand, rtol=1e-12, atol=1e-9)


sizes = st.floats(0.05, 0.35)


@st.composite
def trees(draw: st.DrawFn, everything: bool = True) -> TreeSpec:
    """A stem with up to six limbs, some on limbs, decay, a plate and fill."""
    heights = [draw(st.floats(0.0, 3.0)) for _ in range(3)]
    stations = tuple(
        Station(at, diameter, height, draw(st.floats(-1.0, 1.0)))
        for at, diameter, height in zip((0.0, 5.0, 12.0), (0.9, 0.7, 0.4), heights, strict=True)
    )
    limbs: list[Limb] = []
    for i in range(draw(st.integers(0, 6))):
        on = draw(st.sampled_from(["stem", *(limb.id for limb in limbs)]))
        at = draw(st.floats(2.0, 11.0)) if on == "stem" else draw(st.floats(1.5, 3.5))
        diameter = draw(sizes)
        limbs.append(
            Limb(
                f"L{i + 1}",
                on,
                at,
                draw(st.floats(0.0, 12.0)),
                draw(st.floats(0.5, 2.0)),
                draw(st.floats(4.0, 7.0)),
                diameter,
                diameter * draw(st.floats(0.1, 1.0)),
                draw(st.sampled_from(["leaf", "bare", "needle", "none"])),
            )
        )
    if not everything:
        return TreeSpec(stations, tuple(limbs), wood_density=DENSITY)
    return TreeSpec(
        stations,
        tuple(limbs),
        (Hollow("stem", 0.0, draw(st.floats(0.5, 6.0)), ((12.0, 0.1), (5.0, draw(st.floats(0.0, 0.2))))),),
        Plate(3.0, 0.7, 1700.0),
        DENSITY,
        small_wood_per_area=draw(st.floats(0.0, 30000.0)),
        leaf_per_area=1500.0,
        needle_per_area=2500.0,
        stem_foliage=draw(st.sampled_from(["leaf", "none"])),
    )


def mirrored(spec: TreeSpec) -> TreeSpec:
    """The same tree with left and right exchanged."""
    return replace(
        spec,
        stations=tuple(replace(station, offset=-station.offset) for station in spec.stations),
        limbs=tuple(replace(limb, clock=12.0 - limb.clock) for limb in spec.limbs),
        hollows=tuple(replace(h, shell=tuple(((12.0 - c) % 12.0, d) for c, d in h.shell)) for h in spec.hollows),
    )


def scaled(spec: TreeSpec, k: float) -> TreeSpec:
    """The same tree k times as large in every length; rates per area grow so that the fill scales as a volume."""
    stations = [
        Station(station.at * k, station.diameter * k, (station.height or 0.0) * k, station.offset * k)
        for station in spec.stations
    ]
    limbs = [
        replace(
            limb, at=limb.at * k, length=limb.length * k, diameter=limb.diameter * k, tip_diameter=k * limb.tip_diameter
        )
        for limb in spec.limbs
    ]
    hollows = [Hollow(h.member, h.start * k, h.end * k, tuple((c, d * k) for c, d in h.shell)) for h in spec.hollows]
    plate = Plate(spec.plate.diameter * k, spec.plate.thickness * k, spec.plate.density) if spec.plate else None
    return replace(
        spec,
        stations=tuple(stations),
        limbs=tuple(limbs),
        hollows=tuple(hollows),
        plate=plate,
        small_wood_per_area=spec.small_wood_per_area * k,
        leaf_per_area=spec.leaf_per_area * k,
        needle_per_area=spec.needle_per_area * k,
        longest=spec.longest * k,
    )


@given(trees())
def test_mirror(spec: TreeSpec) -> None:
    right, left = build_assembly(spec), build_assembly(mirrored(spec))
    np.testing.assert_allclose(group_masses(left), group_masses(right), rtol=1e-12)
    np.testing.assert_allclose(centre_of_mass(left), centre_of_mass(right) * [1.0, -1.0, 1.0], atol=1e-9)
    np.testing.assert_allclose(left.bending_share, right.bending_share, rtol=1e-9)


@given(trees(), st.floats(0.0, 5.0), st.floats(-4.0, 4.0))
def test_moving_up_and_aside(spec: TreeSpec, up: float, right: float) -> None:
    moved = replace(
        spec,
        stations=tuple(replace(s, height=(s.height or 0.0) + up, offset=s.offset + right) for s in spec.stations),
    )
    here, there = build_assembly(spec), build_assembly(moved)
    np.testing.assert_allclose(group_masses(there), group_masses(here), rtol=1e-12)
    np.testing.assert_allclose(centre_of_mass(there), centre_of_mass(here) + np.array([0.0, -right, up]), atol=1e-9)


@given(trees(), st.floats(0.3, 3.0))
def test_all_lengths_times_k(spec: TreeSpec, k: float) -> None:
    small, large = build_assembly(spec), build_assembly(scaled(spec, k))
    np.testing.assert_allclose(group_masses(large), group_masses(small) * k**3, rtol=1e-9)
    np.testing.assert_allclose(centre_of_mass(large), centre_of_mass(small) * k, atol=1e-8)


@given(st.floats(0.0, 12.0), st.floats(0.4, 2.0), st.floats(0.0, 6.28))
def test_turning_every_limb_round_a_level_stem(clock: float, angle: float, turn: float) -> None:
    """Turning all clock positions is turning the tree about its axis (clockwise looking to the tip)."""
    limbs = (
        Limb("A", "stem", 3.0, clock, angle, 5.0, 0.2, 0.05),
        Limb("B", "stem", 6.0, (clock + 5.0) % 12.0, angle, 4.0, 0.25, 0.1),
    )
    plain = level_log(0.6, 0.6, 8.0, limbs=limbs)
    hours = turn * 6.0 / np.pi
    rolled = replace(plain, limbs=tuple(replace(limb, clock=(limb.clock + hours) % 12.0) for limb in limbs))
    before = centre_of_mass(build_assembly(plain)) - [0.0, 0.0, 1.0]
    c, s = np.cos(turn), np.sin(turn)
    about_x = np.array([[1.0, 0.0, 0.0], [0.0, c, -s], [0.0, s, c]])  # from y (left, 9) to z (up, 12): clockwise
    after = centre_of_mass(build_assembly(rolled)) - [0.0, 0.0, 1.0]
    np.testing.assert_allclose(after, about_x @ before, atol=1e-9)


@given(trees(), st.floats(-3.0, 3.0))
def test_turned_and_moved_assembly(spec: TreeSpec, turn: float) -> None:
    c, s = np.cos(turn), np.sin(turn)
    about_z = np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])
    here = build_assembly(spec)
    there = turned(here, about_z, (3.0, -1.0, 2.0))
    np.testing.assert_allclose(centre_of_mass(there), about_z @ centre_of_mass(here) + [3.0, -1.0, 2.0], atol=1e-9)


def cut_tree(spec: TreeSpec, shares: list[float]) -> tuple[Assembly, tuple[tuple[str, float], ...]]:
    """The tree with every member cut at shares of its length."""
    plain = build_assembly(spec)
    cuts = tuple((member, share * plain.length_of(member)) for member in plain.members for share in shares)
    return build_assembly(replace(spec, split_at=cuts)), cuts


@given(trees(), st.lists(st.floats(0.05, 0.95), max_size=4))
def test_pieces_add_up_to_the_tree(spec: TreeSpec, shares: list[float]) -> None:
    assembly, cuts = cut_tree(spec, shares)
    pieces = divide(assembly, cuts)
    labels = label_segments(assembly, pieces)
    masses = piece_masses(assembly, labels, len(pieces))
    whole = float(total_mass(assembly))
    assert float(masses.sum()) == pytest.approx(whole, rel=1e-12)
    np.testing.assert_allclose(masses.sum(axis=0), group_masses(assembly), rtol=1e-12, atol=1e-9)
    centres = piece_centres(assembly, labels, len(pieces))
    np.testing.assert_allclose(masses.sum(axis=1) @ centres / whole, centre_of_mass(assembly), atol=1e-10)
    moments = piece_moments(assembly, labels, len(pieces)).sum(axis=0)
    np.testing.assert_allclose(moments, group_moments(assembly), rtol=1e-10, atol=1e-7)


@given(trees(), st.lists(st.floats(0.05, 0.95), max_size=4))
def test_mass_of_runs_is_that_of_the_pieces(spec: TreeSpec, shares: list[float]) -> None:
    assembly, cuts = cut_tree(spec, shares)
    pieces = divide(assembly, cuts)
    masses = piece_masses(assembly, label_segments(assembly, pieces), len(pieces))[:, : GROUPS.index("soil")]
    runs = [run_mass(assembly, piece.member, piece.start, piece.end) for piece in pieces]
    np.testing.assert_allclose(runs, masses.sum(axis=1), rtol=1e-6, atol=1e-6)


def test_mass_of_a_run_that_ends_inside_a_segment() -> None:
    assembly = build_assembly(level_log(0.6, 0.6, 7.0))
    assert run_mass(assembly, "stem", 1.23, 4.56) == pytest.approx(DENSITY * np.pi * 0.09 * 3.33, rel=1e-12)


@given(trees(), st.lists(st.floats(0.05, 0.95), max_size=4))
def test_cutting_up_does_not_change_the_wood(spec: TreeSpec, shares: list[float]) -> None:
    """An even shell leaves a cone in a cone, so where the marks fall cannot matter."""
    even = replace(spec, hollows=(Hollow("stem", 0.0, 4.0, ((12.0, 0.1),)),))
    fine, _ = cut_tree(even, shares)
    np.testing.assert_allclose(group_masses(fine), group_masses(build_assembly(even)), rtol=1e-9)


@given(trees(everything=False))
def test_wood_is_the_sum_of_frusta(spec: TreeSpec) -> None:
    """Limb by limb: cone frustum of its length outside the parent's bark."""
    assembly = build_assembly(spec)
    limbs = sum(
        frustum(limb.diameter, limb.tip_diameter, limb.length - assembly.stub_of(limb.id))[0] for limb in spec.limbs
    )
    stem = frustum(0.9, 0.7, 5.0)[0] + frustum(0.7, 0.4, 7.0)[0]
    expected = [DENSITY * stem, DENSITY * limbs, 0.0, 0.0, 0.0]
    np.testing.assert_allclose(group_masses(assembly), expected, rtol=1e-9)


@given(trees(), st.lists(st.floats(0.7, 1.3), min_size=10, max_size=10))
def test_many_samples_at_once_are_the_same_as_one_by_one(spec: TreeSpec, factors: list[float]) -> None:
    assembly = build_assembly(spec)
    both = np.array(factors).reshape(2, 5)
    together = (total_mass(assembly, both), centre_of_mass(assembly, both), weight_wrench(assembly, both))
    for i in range(2):
        assert float(together[0][i]) == pytest.approx(float(total_mass(assembly, both[i])), rel=1e-13)
        np.testing.assert_allclose(together[1][i], centre_of_mass(assembly, both[i]), rtol=1e-12, atol=1e-12)
        np.testing.assert_allclose(together[2][i], weight_wrench(assembly, both[i]), rtol=1e-12, atol=1e-9)


@given(trees(), st.floats(1.0, 1.4))
def test_denser_wood_is_heavier_in_proportion(spec: TreeSpec, factor: float) -> None:
    here, there = (
        group_masses(build_assembly(spec)),
        group_masses(build_assembly(replace(spec, wood_density=DENSITY * factor))),
    )
    np.testing.assert_allclose(there[:2], here[:2] * factor, rtol=1e-12)
