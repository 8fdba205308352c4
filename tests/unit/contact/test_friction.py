"""The full problem with friction against hand statics, published closed forms and a second solver."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import linprog, minimize

from bolewright.core.base.errors import BadInput
from bolewright.core.contact.cones import corner_columns
from bolewright.core.contact.friction import (
    Cone,
    Equilibrium,
    balance_residual,
    friction_needed,
    pyramid,
    solve_friction,
)

Array = NDArray[np.float64]
FREE = np.inf


def unit_forces(points: Array, directions: Array) -> Array:
    """Wrench columns (6, m) of unit forces at points about the origin."""
    return np.concatenate([directions, np.cross(points, directions)], axis=1).T


def weight_at(newtons: float, centre: tuple[float, float, float]) -> Array:
    """Weight wrench about the origin."""
    force = np.array([0.0, 0.0, -newtons])
    return np.concatenate([force, np.cross(np.array(centre), force)])


def frictional(points: list[Array], normals: list[Array], mu: float) -> tuple[Array, Array, Array, tuple[Cone, ...]]:
    """Wrench, limits and cones of contacts with friction; the first tangent lies in the x-z plane."""
    directions, places = [], []
    for point, normal in zip(points, normals, strict=True):
        second = np.array([0.0, 1.0, 0.0])
        directions += [normal, np.cross(second, normal), second]
        places += [point] * 3
    count = len(points)
    low = np.tile([0.0, -FREE, -FREE], count)
    cones = tuple(Cone(3 * i, 3 * i + 1, 3 * i + 2, mu) for i in range(count))
    return unit_forces(np.array(places), np.array(directions)), low, np.full(3 * count, FREE), cones


def block_on_a_slope(
    angle: float, mu: float, turned: float = 0.0
) -> tuple[Array, Array, Array, Array, tuple[Cone, ...]]:
    """A block of 100 N on four feet on a slope; `turned` turns the feet's tangents within the surface [rad]."""
    normal = np.array([-np.sin(angle), 0.0, np.cos(angle)])
    down, across = np.array([-np.cos(angle), 0.0, -np.sin(angle)]), np.array([0.0, 1.0, 0.0])
    t1 = np.cos(turned) * down + np.sin(turned) * across
    t2 = np.cross(normal, t1)
    feet = [a * down + b * across for a in (-0.5, 0.5) for b in (-0.5, 0.5)]
    points = np.repeat(np.array(feet), 3, axis=0)
    wrench = unit_forces(points, np.tile(np.array([normal, t1, t2]), (4, 1)))
    cones = tuple(Cone(3 * i, 3 * i + 1, 3 * i + 2, mu) for i in range(4))
    return wrench, weight_at(100.0, (0.0, 0.0, 0.05)), np.tile([0.0, -FREE, -FREE], 4), np.full(12, FREE), cones


def solve(
    wrench: Array, weight: Array, low: Array, high: Array, cones: tuple[Cone, ...], sides: int = 4
) -> Equilibrium:
    """Rigid wood on supports of one stiffness, no gaps."""
    m = len(low)
    none = np.zeros(m)
    return solve_friction(np.zeros((m, m)), none, wrench, weight, np.full(m, 1e-6), none, low, high, cones, sides)


@pytest.mark.parametrize("degrees", [5.0, 20.0, 35.0])
def test_a_block_on_a_slope_needs_the_slopes_tangent(degrees: float) -> None:
    """Coulomb: a block stays on a slope when friction is at least tan of the angle (feet turned to face downhill)."""
    angle = np.radians(degrees)
    wrench, weight, low, high, cones = block_on_a_slope(angle, 0.3)
    assert friction_needed(wrench, weight, low, high, cones) == pytest.approx(np.tan(angle), abs=3e-9)  # 1e-9 of weight
    assert solve(*block_on_a_slope(angle, np.tan(angle) * 1.001)).status == "held"
    assert solve(*block_on_a_slope(angle, np.tan(angle) * 0.999)).status == "no equilibrium"


@pytest.mark.parametrize(("sides", "middle"), [(4, np.pi / 4.0), (8, np.pi / 8.0)])
def test_the_pyramid_is_conservative_between_its_corners(sides: int, middle: float) -> None:
    """Facing a side's middle, the pyramid needs tan(angle) / cos(pi / sides): more than the round cone, never less."""
    angle = np.radians(20.0)
    wrench, weight, low, high, cones = block_on_a_slope(angle, 0.3, turned=middle)
    needed = friction_needed(wrench, weight, low, high, cones, sides)
    assert needed == pytest.approx(np.tan(angle) / np.cos(np.pi / sides), rel=1e-8)
    assert solve(*block_on_a_slope(angle, needed * 1.001, middle), sides).status == "held"
    assert solve(*block_on_a_slope(angle, needed * 0.999, middle), sides).status == "no equilibrium"


@pytest.mark.parametrize("sides", [4, 8])
def test_corners_and_sides_are_one_pyramid_inside_the_cone(sides: int) -> None:
    """Each corner lies on two sides of the pyramid and on the round cone; geometry of a regular polygon."""
    rows = pyramid((Cone(0, 1, 2, 0.4),), 3, sides)
    _, corners = corner_columns(np.eye(6)[:, :3], (Cone(0, 1, 2, 0.4),), sides)
    for k in range(sides):
        corner = np.array([1.0, 0.4 * corners[1, 0, k], 0.4 * corners[2, 0, k]])
        assert np.hypot(corner[1], corner[2]) == pytest.approx(0.4)
        assert np.sum(np.abs(rows @ corner) < 1e-12) == 2
        assert np.max(rows @ corner) < 1e-12


@pytest.mark.parametrize("degrees", [50.0, 60.0, 75.0])
def test_a_ladder_against_a_wall(degrees: float) -> None:
    """Uniform ladder, rough floor and rough wall: it stays while tan(theta) >= (1 - mu^2) / (2 mu).

    Source: elementary statics, e.g. Beer & Johnston, Vector Mechanics: Statics, chapter on friction. Floor alone
    rough (smooth wall): mu = 1 / (2 tan theta).
    """
    theta = np.radians(degrees)
    points = [np.zeros(3), 4.0 * np.array([np.cos(theta), 0.0, np.sin(theta)])]
    normals = [np.array([0.0, 0.0, 1.0]), np.array([-1.0, 0.0, 0.0])]
    wrench, low, high, cones = frictional(points, normals, 0.3)
    weight = weight_at(200.0, tuple(0.5 * points[1]))
    both = friction_needed(wrench, weight, low, high, cones)
    assert both == pytest.approx((np.sqrt(np.tan(theta) ** 2 + 1.0) - np.tan(theta)), rel=1e-8)  # root of the quadratic
    assert (1.0 - both**2) / (2.0 * both) == pytest.approx(np.tan(theta), rel=1e-7)
    smooth_wall = np.delete(wrench, [4, 5], axis=1)
    floor = friction_needed(smooth_wall, weight, low[:4], high[:4], cones[:1])
    assert floor == pytest.approx(1.0 / (2.0 * np.tan(theta)), rel=1e-8)


def test_no_friction_is_enough_when_the_weight_overhangs() -> None:
    """Both feet left of the weight: no friction stops it from tipping over; and none is needed on a level floor."""
    points = [np.array([0.0, 0.0, 0.0]), np.array([1.0, 0.0, 0.0])]
    up = [np.array([0.0, 0.0, 1.0])] * 2
    wrench, low, high, cones = frictional(points, up, 0.3)
    assert friction_needed(wrench, weight_at(100.0, (1.5, 0.0, 0.2)), low, high, cones) is None
    assert friction_needed(wrench, weight_at(100.0, (0.5, 0.0, 0.2)), low, high, cones) == 0.0


def test_a_wedge_limit_is_seen_by_the_friction() -> None:
    """A block on a 30 degree slope held by a line that may take at most 20 N up the slope.

    Coulomb by hand: friction x W cos + 20 = W sin, W = 100 N: friction = (50 - 20) / 86.6 = 0.3464.
    """
    angle = np.radians(30.0)
    wrench, weight, low, high, cones = block_on_a_slope(angle, 0.3)
    up_slope = np.array([[np.cos(angle), 0.0, np.sin(angle)]])
    line = unit_forces(np.array([[0.0, 0.0, 0.0]]), up_slope)
    wrench = np.concatenate([wrench, line], axis=1)
    needed = friction_needed(wrench, weight, np.append(low, 0.0), np.append(high, 20.0), cones)
    assert needed == pytest.approx(30.0 / (100.0 * np.cos(angle)), rel=1e-8)


def test_a_limit_on_a_normal_is_seen_by_the_friction() -> None:
    """A block pressed to a wall by a clamp that can push 200 N at most: friction on both faces, 100 N weight.

    By hand: two faces, each 200 N x friction: 400 friction = 100.
    """
    points = [np.array([-0.1, 0.0, 0.0]), np.array([0.1, 0.0, 0.0])]
    normals = [np.array([1.0, 0.0, 0.0]), np.array([-1.0, 0.0, 0.0])]
    wrench, low, high, cones = frictional(points, normals, 0.3)
    high[0] = 200.0
    assert friction_needed(wrench, weight_at(100.0, (0.0, 0.0, 0.0)), low, high, cones) == pytest.approx(0.25)


def test_three_supports_under_an_even_beam() -> None:
    """Two equal spans, even load: 3/8, 10/8, 3/8 of one span's load (AISC Steel Construction Manual, Table 3-23).

    Flexibility of the beam clamped at its butt: x^2 (3 y - x) / 6 EI; sag q x^2 (x^2 - 4 L x + 6 L^2) / 24 EI. With
    the smallest give s left in each support: middle = (5 q L^4 / 384 EI + s q L / 2) / (L^3 / 48 EI + 3 s / 2).
    """
    span, load, stiffness = 3.0, 500.0, 2e6
    x = np.array([0.0, span, 2 * span])
    a, b = np.minimum.outer(x, x), np.maximum.outer(x, x)
    flexibility = a**2 * (3 * b - a) / (6 * stiffness)
    length = 2 * span
    sag = -load * x**2 * (x**2 - 4 * length * x + 6 * length**2) / (24 * stiffness)
    points = np.stack([x, 0 * x, 0 * x], axis=1)
    wrench = unit_forces(points, np.tile([0.0, 0.0, 1.0], (3, 1)))
    weight = weight_at(load * length, (span, 0.0, 0.0))
    none = np.zeros(3)
    answer = solve_friction(flexibility, sag, wrench, weight, none, none, none, none + FREE, ())
    give = 1e-9
    drop = 5 * load * length**4 / (384 * stiffness) + give * load * length / 2
    middle = drop / (length**3 / (48 * stiffness) + 1.5 * give)
    assert answer.force is not None
    assert answer.force[1] == pytest.approx(middle, rel=1e-9)
    assert answer.force == pytest.approx(np.array([3, 10, 3]) / 8 * load * span, rel=1e-3)
    assert answer.residual < 1e-12


def test_a_support_with_a_gap_opens_and_one_without_is_pressed() -> None:
    """Rigid beam, supports at 0, 2, 4 m on springs 1 mm/kN; the middle has a 3 mm gap and the beam 1000 N at 1 m.

    By hand (middle idle): 750 and 250 N, so the ends sink 0.75 and 0.25 mm, the middle 0.5 mm: 2.5 mm still open.
    """
    wrench = unit_forces(np.array([[0.0, 0, 0], [2.0, 0, 0], [4.0, 0, 0]]), np.tile([0.0, 0.0, 1.0], (3, 1)))
    none = np.zeros(3)
    gap = np.array([0.0, 3e-3, 0.0])
    spring = np.full(3, 1e-6)
    weight = weight_at(1000.0, (1.0, 0, 0))
    answer = solve_friction(np.zeros((3, 3)), none, wrench, weight, spring, gap, none, none + FREE, ())
    assert answer.force == pytest.approx([750.0, 0.0, 250.0], abs=1e-6)
    assert answer.movement is not None
    assert answer.multipliers is not None
    assert answer.multipliers.limits == pytest.approx([0.0, 2.5e-3, 0.0], abs=1e-9)
    assert wrench.T @ answer.movement == pytest.approx([-0.75e-3, -0.5e-3, -0.25e-3], abs=1e-9)


def test_a_movement_is_that_of_the_springs() -> None:
    """A block on four springs of 1e-6 m/N on the level sinks weight x 1e-6 / 4 and turns nowhere."""
    answer = solve(*block_on_a_slope(0.0, 0.5))
    assert answer.movement == pytest.approx([0.0, 0.0, -25e-6, 0.0, 0.0, 0.0], abs=1e-12)


def random_roof_case(seed: int, mu: float) -> tuple[Array, Array, Array, Array, Array, Array, tuple[Cone, ...]]:
    """A tree on six tilted frictional contacts with bending: flexibility, sag, wrench, weight, limits, cones."""
    rng = np.random.default_rng(seed)
    normals = [n / np.linalg.norm(n) for n in rng.normal([0, 0, 1.0], 0.35, (6, 3))]
    points = list(rng.uniform([0, -1.5, 0], [14, 1.5, 3.0], (6, 3)))
    directions, places = [], []
    for p, n in zip(points, normals, strict=True):
        t1 = np.cross(n, [0.0, 1.0, 0.0])
        t1 /= np.linalg.norm(t1)
        directions += [n, t1, np.cross(n, t1)]
        places += [p] * 3
    low = np.tile([0.0, -FREE, -FREE], 6)
    cones = tuple(Cone(3 * i, 3 * i + 1, 3 * i + 2, mu) for i in range(6))
    root = rng.normal(0.0, 3e-4, (18, 18))
    wrench = unit_forces(np.array(places), np.array(directions))
    centre = tuple(np.mean(points, axis=0))
    return root @ root.T, rng.normal(0, 5e-3, 18), wrench, weight_at(3e4, centre), low, np.full(18, FREE), cones


@pytest.mark.parametrize("seed", range(6))
def test_against_a_second_solver(seed: int) -> None:
    """The same energy, by sequential quadratic programming (SLSQP, scipy), which shares no method with ours."""
    flexibility, sag, wrench, weight, low, high, cones = random_roof_case(seed, 0.7)
    spring = np.full(18, 1e-7)
    answer = solve_friction(flexibility, sag, wrench, weight, spring, np.zeros(18), low, high, cones)
    assert answer.force is not None
    assert answer.residual < 1e-9
    newtons, energy = 3e4, flexibility + np.diag(spring)
    size = float(np.max(np.diag(energy))) * newtons**2
    sides = pyramid(cones, 18)

    def cost(x: Array) -> float:
        force = x * newtons
        return float(0.5 * force @ energy @ force + sag @ force) / size

    rows = [
        {"type": "eq", "fun": lambda x: (wrench @ x + weight / newtons) / 10, "jac": lambda x: wrench / 10},
        {"type": "ineq", "fun": lambda x: -sides @ x, "jac": lambda x: -sides},
    ]
    limits = [(None if np.isinf(a) else a, None) for a in low]
    start = linprog(np.zeros(18), A_eq=wrench, b_eq=-weight / newtons, A_ub=sides, b_ub=np.zeros(24), bounds=limits)
    slope = lambda x: (energy @ x * newtons + sag) * newtons / size  # noqa: E731
    options = {"ftol": 1e-15, "maxiter": 1000}
    second = minimize(cost, start.x, jac=slope, bounds=limits, constraints=rows, options=options, method="SLSQP")
    assert second.success
    assert answer.force == pytest.approx(second.x * newtons, abs=1e-4 * newtons)
    assert cost(answer.force / newtons) <= second.fun + 1e-9


@pytest.mark.parametrize("seed", range(12))
def test_no_answer_where_a_linear_programme_finds_none(seed: int) -> None:
    """Held or not held, at a friction just below and just above the needed one, agrees with HiGHS."""
    _, _, wrench, weight, low, high, cones = random_roof_case(seed, 0.0)
    needed = friction_needed(wrench, weight, low, high, cones)
    for mu in (0.1, 0.5) if needed is None else (0.98 * needed, 1.02 * needed + 1e-9):
        tried = tuple(Cone(c.normal, c.tangent1, c.tangent2, mu) for c in cones)
        shrink = np.array([1e-4] * 3 + [1e-5] * 3)  # HiGHS works to 1e-7 of absolute numbers
        rests = linprog(
            np.zeros(18),
            A_eq=wrench * shrink[:, None] * 1e4,
            b_eq=-weight * shrink,
            A_ub=pyramid(tried, 18),
            b_ub=np.zeros(24),
            bounds=np.stack([low, high], axis=1),
            method="highs",
        )
        answer = solve(wrench, weight, low, high, tried)
        assert answer.status == ("held" if rests.status == 0 else "no equilibrium")
        if needed:
            assert (answer.status == "held") == (mu > needed)


def test_no_answer_is_a_status_and_never_a_number() -> None:
    """Off-axis weight on a line of plain supports: equations contradict each other; and no supports at all."""
    wrench = unit_forces(np.array([[0.0, 0, 0], [4.0, 0, 0]]), np.tile([0.0, 0.0, 1.0], (2, 1)))
    none = np.zeros(2)
    load = weight_at(10.0, (2.0, 0.1, 0.0))
    answer = solve_friction(np.zeros((2, 2)), none, wrench, load, none, none, none, none + FREE, ())
    assert (answer.status, answer.force, answer.movement) == ("no equilibrium", None, None)
    empty = np.zeros(0)
    bare = solve_friction(np.zeros((0, 0)), empty, np.zeros((6, 0)), load, empty, empty, empty, empty, ())
    assert bare.status == "no equilibrium"
    weightless = solve_friction(np.zeros((0, 0)), empty, np.zeros((6, 0)), np.zeros(6), empty, empty, empty, empty, ())
    assert weightless.status == "held"


@pytest.mark.parametrize("seed", range(6))
def test_an_unknown_held_at_zero_is_as_if_it_were_not_there(seed: int) -> None:
    """Contacts switched off by low = high = 0 change nothing against leaving them out, friction needed included."""
    flexibility, sag, wrench, weight, low, high, cones = random_roof_case(seed, 0.9)
    off = np.arange(12, 18)
    low[off], high[off] = 0.0, 0.0
    none, spring = np.zeros(18), np.full(18, 1e-7)
    whole = solve_friction(flexibility, sag, wrench, weight, spring, none, low, high, cones[:4])
    on = np.arange(12)
    part = solve_friction(
        flexibility[:12, :12], sag[on], wrench[:, on], weight, spring[on], none[on], low[on], high[on], cones[:4]
    )
    assert whole.status == part.status
    first = friction_needed(wrench, weight, low, high, cones[:4])
    second = friction_needed(wrench[:, on], weight, low[on], high[on], cones[:4])
    assert (first is None) == (second is None)
    if first is not None:
        assert first == pytest.approx(second, abs=1e-6)
    if part.force is not None and part.movement is not None:
        assert whole.force == pytest.approx(np.append(part.force, np.zeros(6)), abs=1e-6 * 3e4)
        assert whole.movement == pytest.approx(part.movement, rel=1e-6, abs=1e-9)


def test_residual_is_relative_to_weight() -> None:
    """One newton too little under 100 N is 0.01; a moment of 1 N m over a 4 m arm under 100 N is 0.0025."""
    wrench = unit_forces(np.array([[0.0, 0, 0], [4.0, 0, 0]]), np.tile([0.0, 0.0, 1.0], (2, 1)))
    load = weight_at(100.0, (2.0, 0.0, 0.0))
    assert balance_residual(wrench, load, np.array([49.0, 50.0])) == pytest.approx(0.01)
    assert balance_residual(wrench, load, np.array([50.25, 49.75])) == pytest.approx(0.0025)


def test_nonsense_is_refused() -> None:
    """Sizes, missing numbers, limits upside down, negative friction, a contact that pulls: one sentence each."""
    wrench, weight, low, high, cones = block_on_a_slope(0.1, 0.3)
    m, none = 12, np.zeros(12)
    soft = np.zeros((m, m))
    with pytest.raises(BadInput, match="that size"):
        solve_friction(soft, none[:3], wrench, weight, none, none, low, high, cones)
    with pytest.raises(BadInput, match="missing"):
        solve_friction(soft, none + np.nan, wrench, weight, none, none, low, high, cones)
    with pytest.raises(BadInput, match="upper limit"):
        solve_friction(soft, none, wrench, weight, none, none, none + 1.0, none, cones)
    with pytest.raises(BadInput, match="push only"):
        solve_friction(soft, none, wrench, weight, none, none, none - 1.0, high, cones)
    with pytest.raises(BadInput, match="zero or more"):
        solve(wrench, weight, low, high, (Cone(0, 1, 2, -0.1),))
    with pytest.raises(BadInput, match="sides"):
        pyramid(cones, 12, 6)
