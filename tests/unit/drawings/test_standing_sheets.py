"""Drawings of a standing tree: what is placed where, to scale, with no text on another."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest
from svg_reading import overlaps, ring_area, rings, root_of, texts

from bolewright.core.base.range import Range
from bolewright.drawings.standing_chart import FIELD, fragility_chart
from bolewright.drawings.standing_fall import CENTRE, LARGEST, fall_circle
from bolewright.drawings.standing_lookback import X0, X1, needed_against_recorded
from bolewright.drawings.standing_over import sections_over
from bolewright.drawings.standing_section import RADIUS, section_from_above
from bolewright.drawings.standing_trace import FIELD as TRACE_FIELD
from bolewright.drawings.standing_trace import resistance_trace
from bolewright.drawings.standing_words import compass, gusts
from bolewright.job.read import load
from bolewright.planning.standing.looked import ReadTest
from bolewright.planning.standing.results import StandResult, StandSection
from bolewright.planning.standing.stand import stand


@pytest.fixture(scope="module")
def result(root: Path) -> StandResult:
    """The standing example, with few samples."""
    job = load(root / "examples" / "standing" / "lane-beech.toml")
    return stand(job.model_copy(update={"limits": job.limits.model_copy(update={"samples": 64})}))


@pytest.fixture(scope="module")
def tested(result: StandResult) -> StandSection:
    """Its lowest tested section."""
    return next(section for section in result.sections if section.measured)


def traced(result: StandResult) -> ReadTest:
    """The one test that has a trace."""
    (test,) = (test for test in result.tests if test.trace is not None)
    return test


@pytest.mark.parametrize("units", ["us", "metric"])
@pytest.mark.parametrize("night", [False, True])
def test_no_text_lies_on_another(result: StandResult, tested: StandSection, units: str, night: bool) -> None:
    """On every sheet, in both unit systems, by day and night; nothing off the sheet."""
    sheets = (
        section_from_above(tested, result.worst_towards_deg, units, night),  # type: ignore[arg-type]
        fragility_chart(result, units, night),  # type: ignore[arg-type]
        fall_circle(result, "beech", units, night),  # type: ignore[arg-type]
        resistance_trace(traced(result), units, night),  # type: ignore[arg-type]
    )
    for svg in sheets:
        items = texts(svg)
        assert overlaps(items, slack=0.25) == []
        wide, high = (float(n) for n in root_of(svg).get("viewBox", "").split()[2:])
        assert all(i.box.x0 >= 0 and i.box.x1 <= wide and i.box.y0 >= 0 and i.box.y1 <= high for i in items)


def test_section_is_to_scale(tested: StandSection, result: StandResult) -> None:
    """The void's share of the drawn area is the area lost, and every hole ends where sound wood ended."""
    svg = section_from_above(tested, result.worst_towards_deg)
    (wood,), (void,) = rings(svg, "wood"), rings(svg, "void")
    assert ring_area(void) / ring_area(wood) == pytest.approx(tested.loss_of_area, abs=0.01)
    for (_, depth), (start, end) in zip(tested.shell, rings(svg, "hole"), strict=True):
        length = math.dist(start, end) - 8.0
        assert length == pytest.approx(depth / (tested.diameter_m / 2.0) * RADIUS, abs=0.1)


def test_west_is_left(tested: StandSection, result: StandResult) -> None:
    """The thinnest hole, W, is drawn on the left."""
    svg = section_from_above(tested, result.worst_towards_deg)
    thin = min(range(len(tested.shell)), key=lambda k: tested.shell[k][1])
    assert tested.shell[thin][0] == pytest.approx(270.0)
    (x, _), _ = rings(svg, "hole")[thin]
    assert x < 214.0 - RADIUS


def test_curve_is_where_the_numbers_are(result: StandResult) -> None:
    """Ends, middle, and the line of the gust it is held against."""
    (curve,) = rings(fragility_chart(result), "curve")
    most = result.fragility.gust_m_s[-1]
    for (x, y), gust, share in zip(curve, result.fragility.gust_m_s, result.fragility.share, strict=True):
        assert (x - FIELD.x0) / (FIELD.x1 - FIELD.x0) * most == pytest.approx(gust, abs=0.05)
        assert (FIELD.y1 - y) / (FIELD.y1 - FIELD.y0) == pytest.approx(share, abs=1e-3)
    (held,) = rings(fragility_chart(result), "held against")
    assert (held[0][0] - FIELD.x0) / (FIELD.x1 - FIELD.x0) * most == pytest.approx(result.design_gust_m_s, abs=0.05)


def test_chart_says_that_it_is_no_chance_per_year(result: StandResult) -> None:
    """In words on the sheet."""
    assert any("not a chance per year" in item.words for item in texts(fragility_chart(result)))


def test_targets_lie_where_they_are(result: StandResult) -> None:
    """Distance and side to scale from the foot; a target beyond the sheet at its edge."""
    svg = fall_circle(result)
    scale = LARGEST / result.fall.look_m
    marks = [e for e in root_of(svg).iter() if e.get("class") == "target"]
    for target, mark in zip(result.targets, marks, strict=True):
        east = float(mark.get("x", 0)) + 5.0 - CENTRE[0]
        north = CENTRE[1] - float(mark.get("y", 0)) - 5.0
        assert math.hypot(east, north) == pytest.approx(target.distance_m * scale, abs=0.5)
        assert math.degrees(math.atan2(east, north)) % 360.0 == pytest.approx(target.towards_deg, abs=0.5)
    far = replace(result, targets=(replace(result.targets[0], distance_m=900.0, reach="out of reach"),))
    assert "out of reach" in fall_circle(far)


def test_scale_bar_is_to_scale(tested: StandSection) -> None:
    """As long on the sheet as its words say, against the radius of the wood."""
    for units, unit in (("us", 0.0254), ("metric", 0.01)):
        svg = section_from_above(tested, None, units)  # type: ignore[arg-type]
        ((_, (x0, _), (x1, _), _),) = rings(svg, "scale")
        said = max(float(i.words.split()[0]) for i in texts(svg) if x1 < i.box.x0 < x1 + 20 and i.box.y0 > 400)
        assert (x1 - x0) / RADIUS * tested.diameter_m / 2.0 == pytest.approx(said * unit, abs=2e-3)


@pytest.mark.parametrize("units", ["us", "metric"])
def test_sections_over_each_other_are_to_one_scale(tested: StandSection, units: str) -> None:
    """The earlier void lies where it was, the later where it is; no text on another."""
    later = replace(tested, void=tuple((1.1 * x, 1.1 * y) for x, y in tested.void))
    svg = sections_over(tested, later, ("20 May 2026", "2 June 2027"), units)  # type: ignore[arg-type]
    (then,), (now,), (wood,) = (rings(svg, kind) for kind in ("void then", "void now", "wood now"))
    assert ring_area(now) / ring_area(then) == pytest.approx(1.21, abs=0.01)
    assert ring_area(then) / ring_area(wood) == pytest.approx(tested.loss_of_area, abs=0.01)
    assert overlaps(texts(svg), slack=0.25) == []


@pytest.mark.parametrize("units", ["us", "metric"])
def test_bars_of_the_look_back_are_where_the_numbers_are(root: Path, units: str) -> None:
    """Ends of both bars and the recorded gust on one scale; no text on another."""
    job = load(root / "examples" / "standing" / "weir-poplar.toml")
    back = stand(job.model_copy(update={"limits": job.limits.model_copy(update={"samples": 64})})).look_back
    assert back is not None
    svg = needed_against_recorded(back, units)  # type: ignore[arg-type]
    assert overlaps(texts(svg), slack=0.25) == []
    measured, sound = (sorted({x for x, _ in ring}) for ring in rings(svg, "needed"))
    (recorded,) = rings(svg, "recorded")
    most = (back.needed_sound_m_s.high - back.needed_m_s.low) / (sound[1] - measured[0]) * (X1 - X0)
    assert (measured[0] - X0) / (X1 - X0) * most == pytest.approx(back.needed_m_s.low, abs=0.05)
    assert (recorded[0][0] - X0) / (X1 - X0) * most == pytest.approx(back.recorded_m_s, abs=0.05)


@pytest.mark.parametrize(
    ("band", "words"),
    [
        (Range(20.0, 30.0, 40.0), "30 m/s (20 to 40)"),
        (Range(20.0, 30.0, 100.0), "30 m/s (20 to 100) or more"),
        (Range(60.0, 100.0, 100.0), "over 100 m/s (from 60 m/s)"),
        (Range(100.0, 100.0, 100.0), "over 100 m/s"),
    ],
)
def test_gusts_in_words(band: Range, words: str) -> None:
    """The last gust looked at stands for all beyond it."""
    assert gusts(band, "metric") == words


def test_compass_in_words() -> None:
    """Nearest of eight points."""
    assert [compass(d) for d in (0.0, 128.0, 350.0)] == ["N (0 deg)", "SE (128 deg)", "N (350 deg)"]


def test_trace_is_where_the_numbers_are(result: StandResult) -> None:
    """Every point at its depth, the runs' edges theirs, the end of sound wood with its range over the same axis."""
    test = traced(result)
    trace = test.trace
    assert trace is not None
    svg = resistance_trace(test)
    wide = TRACE_FIELD.x1 - TRACE_FIELD.x0

    def depth(x: float) -> float:
        return (x - TRACE_FIELD.x0) / wide * trace.drilled_m

    (curve,) = rings(svg, "trace")
    assert [depth(x) for x, _ in curve] == pytest.approx([x for x, _ in trace.points], abs=1e-4)
    heights = [TRACE_FIELD.y1 - y for _, y in curve]
    most = max(range(len(heights)), key=heights.__getitem__)
    assert trace.points[most][1] == max(r for _, r in trace.points)
    (bar,), (stroke,) = rings(svg, "shell"), rings(svg, "shell likely")
    ends = [depth(bar[0][0]), depth(stroke[0][0]), depth(bar[1][0])]
    assert ends == pytest.approx([trace.shell_m.low, trace.shell_m.likely, trace.shell_m.high], abs=1e-4)
    sound = rings(svg, "sound")
    assert len(sound) == sum(run.sound for run in trace.runs)
    assert depth(sound[-1][-1][0]) == pytest.approx(trace.shell_m.likely, abs=1e-4)


def test_sectors_are_named(result: StandResult) -> None:
    """Side and reason of each, and the eight points of the compass round it."""
    words = " ".join(item.words for item in texts(fall_circle(result)))
    for name in result.fall.sector_names:
        assert name in words
    assert {"N", "NE", "E", "SE", "S", "SW", "W", "NW"} <= set(words.split())
