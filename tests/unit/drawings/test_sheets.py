"""Every drawing of the invented jobs: well formed, nothing on top of anything, words for every state."""

from __future__ import annotations

import math
import re
from dataclasses import replace

from invented_jobs import Job
from shapely import LineString, Polygon
from shapely import box as shapely_box
from svg_reading import balloons, overlaps, ring_area, rings, root_of, texts

from bolewright.drawings import elevation, load_chart, plan_view, section_view, step_strip
from bolewright.planning.shapes import Scene

ALLOWED = {"svg", "title", "desc", "rect", "polyline", "polygon", "path", "circle", "text"}


def test_each_is_plain_svg(sheets: dict[str, str]) -> None:
    """Well-formed XML of seven shapes with absolute places: what a print renderer is sure to draw alike."""
    for name, svg in sheets.items():
        for element in root_of(svg).iter():
            assert element.tag.split("}")[1] in ALLOWED, name
            assert not {"style", "transform", "filter", "id", "href"} & set(element.attrib), name
        assert all([root_of(svg)[0].text, root_of(svg)[1].text]), name


def test_no_text_lies_on_text(sheets: dict[str, str]) -> None:
    """By the widest of the fonts a sheet may fall back to."""
    for name, svg in sheets.items():
        assert overlaps(texts(svg)) == [], name


def test_no_text_lies_on_an_arrow_or_a_foreign_balloon(sheets: dict[str, str]) -> None:
    """Numbers stay inside their own balloon; all other words keep clear of balloons and force arrows."""
    for name, svg in sheets.items():
        words = [t for t in texts(svg) if t.kind not in {"number", "clock"}]
        arrows = [Polygon(ring) for ring in rings(svg, "arrow")]
        for item in words:
            box = item.box.grown(-0.5)
            assert not [s for s in balloons(svg) if box.meets(s.box.grown(-0.5))], (name, item.words)
            assert not [a for a in arrows if a.intersects(shapely_box(*box))], (name, item.words)


def test_no_leader_runs_through_a_label(sheets: dict[str, str]) -> None:
    """Leaders pass clear of all words; a unit and a half at the rim, where only the spare width lies, is let go."""
    for name, svg in sheets.items():
        labels = [t for t in texts(svg) if t.kind == "label"]
        for run in rings(svg, "leader"):
            crossed = [t.words for t in labels if LineString(run).intersects(shapely_box(*t.box.grown(-1.5)))]
            assert crossed == [], name


def test_all_text_is_on_the_sheet(sheets: dict[str, str]) -> None:
    """No word runs over the edge."""
    for name, svg in sheets.items():
        size = root_of(svg).get("viewBox", "").split()
        for item in texts(svg):
            assert min(item.box.x0, item.box.y0) >= 0, (name, item.words)
            assert item.box.x1 <= float(size[2]), (name, item.words)
            assert item.box.y1 <= float(size[3]), (name, item.words)


def test_no_label_was_left_off(sheets: dict[str, str]) -> None:
    """At the density of eighteen pieces, eight supports and eighteen cuts all is said."""
    for name, svg in sheets.items():
        assert "left off" not in svg, name


def test_every_support_and_every_cut_is_there(jobs: dict[str, Job], sheets: dict[str, str]) -> None:
    """Each support by name and state, each step by its number, on the elevation."""
    for name, job in jobs.items():
        words = [item.words for item in texts(sheets[f"{name} hold"])]
        for support in job.hold.supports:
            assert f"{support.id}: {support.state}" in words
        numbers = [item.words for item in texts(sheets[f"{name} plan"]) if item.kind == "number"]
        for step in job.plan.steps:
            assert numbers.count(str(step.n)) >= 2  # in the drawing and in the list


def test_arrow_area_goes_with_force(jobs: dict[str, Job], sheets: dict[str, str]) -> None:
    """Area over force is one number for all filled arrows (shoelace formula)."""
    forces = [s.force_N.likely for s in jobs["garage"].hold.supports if s.state == "carries"]
    shares = [ring_area(ring) / f for ring, f in zip(rings(sheets["garage hold"], "arrow"), forces, strict=True)]
    assert max(shares) / min(shares) < 1.01  # coordinates are written to a hundredth


def test_the_same_input_gives_the_same_bytes(jobs: dict[str, Job], sheets: dict[str, str]) -> None:
    """Nothing depends on time, order of sets or chance."""
    job = jobs["dense"]
    assert elevation(job.scene, job.hold) == sheets["dense hold"]
    assert plan_view(job.scene, job.plan, hold=job.hold) == sheets["dense above"]


def test_night_differs_in_colour_only(jobs: dict[str, Job], sheets: dict[str, str]) -> None:
    """The night sheet is the day sheet in other inks."""
    job = jobs["garage"]
    day = elevation(job.scene, job.hold, job.plan)
    hidden = [re.sub(r"#[0-9a-f]{6}", "#", svg) for svg in (day, sheets["garage night"])]
    assert hidden[0] == hidden[1]


def test_names_are_escaped(jobs: dict[str, Job]) -> None:
    """What a user typed is shown as typed, without what XML cannot hold."""
    scene = replace(jobs["garage"].scene, title='<script>"a" & \x00\x1bb</script> ' + "w" * 300)
    for svg in (elevation(scene), plan_view(scene), step_strip(scene, jobs["garage"].plan, 1)):
        assert "<script>" not in svg
        assert root_of(svg)[0].text.startswith('<script>"a" & b</script>')  # type: ignore[union-attr]
        assert overlaps(texts(svg)) == []


def test_forbidden_words_never_appear(sheets: dict[str, str]) -> None:
    """A drawing never says that anything is safe or approved."""
    for svg in sheets.values():
        assert not re.search(r"\b(safe|safely|approved)\b", svg, re.IGNORECASE)


def test_the_stop_colour_is_kept_for_stop(sheets: dict[str, str]) -> None:
    """On the elevation of a tree that is held, the accent is on the stop line and the exceeded limit alone."""
    for e in root_of(sheets["garage hold"]).iter():
        if "#b3261e" in {e.get("fill"), e.get("stroke")}:
            assert "Stop" in (e.text or "") or "limit" in (e.text or "")


def test_sparse_and_odd_scenes_still_draw(jobs: dict[str, Job]) -> None:
    """No wood at all, no bearing, a standing stem, a flat roof: each gives a sheet."""
    job = jobs["garage"]
    bare = Scene("bare", (), (), (), (), (), None, None)
    flat = replace(job.scene, buildings=tuple(replace(b, ridge=()) for b in job.scene.buildings), bearing_deg=None)
    upright = replace(bare, wood=(replace(job.scene.wood[0], points=((0, 0, 0), (0, 0, 5), (0, 0, 10))),))
    for scene in (bare, flat, upright):
        for svg in (elevation(scene), plan_view(scene)):
            assert overlaps(texts(svg)) == []
    along = tuple(replace(b, ridge=((9.0, 0.0, 3.5), (14.0, 0.0, 3.5))) for b in job.scene.buildings)
    assert root_of(elevation(replace(job.scene, buildings=along), job.hold)) is not None


def test_a_crowd_is_said_not_hidden(jobs: dict[str, Job]) -> None:
    """With far more supports than there is room for, the sheet says that labels are left off."""
    job = jobs["dense"]
    many = tuple(replace(job.hold.supports[0], id=f"a long name for support number {k}", point=(0.12 * k, 0.0, 0.0))
                 for k in range(130))  # fmt: skip
    svg = elevation(job.scene, replace(job.hold, supports=many), job.plan)
    assert "left off" in svg
    assert overlaps(texts(svg)) == []


def test_an_empty_plan_charts(jobs: dict[str, Job]) -> None:
    """A plan without steps still has its load as found."""
    svg = load_chart(replace(jobs["garage"].plan, steps=()))
    assert "as found" in svg


def test_section_without_bind_says_so() -> None:
    """Nothing known about the bind is said in words."""
    assert "not known" in section_view(0.4)


def test_what_has_no_answer_is_said_in_words(jobs: dict[str, Job]) -> None:
    """Not held, no order, margins without a number: words, no figures, and a status never contradicted."""
    job = jobs["garage"]
    margins = replace(job.hold.margins, rolling_m=math.inf, tipping_m=math.inf, friction_needed=math.inf)
    rolls = elevation(job.scene, replace(job.hold, status="can roll", margins=margins))
    assert "it can roll" in rolls
    assert "no margin worked out" in rolls
    fallen = elevation(job.scene, replace(job.hold, status="not held", supports=(), margins=None))
    assert "As found: not held" in fallen
    stuck = replace(
        job.plan, steps=(), places=(), dead_end="every cut drops the butt", opens=("a second prop at 9 ft",)
    )
    for svg in (elevation(job.scene, job.hold, stuck), plan_view(job.scene, stuck)):
        assert "No order within the limits you set" in svg
        assert "a second prop at 9 ft" in svg
    for svg in (rolls, fallen):
        assert not re.search(r"\b(inf|nan)\b", svg)


def test_contacts_that_may_be_reached_are_not_said_to_touch(jobs: dict[str, Job]) -> None:
    """A possible contact without force after a step is left out of the strip."""
    job = jobs["garage"]
    supports = tuple(replace(s, kind="possible") if s.id == "far slope" else s for s in job.scene.supports)
    scene = replace(job.scene, supports=supports)
    assert "far slope: touches, carries nothing" in step_strip(job.scene, job.plan, 2)
    assert "far slope" not in "".join(t.words for t in texts(step_strip(scene, job.plan, 2)))
