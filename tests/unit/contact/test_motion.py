"""First movements against closed forms of rigid-body mechanics and Farkas' lemma (HiGHS); words against hand cases."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import linprog

from bolewright.core.base.errors import BadInput
from bolewright.core.base.vectors import GRAVITY
from bolewright.core.contact.motion import come_to_rest, distance_to_catch, first_motion, inertia_of
from bolewright.core.contact.moving import Moved, full_motion, motion_in_words

Array = NDArray[np.float64]
LENGTH, MASS = 8.0, 500.0
UPWARD = np.array([0.0, 0.0, 1.0])
FORWARD = np.array([1.0, 0.0, 0.0])


def contacts(points: list[list[float]], normals: list[Array] | None = None) -> Array:
    """Wrench columns (6, n) of unit pushes."""
    n = np.array(normals if normals is not None else [UPWARD] * len(points)).reshape(-1, 3)
    return np.concatenate([n, np.cross(np.array(points).reshape(-1, 3), n)], axis=1).T


class Rod:
    """A slender stem of 500 kg along x from 0 to 8 m at a height, as 400 lumps, with extra lumps where asked."""

    def __init__(self, extra: list[tuple[float, float, float, float]] | None = None, radius: float = 0.02) -> None:
        x = (np.arange(400) + 0.5) / 400 * LENGTH
        points, masses = np.stack([x, 0 * x, 0 * x], axis=1), np.full(400, MASS / 400)
        for px, py, pz, m in extra or []:
            points, masses = np.vstack([points, [px, py, pz]]), np.append(masses, m)
        self.mass = float(masses.sum())
        self.centre = masses @ points / self.mass
        force = np.array([0.0, 0.0, -GRAVITY * self.mass])
        self.weight = np.concatenate([force, np.cross(self.centre, force)])
        self.inertia = inertia_of(points, masses, radius)

    def motion(self, columns: Array, high: float = np.inf) -> Array | None:
        n = columns.shape[1]
        return first_motion(columns, self.weight, np.zeros(n), np.full(n, high), self.inertia)

    def say(self, columns: Array, radius: float = 0.3, surface: str = "") -> Moved:
        motion = self.motion(columns)
        assert motion is not None
        tip = np.array([LENGTH, 0.0, 0.0])
        return motion_in_words(motion, self.centre, FORWARD, np.zeros(3), tip, radius, surface)


def test_mass_matrix_of_a_slender_rod() -> None:
    """m L^2 / 3 about its end, m across, m L / 2 between the two (any mechanics text)."""
    inertia = Rod().inertia
    assert inertia[4, 4] == pytest.approx(MASS * LENGTH**2 / 3, rel=1e-4)
    assert inertia[2, 4] == pytest.approx(-MASS * LENGTH / 2, rel=1e-9)  # turning about +y carries +x downward
    assert np.diag(inertia)[:3] == pytest.approx(MASS)
    assert inertia == pytest.approx(inertia.T)


def test_mass_matrix_gives_the_energy() -> None:
    """Twice the energy of a moving cloud of points is the sum of m v^2."""
    rng = np.random.default_rng(3)
    points, masses, motion = rng.normal(size=(30, 3)), rng.uniform(1, 2, 30), rng.normal(size=6)
    speed = motion[:3] + np.cross(motion[3:], points)
    assert motion @ inertia_of(points, masses, 0.0) @ motion == pytest.approx(float(masses @ np.sum(speed**2, axis=1)))


def test_a_stem_let_go_at_one_end() -> None:
    """A uniform rod on one end support sets off at 3 g / 2 L about it: the free end at 1.5 g.

    Source: Meriam & Kraige, Engineering Mechanics: Dynamics, chapter on plane kinetics (bar released from rest).
    """
    motion = Rod().motion(contacts([[0.0, 0.0, 0.0]]))
    assert motion is not None
    assert motion[4] == pytest.approx(1.5 * GRAVITY / LENGTH, rel=1e-4)
    assert motion[:3] == pytest.approx(np.zeros(3), abs=1e-6)


def test_free_fall_and_a_support_that_gives_way() -> None:
    """Nothing under it: g, no turning. A limit of 1000 N under the middle: g less 1000 N over the mass."""
    rod = Rod()
    falling = rod.motion(np.zeros((6, 0)))
    assert falling == pytest.approx([0, 0, -GRAVITY, 0, 0, 0], abs=1e-6)
    yielding = rod.motion(contacts([[4.0, 0.0, 0.0]]), 1000.0)
    assert yielding == pytest.approx([0, 0, -(GRAVITY - 1000.0 / MASS), 0, 0, 0], abs=1e-6)


def test_a_smooth_slope() -> None:
    """On a smooth slope a body sets off with g sin(angle), down the slope (Galileo)."""
    angle = np.radians(25.0)
    normal = np.array([-np.sin(angle), 0.0, np.cos(angle)])
    feet = [[3.0, -0.3, 0.0], [3.0, 0.3, 0.0], [5.0, -0.3, 2.0 * np.tan(angle)], [5.0, 0.3, 2.0 * np.tan(angle)]]
    rod = Rod()
    motion = rod.motion(contacts(feet, [normal] * 4))
    assert motion is not None
    g_along = GRAVITY * np.sin(angle)
    assert motion[:3] == pytest.approx(-g_along * np.array([np.cos(angle), 0, np.sin(angle)]), abs=1e-6)
    said = rod.say(contacts(feet, [normal] * 4), surface="roof")
    assert (said.kind, said.words) == ("slides", "slides towards the butt, down the roof")


def test_rest_is_no_motion() -> None:
    """Two supports either side of the middle hold a slender rod on its axis."""
    assert Rod().motion(contacts([[1.0, 0.0, 0.0], [6.0, 0.0, 0.0]])) is None


@pytest.mark.parametrize(
    ("extra", "supports", "kind", "words"),
    [
        ([(0.2, 0.0, 0.0, 300.0)], [[4.0, 0.0, 0.0]], "tips", "butt drops, tip lifts"),
        ([(7.8, 0.0, 0.0, 300.0)], [[4.0, 0.0, 0.0]], "tips", "tip drops, butt lifts"),
        ([], [[0.0, 0.0, 0.0]], "drops", "tip drops"),
        ([], [[8.0, 0.0, 0.0]], "drops", "butt drops"),
        ([], [], "drops", "drops whole"),
        ([(4.0, -2.0, 0.0, 200.0)], [[0.5, 0.0, 0.0], [7.5, 0.0, 0.0]], "rolls", "rolls to the right"),
        ([(4.0, 2.0, 0.0, 200.0)], [[0.5, 0.0, 0.0], [7.5, 0.0, 0.0]], "rolls", "rolls to the left"),
    ],
)
def test_hand_cases_in_words(
    extra: list[tuple[float, float, float, float]], supports: list[list[float]], kind: str, words: str
) -> None:
    """What a sawyer would say of each, with nothing else said; the reach of a limb of 2 m is where the roll is felt."""
    rod = Rod(extra)
    said = rod.say(contacts(supports), radius=2.0)
    assert (said.kind, said.words) == (kind, words)


def test_a_turn_on_the_flat() -> None:
    """A pull to the right at the tip of a stem lying on a smooth flat: the tip turns to the right and it slides."""
    tip = np.array([LENGTH, 0.0, 0.0])
    middle = np.array([4.0, 0.0, 0.0])
    turning = motion_in_words(np.array([0, 0.4, 0, 0, 0, -0.1]), middle, FORWARD, np.zeros(3), tip, 0.3)
    assert (turning.kind, turning.words) == ("turns", "tip turns to the right")
    assert turning.largest == pytest.approx(0.4)
    sideways = motion_in_words(np.array([0, 0.4, 0, 0, 0, 0]), middle, FORWARD, np.zeros(3), tip, 0.3)
    assert sideways.words == "slides to the left"
    ahead = motion_in_words(np.array([0.4, 0, 0, 0, 0, 0]), middle, FORWARD, np.zeros(3), tip, 0.3)
    assert ahead.words == "slides towards the tip"
    lifted = motion_in_words(np.array([0.0, 0, 0.4, 0, 0, 0]), middle, FORWARD, np.zeros(3), tip, 0.3)
    assert lifted.words == "lifts whole"
    still = motion_in_words(np.zeros(3), middle, FORWARD, np.zeros(3), tip, 0.3)
    assert (still.kind, still.words, still.largest) == ("held", "held", 0.0)


def test_two_movements_at_once_are_both_said() -> None:
    """Butt down 0.4 m with the rim of a 2 m limb going round 0.3 m to the right."""
    motion = np.array([0.0, 0.0, -0.4, 0.15, -0.05, 0.0])
    said = motion_in_words(motion, np.array([4.0, 0, 0]), FORWARD, np.zeros(3), np.array([8.0, 0, 0]), 2.0)
    assert (said.kind, said.words) == ("drops", "butt drops and rolls to the right")


def random_case(seed: int) -> tuple[Array, Array, Array, Array, Array]:
    """Tilted pushes, some limited, some both ways, under a cloud of wood."""
    rng = np.random.default_rng(seed)
    n = int(rng.integers(1, 12))
    normals = list(rng.normal([0, 0, 1.0], 0.5, (n, 3)))
    columns = contacts(rng.uniform([0, -2, 0], [10, 2, 3], (n, 3)).tolist(), normals)
    low, high = np.zeros(n), np.full(n, np.inf)
    high[rng.random(n) < 0.2] = 2e3
    low[rng.random(n) < 0.2] = -np.inf
    points, masses = rng.uniform([0, -2, 0], [10, 2, 4], (20, 3)), rng.uniform(5, 50, 20)
    force = np.array([0.0, 0.0, -GRAVITY * masses.sum()])
    weight = np.concatenate([force, np.cross(masses @ points / masses.sum(), force)])
    return columns, weight, low, high, inertia_of(points, masses, 0.2)


@pytest.mark.parametrize("equations", [6, 3])
def test_it_moves_exactly_when_no_equilibrium_exists(equations: int) -> None:
    """Farkas: a movement that no push forbids and that loses height exists exactly where HiGHS finds no equilibrium."""
    moved = 0
    for seed in range(80):
        columns, weight, low, high, inertia = random_case(seed)
        if equations == 3:
            columns, weight = columns[2:5], weight[2:5]
        size = np.abs(columns).max(axis=1, keepdims=True)
        limits = np.stack([low, high], axis=1) / 1e3
        answer = linprog(
            np.zeros(len(low)), A_eq=columns / size, b_eq=-weight / size[:, 0] / 1e3, bounds=limits, method="highs"
        )
        motion = first_motion(columns, weight, low, high, inertia)
        assert (motion is None) == (answer.status == 0)
        if motion is None:
            continue
        moved += 1
        along = columns.T @ motion
        assert np.all(along[np.isinf(high)] >= -1e-6)
        assert np.all(np.abs(along[np.isinf(high) & np.isinf(low)]) <= 1e-6)
        with np.errstate(invalid="ignore"):
            most = np.where(along < -1e-9, along * high, np.where(along > 1e-9, along * low, 0.0))
        assert weight @ motion + np.sum(most) > 0.0  # the weight does more work than the limited contacts take up
    assert 20 < moved < 80


def test_where_it_is_caught() -> None:
    """Rod on its butt support; a wall 0.3 m under x = 6 and a bed 0.2 m under x = 3: the wall is 0.05 rad away, caught
    first (the bed would take 0.0667 rad). Then two supports hold it, so it rests there, its tip 0.4 m down.
    """
    rod = Rod()
    butt = contacts([[0.0, 0.0, 0.0]])
    maybe = contacts([[3.0, 0.0, 0.0], [6.0, 0.0, 0.0]])
    motion = rod.motion(butt)
    assert motion is not None
    often, which = distance_to_catch(motion, maybe, np.array([0.2, 0.3]))
    assert which == 1
    assert often * motion[4] == pytest.approx(0.05, rel=1e-6)
    one, free = np.zeros(1), np.full(1, np.inf)
    rest = come_to_rest(butt, rod.weight, one, free, maybe, np.array([0.2, 0.3]), rod.inertia)
    assert (rest.caught, rest.held) == ((1,), True)
    assert full_motion(rest.movement)[2] - LENGTH * rest.movement[4] == pytest.approx(-0.4, rel=1e-6)


def test_caught_in_turn_and_not_at_all() -> None:
    """Both catches nearer than the weight: first the one, then it tips over it to the next; without any it falls on."""
    rod = Rod()
    butt = contacts([[0.0, 0.0, 0.0]])
    maybe = contacts([[2.0, 0.0, 0.0], [3.0, 0.0, 0.0], [7.0, 0.0, 0.0]])
    one, free = np.zeros(1), np.full(1, np.inf)
    rest = come_to_rest(butt, rod.weight, one, free, maybe, np.array([0.02, 0.4, 0.3]), rod.inertia)
    # 0.01 rad to the first at x 2; over it the tip side sinks, butt lifts: x 7 closes when 0.07 + 5 t = 0.3
    assert (rest.caught, rest.held) == ((0, 2), True)
    assert rest.movement[4] == pytest.approx(0.01 + (0.3 - 0.07) / 5.0, rel=1e-6)
    lost = come_to_rest(butt, rod.weight, one, free, maybe[:, :1], np.array([0.02]), rod.inertia)
    assert (lost.caught, lost.held) == ((0,), False)
    assert distance_to_catch(np.array([0, 0, 1.0, 0, 0, 0]), maybe, np.ones(3)) == (np.inf, -1)


def test_nonsense_is_refused() -> None:
    """No mass, no movement."""
    with pytest.raises(BadInput, match="mass"):
        inertia_of(np.zeros((1, 3)), np.zeros(1), 0.1)
