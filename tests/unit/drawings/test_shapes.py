"""Hatching, hulls, views and labels against closed forms."""

from __future__ import annotations

import math

import pytest
from svg_reading import ring_area

from bolewright.drawings.forces import ForceScale, arrow_ring
from bolewright.drawings.frame import fitted, scale_steps
from bolewright.drawings.hatch import hatch
from bolewright.drawings.labels import CELL, Placer
from bolewright.drawings.section import towards
from bolewright.drawings.shapes import hull
from bolewright.drawings.type_widths import Box


@pytest.mark.parametrize("degrees", [0.0, 30.0, 45.0, -60.0, 90.0])
def test_hatch_covers_the_area(degrees: float) -> None:
    """Total stroke length times spacing tends to the area: square 100 less a hole of 40, area 8400."""
    square = [(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)]
    hole = [(30.0, 30.0), (70.0, 30.0), (70.0, 70.0), (30.0, 70.0)]
    strokes = hatch([square, hole], 0.37, degrees)
    assert sum(math.dist(a, b) for a, b in strokes) * 0.37 == pytest.approx(8400, rel=0.01)
    for a, b in strokes:
        x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
        assert 0 <= min(x, y) <= max(x, y) <= 100
        assert max(abs(x - 50), abs(y - 50)) > 19.99


def test_hull_of_a_square() -> None:
    """Inner points drop out and the area is that of the square."""
    assert ring_area(hull([(0, 0), (2, 0), (1, 1), (2, 2), (0, 2), (1, 0)])) == pytest.approx(4.0)


def test_view_is_true_to_scale() -> None:
    """A 3-4-5 triangle keeps its sides in one scale, up is up, left is up from above."""
    box = Box(0, 0, 300, 300)
    side = fitted("side", [(0, 0, 0), (4, 0, 3)], box)
    assert math.dist(side.at((0, 0, 0)), side.at((4, 0, 3))) == pytest.approx(5 * side.scale)
    assert side.at((0, 0, 3))[1] < side.at((0, 0, 0))[1]
    top = fitted("top", [(0, -2, 0), (4, 2, 0)], box)
    assert top.at((0, 1, 0))[1] < top.at((0, -1, 0))[1]


@pytest.mark.parametrize("scale", [3.0, 17.0, 60.0, 119.0])
def test_scale_bar_is_true(scale: float) -> None:
    """The last mark lies its number of feet along, 0.3048 m each (international foot, NIST SP 811 B.8)."""
    at, word = scale_steps(scale, "us", 260)[-1]
    assert at == pytest.approx(float(word) * 0.3048 * scale)
    assert at <= 260


def test_arrow_area_is_proportional_to_force() -> None:
    """Four times the force, four times the area."""
    scale = ForceScale(8000.0, 80.0)
    areas = [ring_area(arrow_ring((0, 0), (0.0, -1.0), scale.length(f))) for f in (1000.0, 4000.0)]
    assert areas[1] / areas[0] == pytest.approx(4.0)


def test_clock_positions() -> None:
    """12 up, 3 right, 6 down, 9 left on the sheet (y downward)."""
    for hour, place in ((12, (0, -1)), (3, (1, 0)), (6, (0, 1)), (9, (-1, 0))):
        assert towards(hour) == pytest.approx(place, abs=1e-12)


def test_placed_labels_never_meet() -> None:
    """Sixty labels around nine places: no two boxes meet, none covers what is blocked, all inside."""
    area = Box(0, 0, 900, 600)
    placer = Placer(area)
    wall = Box(400, 100, 420, 500)
    placer.block(wall)
    boxes = []
    for k in range(60):
        anchor = (100.0 + 300 * (k % 3), 100.0 + 180 * (k // 3 % 3))
        placed = placer.place([anchor], 60 + 7 * (k % 5), 16 + 9 * (k % 3))
        assert placed is not None
        placer.settle(placed)
        assert not placed.box.meets(wall)
        assert not any(placed.box.meets(other) for other in boxes)
        assert min(placed.box.x0, placed.box.y0) >= 0
        assert placed.box.x1 <= area.x1
        assert placed.box.y1 <= area.y1
        boxes.append(placed.box)


def test_a_full_sheet_has_no_place() -> None:
    """Where nothing fits, nothing is placed."""
    placer = Placer(Box(0, 0, 100, 100))
    placer.block(Box(0, 0, 100, 100))
    assert placer.place([(50.0, 50.0)], 20, 10) is None
    assert Placer(Box(0, 0, 100, 100)).place([(50.0, 50.0)], 100 + 2 * CELL, 10) is None


def test_the_nearest_free_side_is_taken() -> None:
    """With nothing in the way a label stands on the side it is asked to."""
    placer = Placer(Box(0, 0, 400, 400))
    above = placer.place([(200.0, 200.0)], 60, 16, towards=(0.0, -1.0))
    below = placer.place([(200.0, 200.0)], 60, 16, towards=(0.0, 1.0))
    assert above is not None
    assert below is not None
    assert above.box.y1 < 200 < above.box.y1 + 20
    assert below.box.y0 - 20 < 200 < below.box.y0
