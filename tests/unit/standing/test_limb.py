"""A limb cut free at its union: its own weight, the wind on it, and a support under it, against closed forms.

Sources: statics; propped cantilevers as in any table of beams (Young and Budynas, Roark's Formulas for Stress and
Strain, Table 8.1, cases 1c and 2c).
"""

from __future__ import annotations

import numpy as np
import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.base.vectors import GRAVITY
from bolewright.core.standing.drag import crown_drag, stem_drag
from bolewright.core.standing.limb import (
    UP,
    LimbBody,
    bending,
    carried_on,
    limb_body,
    limb_loads,
    moments,
    support_reaction,
    supported,
)
from bolewright.core.standing.wind import gust_share
from bolewright.core.tree.assembly import Assembly, build_assembly
from bolewright.core.tree.spec import Limb, Station, TreeSpec

from .trees import forked

ONE = np.ones(1)
LEVEL = {"at": 6.0, "clock": 6.0, "angle_rad": np.pi / 2.0, "length": 6.0, "diameter": 0.2, "tip_diameter": 0.2}


def level_limb(**more: float) -> Assembly:
    """A plumb stem 2 cm thick, so that it hides nothing, with one level limb of even thickness forward."""
    stations = (Station(0.0, 0.02, 0.0), Station(12.0, 0.02, 12.0))
    limb = Limb("A", "stem", foliage="none", **{**LEVEL, **more})  # type: ignore[arg-type]
    return build_assembly(TreeSpec(stations=stations, limbs=(limb,), wood_density=900.0))


@pytest.fixture(scope="module")
def body() -> LimbBody:
    """That limb."""
    return limb_body(level_limb(), "A")


def own_moment(body: LimbBody) -> np.ndarray:
    """Moment vectors of its own weight (1, K, 3)."""
    loads = limb_loads(body, 0.0, [0.0, 30.0], "ASCE", "open")
    return moments(loads, ONE, np.ones((1, 5)), 0.0)[0]


def test_own_weight_of_a_level_limb(body: LimbBody) -> None:
    """w L2 / 2 at the union."""
    per_metre = 900.0 * np.pi / 4.0 * 0.2**2 * GRAVITY
    length = 6.0 - body.s[0]
    assert bending(body, own_moment(body))[0, 0] == pytest.approx(per_metre * length**2 / 2.0, rel=1e-3)


def test_wind_across_and_along(body: LimbBody) -> None:
    """Across: force times half the length; along a level limb: nothing that bends."""
    speed = 30.0
    loads = limb_loads(body, 3.0, [0.0, speed], "ASCE", "open")
    across = bending(body, moments(loads, ONE, np.zeros((1, 5)), np.pi / 2.0)[1])[0, 0, 1]
    force = float(crown_drag(gust_share(np.array([6.0]), "ASCE", "open")[0] * speed, 3.0, 1.0))
    assert across == pytest.approx(force * (6.0 - body.s[0]) / 2.0, rel=1e-3)
    assert bending(body, moments(loads, ONE, np.zeros((1, 5)), 0.0)[1])[0, 0, 1] == pytest.approx(0.0, abs=1e-6)


def test_a_limb_without_twigs_drags_like_a_stem(body: LimbBody) -> None:
    """Its wood square to the wind."""
    bare = limb_loads(body, 1.2, [30.0], "ASCE", "open", leafless=True).wind[0, 0]
    leafy = limb_loads(body, 1.2, [30.0], "ASCE", "open").wind[0, 0]
    local = gust_share(np.array([6.0]), "ASCE", "open")[0] * 30.0
    ratio = float(stem_drag(local, 1.2, 1.0) / crown_drag(local, 1.2, 1.0))
    np.testing.assert_allclose(bare, ratio * leafy, rtol=1e-9)


def test_prop_under_the_tip_of_an_even_limb(body: LimbBody) -> None:
    """Roark 2c: 3/8 of its weight; the moment at the union falls from w L2 / 2 to w L2 / 8."""
    moment, at = own_moment(body), 6.0
    weight = 900.0 * np.pi / 4.0 * 0.2**2 * GRAVITY * (6.0 - body.s[0])
    force = support_reaction(body, moment, at, UP)
    assert force[0] == pytest.approx(3.0 / 8.0 * weight, rel=0.01)
    left = bending(body, supported(body, moment, force, at, UP))[0, 0]
    assert left == pytest.approx(weight * (6.0 - body.s[0]) / 8.0, rel=0.04)


def test_prop_halfway(body: LimbBody) -> None:
    """Sag at half length from its weight, 17 w L4 / (384 E I), over that of a unit force there, (L/2)3 / (3 E I)."""
    length = 6.0 - body.s[0]
    at = body.s[0] + length / 2.0
    per_metre = 900.0 * np.pi / 4.0 * 0.2**2 * GRAVITY
    sag = per_metre * length**4 * 17.0 / 384.0  # at half length, times E I
    give = (length / 2.0) ** 3 / 3.0
    assert support_reaction(body, own_moment(body), at, UP)[0] == pytest.approx(sag / give, rel=0.02)


def test_a_support_only_pushes(body: LimbBody) -> None:
    """A prop does not hold a limb down that is lifted."""
    assert support_reaction(body, -own_moment(body), 6.0, UP)[0] == 0.0


def test_a_support_off_the_limb(body: LimbBody) -> None:
    """One sentence."""
    with pytest.raises(BadInput, match="support stands"):
        support_reaction(body, own_moment(body), 9.0, UP)


def test_what_grows_on_it_counts() -> None:
    """B grows on A at 2 m: its whole mass hangs there; the stem and nothing else is off."""
    assembly = forked()
    carried = carried_on(assembly, "A")
    own, on = assembly.of("A"), assembly.of("B")
    assert np.all(carried[on] == pytest.approx(2.0))
    assert np.all(carried[assembly.of("stem")] == -1.0)
    total = limb_body(assembly, "A").mass.sum()
    assert total == pytest.approx(assembly.mass[own].sum() + assembly.mass[on].sum())


def test_cut_back_weighs_and_catches_less(body: LimbBody) -> None:
    """A third off an even limb: a third of mass and sail gone, and over half of the moment."""
    short = body.shortened(1.0 / 3.0)
    assert short.mass.sum() / body.mass.sum() == pytest.approx(2.0 / 3.0, abs=0.05)
    assert bending(short, own_moment(short))[0, 0] / bending(body, own_moment(body))[0, 0] < 0.5


def test_the_stem_is_no_limb() -> None:
    """One sentence."""
    with pytest.raises(BadInput, match="no limb"):
        limb_body(forked(), "stem")
