"""Virtual work along real members against closed forms of bars and beams."""

from __future__ import annotations

import numpy as np
import pytest
from tests.references.contact_engine import MODULUS, wood

from bolewright.core.base.vectors import GRAVITY
from bolewright.core.contact.actions import Actions, join, section_probes
from bolewright.core.contact.flexibility import SHEAR_SHARE, Integrals, ancestry, integrate, piece_weights
from bolewright.core.tree.assembly import Assembly, build_assembly
from bolewright.core.tree.pieces import divide, label_segments, piece_parents
from bolewright.core.tree.spec import Hollow, Limb, Plate, Station, TreeSpec

E = 9e9
ORIGIN = np.zeros(3)
UPWARD, SIDEWAYS, FORWARD = np.array([0.0, 0.0, 1.0]), np.array([0.0, 1.0, 0.0]), np.array([1.0, 0.0, 0.0])


def whole(assembly: Assembly, actions: Actions, modulus: float = E) -> Integrals:
    """Everything as one piece."""
    return integrate(assembly, np.zeros(len(assembly.parent), dtype=np.int64), 1, actions, modulus, ORIGIN)


def push(segment: int, point: np.ndarray, force: np.ndarray) -> Actions:
    """One unit force at the end of a segment."""
    return Actions(
        segment=np.array([segment]),
        fraction=np.ones(1),
        point=np.asarray(point, float)[None],
        force=np.asarray(force, float)[None],
        couple=np.zeros((1, 3)),
    )


def stem(base: float, tip: float, length: float, density: float = 900.0) -> Assembly:
    """A level stem whose underside is where its axis lies level."""
    stations = (Station(0.0, base, 2.0 - base / 2), Station(length, tip, 2.0 - tip / 2))
    return build_assembly(TreeSpec(stations, wood_density=density))


def test_round_cantilever() -> None:
    """PL3/3EI, PL/EA and wL4/8EI (AISC Manual, Table 3-23; Hooke), for a bar of 0.3 m and 5 m."""
    bar = stem(0.3, 0.3, 5.0)
    second, area = np.pi * 0.3**4 / 64, np.pi * 0.3**2 / 4
    last, tip = len(bar.parent) - 1, bar.end[-1]
    for force, expected in ((UPWARD, 125 / (3 * E * second)), (FORWARD, 5.0 / (E * area))):
        assert whole(bar, push(last, tip, force)).flex[0, 0, 0] == pytest.approx(expected, rel=1e-12)
    w = 900.0 * area * GRAVITY
    sag = whole(bar, push(last, tip, UPWARD)).sag[0, 0, :, 0].sum()
    assert sag == pytest.approx(-w * 5.0**4 / (8 * E * second), rel=1e-9)


@pytest.mark.parametrize(("base", "tip"), [(0.5, 0.2), (0.8, 0.3), (0.3, 0.3)])
def test_exact_tapered_round_cantilever(base: float, tip: float) -> None:
    """Tip load on a linear taper: 64 P L3 / (3 pi E d_tip d_base3), by integration of the closed form.

    Tolerance 1e-6: four Gauss points on each half metre of a taper that is not a polynomial in 1/d4.
    """
    bar = stem(base, tip, 6.0)
    expected = 64 * 6.0**3 / (3 * np.pi * E * tip * base**3)
    got = whole(bar, push(len(bar.parent) - 1, bar.end[-1], UPWARD)).flex[0, 0, 0]
    assert got == pytest.approx(expected, rel=1e-6)


def test_end_turns_of_a_cantilever() -> None:
    """PL2/2EI slope, ML2/2EI sag and ML/EI turn at the tip: probes read all of them off the same integrals."""
    bar = stem(0.4, 0.4, 4.0)
    second = np.pi * 0.4**4 / 64
    probes = section_probes(len(bar.parent) - 1, bar.end[-1])
    flex = whole(bar, probes).flex[0]
    z, turn_y = 2, 4  # unit force up, unit couple about y
    assert flex[turn_y, z] == pytest.approx(-(4.0**2) / (2 * E * second), rel=1e-12)  # tip up turns nose up: minus y
    assert flex[z, turn_y] == pytest.approx(flex[turn_y, z], rel=1e-12)
    assert flex[turn_y, turn_y] == pytest.approx(4.0 / (E * second), rel=1e-12)
    assert flex[3, 3] == pytest.approx(4.0 / (E * SHEAR_SHARE * 2 * second), rel=1e-12)


def test_a_load_beside_the_axis_twists() -> None:
    """A push up at arm a to the side: L3/3EI + a2 L/GJ (bending and torsion of a round bar)."""
    bar = stem(0.3, 0.3, 5.0)
    second = np.pi * 0.3**4 / 64
    point = bar.end[-1] + [0.0, 0.7, 0.0]
    expected = 125 / (3 * E * second) + 0.7**2 * 5.0 / (E * SHEAR_SHARE * 2 * second)
    got = whole(bar, push(len(bar.parent) - 1, point, UPWARD)).flex[0, 0, 0]
    assert got == pytest.approx(expected, rel=1e-12)


def test_bent_member() -> None:
    """An L in plan, legs a and b, pushed up at its end: (a3 + b3)/3EI + a b2/GJ (Castigliano, Timoshenko)."""
    a, b, second = 3.0, 2.0, 1e-4
    bent = wood([[0, 0, 0], [a, 0, 0]], [[a, 0, 0], [a, b, 0]], [-1, 0], [E * second] * 2, [1e12] * 2, [0, 0], E)
    expected = (a**3 + b**3) / (3 * E * second) + a * b**2 / (E * second / 8.0)
    got = whole(bent, push(1, np.array([a, b, 0.0]), UPWARD)).flex[0, 0, 0]
    assert got == pytest.approx(expected, rel=1e-9)


def test_maxwell_betti() -> None:
    """The movement at i by a unit force at j is that at j by one at i, and no unit force moves its point backward."""
    tree = forked()
    actions = join([push(k, tree.end[k], way) for k in (3, 7, len(tree.parent) - 1) for way in (UPWARD, SIDEWAYS)])
    flex = whole(tree, actions).flex[0]
    assert flex == pytest.approx(flex.T, rel=1e-10, abs=1e-18)
    assert np.linalg.eigvalsh(flex).min() > 0.0


def forked(plate: Plate | None = None) -> Assembly:
    """A stem with two limbs, one on the other, and decay at the butt."""
    limbs = (
        Limb("L1", "stem", 4.0, 3.0, 0.9, 3.0, 0.2, 0.05, "leaf"),
        Limb("L2", "L1", 1.5, 12.0, 0.6, 1.0, 0.08, 0.03),
    )
    stations = (Station(0.0, 0.5, 0.5), Station(8.0, 0.2, 3.0, 0.5))
    hollows = (Hollow("stem", 0.0, 2.0, ((12.0, 0.1),)),)
    places = (("stem", 2.5), ("stem", 6.0), ("L1", 2.0))
    return build_assembly(
        TreeSpec(
            stations, limbs, hollows, plate, 900.0, small_wood_per_area=500.0, leaf_per_area=200.0, split_at=places
        )
    )


def test_pieces_add_up_to_the_whole() -> None:
    """Cut into pieces or not: the same flexibility, sag and weight, summed over pieces."""
    tree = forked()
    pieces = divide(tree, [("stem", 2.5), ("stem", 6.0), ("L1", 2.0)])
    labels = label_segments(tree, pieces)
    tips = [int(np.flatnonzero(tree.member == m)[-1]) for m in range(3)]
    actions = join([push(k, tree.end[k], UPWARD) for k in tips])
    one, many = whole(tree, actions), integrate(tree, labels, len(pieces), actions, E, ORIGIN)
    assert many.flex.sum(axis=0) == pytest.approx(one.flex[0], rel=1e-12)
    assert many.sag.sum(axis=(0, 1)) == pytest.approx(one.sag[0, 0], rel=1e-12, abs=1e-18)
    assert many.weight.sum(axis=0) == pytest.approx(one.weight[0], rel=1e-12)
    assert many.action_piece.tolist() == labels[tips].tolist()


def test_a_piece_gone_takes_its_bending_and_its_weight_with_it() -> None:
    """The tip's sag at the cut without the far piece is that of a tree built without it."""
    long, short = stem(0.4, 0.4, 8.0), stem(0.4, 0.4, 5.0)
    labels = (long.s_start >= 5.0 - 1e-9).astype(np.int64)
    at = int(np.flatnonzero(labels == 0)[-1])
    both = integrate(long, labels, 2, push(at, long.end[at], UPWARD), E, ORIGIN)
    alone = whole(short, push(len(short.parent) - 1, short.end[-1], UPWARD))
    assert both.flex[0] == pytest.approx(alone.flex[0], rel=1e-9)
    assert both.flex[1] == pytest.approx(0.0, abs=1e-20)
    assert both.sag[0, 0] == pytest.approx(alone.sag[0, 0], rel=1e-9, abs=1e-18)
    assert both.sag[0, 1].sum() < 0.0  # the far piece pulls the near one down


def test_weights_are_statics() -> None:
    """Force and moment of every piece from its own masses, lumps included: minus g times the sum of m and of r x z."""
    tree = forked(Plate(1.6, 0.4, 1600.0))
    pieces = divide(tree, [("stem", 2.5)])
    labels = label_segments(tree, pieces)
    weight = piece_weights(tree, labels, len(pieces), ORIGIN)
    for p in range(len(pieces)):
        own = labels == p
        masses = tree.mass[own].sum(axis=1)
        middle = 0.5 * (tree.start + tree.end)[own]
        total, first = masses.sum(), masses @ middle
        if p == 0:
            total += tree.lump_mass.sum()
            first = first + tree.lump_mass.sum() * tree.lump_point[0]
        expected = -GRAVITY * np.array([0.0, 0.0, total, first[1], -first[0], 0.0])
        assert weight[p].sum(axis=0) == pytest.approx(expected, rel=1e-12, abs=1e-9)


def test_what_lies_beyond_what() -> None:
    tree = forked()
    beyond = ancestry(tree)
    assert not beyond.diagonal().any()
    stems, limb = np.flatnonzero(tree.member == 0), np.flatnonzero(tree.member == 1)
    assert beyond[stems[0], stems[1:]].all()
    assert beyond[stems[0], limb].all()
    after_limb = stems[tree.s_start[stems] >= 4.0 - 1e-9]
    assert not beyond[np.ix_(after_limb, limb)].any()
    assert not beyond[np.ix_(limb, stems)].any()


def test_a_limbs_stub_in_its_parent_does_not_bend() -> None:
    """The run of a limb inside its parent's wood adds a millionth of its free length's bending."""
    tree = forked()
    stub = int(np.flatnonzero(tree.stub)[0])
    labels = np.zeros(len(tree.parent), dtype=np.int64)
    labels[stub] = 1
    tip = int(np.flatnonzero(tree.member == 1)[-1])
    flex = integrate(tree, labels, 2, push(tip, tree.end[tip], UPWARD), E, ORIGIN).flex[:, 0, 0]
    assert flex[1] < 1e-5 * flex[0]


def test_modulus_scales() -> None:
    bar = stem(0.3, 0.2, 5.0)
    act = push(len(bar.parent) - 1, bar.end[-1], UPWARD)
    assert whole(bar, act, 2 * MODULUS).flex == pytest.approx(0.5 * whole(bar, act, MODULUS).flex, rel=1e-12)


def test_pieces_have_parents() -> None:
    """The division the integrals are kept by is the one the search cuts by."""
    tree = forked()
    pieces = divide(tree, [("stem", 2.5), ("stem", 6.0), ("L1", 2.0)])
    parents = piece_parents(tree, label_segments(tree, pieces), len(pieces))
    assert [p.id for p in pieces] == ["S1", "S2", "S3", "L1a", "L1b", "L2"]
    assert parents.tolist() == [-1, 0, 1, 1, 3, 3]
