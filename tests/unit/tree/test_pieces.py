"""Pieces: names, extents, who carries whom, sizes and outlines."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.tree.assembly import build_assembly
from bolewright.core.tree.outline import diameters_at, hollows_at, member_outline, outline
from bolewright.core.tree.pieces import (
    Piece,
    divide,
    label_segments,
    letters,
    piece_centres,
    piece_diameters,
    piece_lengths,
    piece_masses,
    piece_parents,
    subtree,
)
from bolewright.core.tree.spec import Hollow, Limb, Plate, Station, TreeSpec

CUTS = (("stem", 7.0), ("stem", 3.0), ("L1", 2.0), ("L1", 3.5))
SPEC = TreeSpec(
    (Station(0.0, 1.0, 0.5), Station(10.0, 0.6, 0.7)),
    (
        Limb("L1", "stem", 7.0, 3.0, np.pi / 2, 5.0, 0.25, 0.05),
        Limb("L2", "L1", 3.0, 12.0, 1.0, 2.5, 0.1, 0.02),
        Limb("L3", "stem", 9.0, 9.0, 1.0, 4.0, 0.3, 0.05),
    ),
    (Hollow("stem", 1.0, 2.2, ((12.0, 0.15),)),),
    Plate(3.0, 0.8, 1700.0),
    900.0,
    split_at=CUTS,
)
ASSEMBLY = build_assembly(SPEC)
PIECES = divide(ASSEMBLY, CUTS)
LABELS = label_segments(ASSEMBLY, PIECES)
STUB = (1.0 - 0.04 * 7.0) / 2.0


def test_names_and_extents() -> None:
    got = [(p.id, p.member, p.start, p.end) for p in PIECES if p.member in ("stem", "L1")]
    expected = [
        ("S1", "stem", 0.0, 3.0),
        ("S2", "stem", 3.0, 7.0),
        ("S3", "stem", 7.0, 10.0),
        ("L1a", "L1", STUB, 2.0),
        ("L1b", "L1", 2.0, 3.5),
        ("L1c", "L1", 3.5, 5.0),
    ]
    assert [row[:2] for row in got] == [row[:2] for row in expected]
    np.testing.assert_allclose([row[2:] for row in got], [row[2:] for row in expected], atol=1e-12)
    assert [p.id for p in PIECES if p.member not in ("stem", "L1")] == ["L3", "L2"]


def test_every_segment_is_in_the_piece_that_holds_it() -> None:
    for k, label in enumerate(LABELS):
        piece = PIECES[label]
        assert piece.member == ASSEMBLY.members[ASSEMBLY.member[k]]
        assert ASSEMBLY.stub[k] or piece.start - 1e-9 <= ASSEMBLY.s_start[k] < ASSEMBLY.s_end[k] <= piece.end + 1e-9


def test_who_carries_whom() -> None:
    names = [p.id for p in PIECES]
    parents = piece_parents(ASSEMBLY, LABELS, len(PIECES))
    on = {names[i]: names[p] if p >= 0 else "" for i, p in enumerate(parents)}
    # L1 grows exactly at the cut at 7 m and stays with the butt side
    assert on == {"S1": "", "S2": "S1", "S3": "S2", "L1a": "S2", "L1b": "L1a", "L1c": "L1b", "L2": "L1b", "L3": "S3"}
    leaves = subtree(parents)
    assert {names[j] for j in np.flatnonzero(leaves[names.index("L1a")])} == {"L1a", "L1b", "L1c", "L2"}
    assert {names[j] for j in np.flatnonzero(leaves[names.index("S3")])} == {"S3", "L3"}
    assert leaves[names.index("S1")].all()
    assert leaves.diagonal().all()


def test_lengths_and_diameters() -> None:
    np.testing.assert_allclose(piece_lengths(PIECES)[:3], [3.0, 4.0, 3.0])
    np.testing.assert_allclose(piece_diameters(ASSEMBLY, PIECES)[:3], [[1.0, 0.88], [0.88, 0.72], [0.72, 0.6]])
    first, last = PIECES.index(next(p for p in PIECES if p.id == "L1a")), [p.id for p in PIECES].index("L1c")
    assert piece_diameters(ASSEMBLY, PIECES)[first, 0] == pytest.approx(0.25)
    assert piece_diameters(ASSEMBLY, PIECES)[last, 1] == pytest.approx(0.05)


def test_mass_of_one_piece_and_the_plate_on_the_butt() -> None:
    masses = piece_masses(ASSEMBLY, LABELS, len(PIECES))
    assert masses[1, 0] == pytest.approx(900.0 * np.pi / 12.0 * 4.0 * (0.88**2 + 0.88 * 0.72 + 0.72**2), rel=1e-12)
    assert masses[0, 4] == pytest.approx(1700.0 * np.pi / 4.0 * 9.0 * 0.8, rel=1e-12)
    assert masses[1:, 4].sum() == 0.0


def test_centre_of_a_limb_piece_lies_on_the_limb() -> None:
    i = [p.id for p in PIECES].index("L1b")
    centre = piece_centres(ASSEMBLY, LABELS, len(PIECES))[i]
    assert centre[0] == pytest.approx(ASSEMBLY.end[ASSEMBLY.parent[ASSEMBLY.of("L1").start]][0])
    assert -3.5 < centre[1] < -2.0
    no_wood = piece_centres(ASSEMBLY, LABELS, len(PIECES), [0.0, 0.0, 0.0, 0.0, 1.0])
    assert np.all(np.isfinite(no_wood))


def test_cuts_at_ends_or_in_the_parents_wood_add_nothing() -> None:
    extra = (*CUTS, ("stem", 0.0), ("stem", 10.0), ("L3", 0.1), ("stem", 7.0 + 1e-8))
    assert [p.id for p in divide(ASSEMBLY, extra)] == [p.id for p in PIECES]


def test_cuts_that_cannot_be() -> None:
    with pytest.raises(BadInput) as error:
        divide(ASSEMBLY, (("stem", 1.0), ("stem", 11.0)))
    assert error.value.path == "cut[1].at"
    with pytest.raises(BadInput) as error:
        divide(ASSEMBLY, (("L9", 1.0),))
    assert error.value.path == "cut[0].member"
    clash = build_assembly(replace(SPEC, limbs=(*SPEC.limbs, replace(SPEC.limbs[2], id="L1b"))))
    with pytest.raises(BadInput, match="L1b"):
        divide(clash, CUTS)


def test_labels_need_segments_that_end_at_the_cuts_and_whole_members() -> None:
    with pytest.raises(BadInput) as error:
        label_segments(ASSEMBLY, divide(ASSEMBLY, (("stem", 3.123),)))
    assert error.value.path == "split_at"
    with pytest.raises(BadInput, match="no piece"):
        label_segments(ASSEMBLY, PIECES[:-1])


def test_a_fork_without_stub_is_labelled() -> None:
    fork = replace(SPEC, limbs=(Limb("F", "stem", 10.0, 3.0, 0.4, 4.0, 0.4, 0.1),), split_at=())
    assembly = build_assembly(fork)
    pieces = divide(assembly, ())
    assert pieces == (Piece("S1", "stem", 0.0, 10.0), Piece("F", "F", 0.0, 4.0))
    assert set(label_segments(assembly, pieces)) == {0, 1}


def test_letters_run_on_after_z() -> None:
    assert [letters(i) for i in (0, 25, 26, 51, 52, 701, 702)] == ["a", "z", "aa", "az", "ba", "zz", "aaa"]


def test_diameters_anywhere() -> None:
    np.testing.assert_allclose(diameters_at(ASSEMBLY, "stem", [0.0, 2.5, 10.0]), [1.0, 0.9, 0.6])
    np.testing.assert_allclose(hollows_at(ASSEMBLY, "stem", [0.5, 1.6, 2.2, 2.3]), [0.0, 0.936 - 0.3, 0.912 - 0.3, 0.0])


def test_outline_has_both_faces_where_a_hole_starts() -> None:
    whole = outline(ASSEMBLY)
    assert [o.member for o in whole] == list(ASSEMBLY.members)
    stem = whole[0]
    at_start = np.abs(stem.s - 1.0) < 1e-9
    np.testing.assert_allclose(stem.hollow_diameters[at_start], [0.0, 0.96 - 0.3])
    np.testing.assert_allclose(stem.diameters, 1.0 - 0.04 * stem.s, atol=1e-12)
    assert stem.s[0] == 0.0
    assert stem.s[-1] == 10.0


def test_outline_of_a_piece_is_clipped() -> None:
    run = member_outline(ASSEMBLY, "stem", 3.0, 6.9)
    assert (run.s[0], run.s[-1]) == (3.0, pytest.approx(6.9))
    assert np.all(np.diff(run.s) > 0.0)
    np.testing.assert_allclose(np.linalg.norm(np.diff(run.points, axis=0), axis=1), np.diff(run.s), rtol=1e-9)
