"""The way out and the day, read back from the drawings: to scale, complete, and no text on another."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from svg_reading import overlaps, rings, root_of, texts

from bolewright import planning
from bolewright.drawings.day_chart import LEFT, RIGHT, WIDTH, day_chart
from bolewright.drawings.way_out import way_out
from bolewright.job.model import Job
from bolewright.job.read import loads
from bolewright.planning.haul.daywork import day_plan
from bolewright.planning.haul.results import OutResult
from bolewright.planning.shapes import Scene

GUSTS = '\n[[day.forecast]]\nfrom = "13:00"\nto = "14:30"\ngusts = "30 mph"\n'


@pytest.fixture(scope="module")
def garage(root: Path) -> Job:
    """The example with too few sheets, two crews and a windy hour."""
    text = (root / "examples" / "garage-oak.toml").read_text(encoding="utf-8")
    text = text.replace("count = 24", "count = 9").replace('wind = "12 mph"', "crews = 2")
    return loads(text + GUSTS)


@pytest.fixture(scope="module")
def drawn(garage: Job) -> tuple[Scene, OutResult]:
    """Scene and answer."""
    return planning.scene(garage), planning.out(garage)


@pytest.mark.parametrize("units", ["us", "metric"])
@pytest.mark.parametrize("night", [False, True])
def test_no_text_lies_on_another(garage: Job, drawn: tuple[Scene, OutResult], units: str, night: bool) -> None:
    """Neither on the way out nor on the day; nothing off the sheet."""
    scene, result = drawn
    sheets = (
        way_out(scene, result, units, night),  # type: ignore[arg-type]
        day_chart("Oak", day_plan(garage, result), result, night),
    )
    for svg in sheets:
        items = texts(svg)
        assert overlaps(items, slack=0.25) == []
        wide, high = (float(n) for n in root_of(svg).get("viewBox", "").split()[2:])
        assert all(i.box.x0 >= 0 and i.box.x1 <= wide and i.box.y0 >= 0 and i.box.y1 <= high for i in items)


def test_every_sheet_is_drawn_twice_and_to_scale(drawn: tuple[Scene, OutResult]) -> None:
    """On the plan and on the strip, long side twice the short one; the strip says which sheet is carried where."""
    scene, result = drawn
    svg = way_out(scene, result)
    assert result.boards is not None
    drawn_boards = rings(svg, "board")
    assert len(drawn_boards) == 2 * len(result.boards.places) + 1  # one in the legend
    for ring in drawn_boards[:-1]:
        sides = sorted(math.dist(a, b) for a, b in zip(ring, ring[1:], strict=False))
        assert sides[-1] / sides[0] == pytest.approx(2.0, rel=0.02)
    numbers = {item.words for item in texts(svg) if item.kind == "board number"}
    assert {"1", "9"} <= numbers
    assert any("(1)" in words for words in numbers)
    assert "KEEP OFF: septic tank" in svg


def test_bars_stand_where_the_hours_are(garage: Job, drawn: tuple[Scene, OutResult]) -> None:
    """Left edge of the first bar at 07:30, length by the hour."""
    _, result = drawn
    plan = day_plan(garage, result)
    svg = day_chart("Oak", plan, result)
    hour = (WIDTH - LEFT - RIGHT) / (20 - 7)  # shown from 7 to the full hour after dark at 19:30
    (first,) = (ring for ring in rings(svg, "bar set-up") if ring[0][1] < 200)
    bar = next(bar for bar in plan.bars if bar.step == "set-up")
    assert first[0][0] == pytest.approx(LEFT + 0.5 * hour, abs=0.02)
    assert first[1][0] - first[0][0] == pytest.approx((bar.end_h - bar.start_h) * hour, abs=0.02)
    assert "gusts over the limit" in svg
    assert len(rings(svg, "wind")) >= 1


def test_a_way_without_points_is_only_unrolled(garage: Job) -> None:
    bare = garage.model_copy(update={"access": garage.access.model_copy(update={"start": None, "leg": tuple(
        leg.model_copy(update={"to": None}) for leg in garage.access.leg)}) if garage.access else None})  # fmt: skip
    svg = way_out(planning.scene(bare), planning.out(bare))
    assert "only unrolled" in " ".join(item.words for item in texts(svg))
    assert len(rings(svg, "way out")) == 0
