"""Centre lines of stem and limbs against plane geometry done by hand."""

from __future__ import annotations

import numpy as np
import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.tree.axis import limb_line, stem_line, stub_length, underside_heights
from bolewright.core.tree.spec import Limb, Station


def stem(*rows: tuple[float, float, float | None]) -> tuple[Station, ...]:
    return tuple(Station(*row) for row in rows)


def limb(**given: object) -> Limb:
    values = {"id": "L1", "on": "stem", "at": 4.0, "clock": 3.0, "angle_rad": np.pi / 2, "length": 5.0}
    return Limb(**{**values, "diameter": 0.2, "tip_diameter": 0.05, **given})  # type: ignore[arg-type]


def test_level_cylinder() -> None:
    line = stem_line(stem((0.0, 0.6, 0.5), (8.0, 0.6, 0.5)))
    np.testing.assert_allclose(line.points, [[0.0, 0.0, 0.8], [8.0, 0.0, 0.8]], atol=1e-12)


@pytest.mark.parametrize("degrees", [10.0, 30.0, 44.0, -20.0])
def test_sloping_cylinder(degrees: float) -> None:
    """Plumb from underside to centre line of a cylinder on a slope is r / cos."""
    slope = np.radians(degrees)
    line = stem_line(
        stem((0.0, 0.6, 3.0), (4.0, 0.6, 3.0 + 4.0 * np.sin(slope)), (9.0, 0.6, 3.0 + 9.0 * np.sin(slope)))
    )
    x, y, z = line.points.T
    np.testing.assert_allclose(x, np.array([0.0, 4.0, 9.0]) * np.cos(slope), atol=1e-12)
    np.testing.assert_allclose(y, 0.0)
    np.testing.assert_allclose(z, 3.0 + 0.3 / np.cos(slope) + np.array([0.0, 4.0, 9.0]) * np.sin(slope), atol=1e-12)


def test_sloping_cone_has_a_straight_axis_at_the_slope_it_was_made_with() -> None:
    """Built the other way round: an axis at 25 degrees, r / cos taken off for the underside, must come back."""
    slope, s, d = np.radians(25.0), np.array([0.0, 3.0, 7.0, 10.0]), np.array([1.0, 0.82, 0.58, 0.4])
    z = 1.0 + s * np.sin(slope)
    line = stem_line(tuple(Station(a, b, c) for a, b, c in zip(s, d, z - d / 2.0 / np.cos(slope), strict=True)))
    np.testing.assert_allclose(line.points[:, 2], z, atol=1e-9)
    np.testing.assert_allclose(line.points[:, 0], s * np.cos(slope), atol=1e-9)


def test_standing_stem_is_plumb_at_the_heights_given() -> None:
    line = stem_line(stem((0.0, 0.9, 0.0), (6.0, 0.6, 6.0), (15.0, 0.2, 15.0)))
    np.testing.assert_allclose(line.points, [[0, 0, 0], [0, 0, 6], [0, 0, 15]], atol=1e-6)


def test_offset_to_the_right_is_minus_y_and_takes_length() -> None:
    line = stem_line((Station(0.0, 0.4, 1.0), Station(5.0, 0.4, 1.0, 3.0)))
    np.testing.assert_allclose(line.points[1], [4.0, -3.0, 1.2], atol=1e-12)


def test_length_along_the_stem_is_kept() -> None:
    line = stem_line((Station(0.0, 0.9, 0.4), Station(4.0, 0.8, 1.9, 0.5), Station(11.0, 0.5, 3.0, 1.5)))
    np.testing.assert_allclose(np.linalg.norm(np.diff(line.points, axis=0), axis=1), [4.0, 7.0], rtol=1e-12)


@pytest.mark.parametrize(
    ("heights", "filled"),
    [
        ((0.0, None, 3.0), (0.0, 1.2, 3.0)),
        ((None, None, None), (0.0, 0.0, 0.0)),
        ((None, 2.0, None), (2.0, 2.0, 2.0)),
        ((1.0, 2.0, None), (1.0, 2.0, 3.5)),
        ((None, 2.0, 5.0), (0.0, 2.0, 5.0)),
        ((None, 3.0, 4.5), (2.0, 3.0, 4.5)),
    ],
)
def test_heights_not_taken(heights: tuple[float | None, ...], filled: tuple[float, ...]) -> None:
    """By hand, stations at 0, 4 and 10 m; (None, 2, 5) runs down to 0 exactly."""
    stations = tuple(Station(at, 0.5, height) for at, height in zip((0.0, 4.0, 10.0), heights, strict=True))
    np.testing.assert_allclose(underside_heights(stations), filled, atol=1e-12)


def test_a_height_run_on_does_not_go_underground() -> None:
    np.testing.assert_allclose(underside_heights(stem((0.0, 0.5, None), (4.0, 0.5, 1.0), (8.0, 0.5, 5.0))), [0, 1, 5])


def test_no_heights_lies_on_the_ground() -> None:
    line = stem_line(stem((0.0, 0.8, None), (10.0, 0.4, None)))
    under = line.points[:, 2] - line.diameters / 2.0 / np.cos(np.arctan2(-0.2, 10.0))
    np.testing.assert_allclose(under, 0.0, atol=1e-4)


def test_a_stem_cannot_rise_more_than_its_length() -> None:
    with pytest.raises(BadInput, match=r"over only 2\.00 m") as error:
        stem_line(stem((0.0, 0.5, 0.0), (5.0, 0.5, 1.0), (7.0, 0.5, 4.0)))
    assert error.value.path == "tree.stem[2].height"
    with pytest.raises(BadInput) as error:
        stem_line((Station(0.0, 0.5, 0.0), Station(5.0, 0.5, 0.0, 6.0)))
    assert error.value.path == "tree.stem[1].offset"


@pytest.mark.parametrize(("clock", "tip"), [(12, (4, 0, 6)), (3, (4, -5, 1)), (6, (4, 0, -4)), (9, (4, 5, 1))])
def test_limb_square_to_a_level_stem(clock: float, tip: tuple[float, float, float]) -> None:
    parent = stem_line(stem((0.0, 0.6, 0.7), (8.0, 0.6, 0.7)))
    line = limb_line(limb(clock=clock), parent, 0, "tree.limb[0]")
    np.testing.assert_allclose(line.points[-1], tip, atol=1e-12)
    assert line.stub == pytest.approx(0.3)


def test_limb_at_sixty_degrees_leans_to_the_tip() -> None:
    parent = stem_line(stem((0.0, 0.6, 0.7), (8.0, 0.6, 0.7)))
    line = limb_line(limb(angle_rad=np.pi / 3), parent, 0, "tree.limb[0]")
    np.testing.assert_allclose(line.points[-1], [4.0 + 2.5, -5.0 * np.sqrt(3) / 2, 1.0], atol=1e-12)
    assert line.stub == pytest.approx(0.3 / np.sin(np.pi / 3))  # out through the side
    np.testing.assert_allclose(line.diameters, [0.2, 0.2, 0.05])


def test_limb_at_a_station_follows_the_run_on_the_base_side() -> None:
    parent = stem_line(stem((0.0, 0.6, 0.7), (4.0, 0.6, 0.7), (8.0, 0.6, 2.7)))
    along = parent.tangent_at(4.0)
    np.testing.assert_allclose(along, (parent.points[1] - parent.points[0]) / 4.0, atol=1e-12)
    assert parent.tangent_at(4.1)[2] > along[2] + 0.3
    assert parent.tangent_at(0.0)[2] == along[2]


def test_stub_near_the_end_leaves_through_the_end_face() -> None:
    parent = stem_line(stem((0.0, 0.6, 0.7), (8.0, 0.6, 0.7)))
    assert stub_length(limb(at=7.9, angle_rad=np.pi / 6), parent) == pytest.approx(0.1 / np.cos(np.pi / 6))
    assert stub_length(limb(at=8.0, angle_rad=np.pi / 6), parent) == 0.0  # a fork has none


@pytest.mark.parametrize(
    ("given", "value"), [({"at": 9.0}, "at"), ({"length": 0.25}, "length"), ({"angle_rad": 0.01}, "length")]
)
def test_limbs_that_cannot_be(given: dict[str, float], value: str) -> None:
    parent = stem_line(stem((0.0, 0.6, 0.7), (8.0, 0.6, 0.7)))
    with pytest.raises(BadInput) as error:
        limb_line(limb(**({"length": 1.0} | given)), parent, 0, "tree.limb[4]")
    assert error.value.path == f"tree.limb[4].{value}"


def test_a_limb_cannot_grow_from_wood_inside_the_stem() -> None:
    parent = stem_line(stem((0.0, 0.6, 0.7), (8.0, 0.6, 0.7)))
    first = limb_line(limb(), parent, 0, "tree.limb[0]")
    with pytest.raises(BadInput, match="centre line") as error:
        limb_line(limb(id="L2", on="L1", at=0.2), first, 1, "tree.limb[1]")
    assert error.value.path == "tree.limb[1].at"
