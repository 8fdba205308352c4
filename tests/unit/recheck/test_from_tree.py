"""The measured tree handed over: weight, stiffness and balance by hand."""

from __future__ import annotations

import numpy as np
import pytest

from bolewright.core.base.vectors import GRAVITY
from bolewright.core.recheck import HELD, Supports, recheck_state, wood_of
from bolewright.core.tree.assembly import build_assembly, place
from bolewright.core.tree.spec import Limb, Plate, Station, TreeSpec

SPEC = TreeSpec(
    stations=(Station(0.0, 0.8, 0.4), Station(10.0, 0.4, 2.0)),
    limbs=(Limb("L1", "stem", 6.0, 3.0, 0.9, 3.0, 0.2, 0.05, "none"),),
    hollows=(),
    plate=Plate(2.0, 0.5, 1500.0),
    wood_density=900.0,
    small_wood_per_area=0.0,
    leaf_per_area=0.0,
    needle_per_area=0.0,
    split_at=(),
)


def test_weight_and_stiffness_by_hand() -> None:
    """900 kg/m3 over frustums; EI = E pi d4/64 at the butt; the plate as a point load; stubs rigid."""
    assembly = build_assembly(SPEC)
    wood, lumps = wood_of(assembly, 9e9, 6e8)
    stem = np.pi / 12 * 10.0 * (0.8**2 + 0.8 * 0.4 + 0.4**2) * 900.0
    assert wood.weight[assembly.member == 0].sum() == pytest.approx(stem * GRAVITY)
    assert wood.bending[0, 0] == pytest.approx(9e9 * np.pi / 64 * 0.8**4)
    assert wood.torsion[0, 0] == pytest.approx(6e8 * np.pi / 32 * 0.8**4)
    assert lumps.force[0, 2] == pytest.approx(-1500.0 * np.pi / 4 * 4.0 * 0.5 * GRAVITY)
    assert wood.rigid.tolist() == assembly.stub.tolist()


def test_three_supports_share_by_statics() -> None:
    """Three bearings off one line: their forces follow from three balances alone, taken here from the masses."""
    assembly = build_assembly(SPEC)
    wood, lumps = wood_of(assembly, 9e9, 6e8)
    at = [("stem", 0.2, -0.25), ("stem", 0.2, 0.25), ("stem", 7.7, 0.0)]
    places = [place(assembly, member, s) for member, s, _ in at]
    points = np.array([p.point + [0.0, y, -0.3] for p, (_, _, y) in zip(places, at, strict=True)])
    result = recheck_state(wood, Supports.of([p.segment for p in places], points, (0, 0, 1), 1e-6), loads=lumps)
    middle = np.vstack([0.5 * (wood.start + wood.end), lumps.point])
    down = np.concatenate([wood.weight, -lumps.force[:, 2]])
    balance = np.vstack([np.ones(3), points[:, 0], points[:, 1]])
    by_hand = np.linalg.solve(balance, [down.sum(), down @ middle[:, 0], down @ middle[:, 1]])
    assert np.all(by_hand > 0.0)
    assert result.status == HELD
    assert result.forces == pytest.approx(by_hand, rel=1e-9)
