"""From job to answer: what each thing written down does to it."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from bolewright.core.base.errors import BadInput, NotEnoughKnown
from bolewright.core.sections import measured_shell, solid_round, strength_kept
from bolewright.job.faults import JobFaults
from bolewright.planning.standing.results import StandResult
from bolewright.planning.standing.stand import stand

from .jobs import drilled, job

THIN_WEST = {"N": "12 cm", "E": "20 cm", "S": "12 cm", "W": "3 cm"}


def section(result: StandResult, height: float) -> Any:
    """The section nearest a height."""
    return min(result.sections, key=lambda s: abs(s.height_m - height))


@pytest.fixture(scope="module")
def plain() -> StandResult:
    """The plain tree."""
    return stand(job())


def test_a_sound_tree(plain: StandResult) -> None:
    """No loss anywhere; the first to fail is the lesser of stem and roots; all wood marked as not tested."""
    assert plain.status in ("inside", "outside")
    assert all(s.loss_of_strength == pytest.approx(0.0, abs=1e-9) for s in plain.sections)
    assert plain.gust_m_s.likely <= min(plain.stem_gust_m_s.likely, plain.roots.gust_m_s.likely) + 1e-9
    assert all("not tested" in s.note for s in plain.sections)
    assert any("No section was tested" in note for note in plain.notes)


def test_what_is_filled_in_says_how_it_stands(plain: StandResult) -> None:
    """Recalled and common-practice values keep their mark to the result."""
    status = {row.path: row.status for row in plain.filled_in}
    assert status["tree.stem"] == "from memory"
    assert status["standing.crown_filled"] == "common practice"
    assert status["anchorage"] == "estimate"
    assert status["share of clear-wood strength"] == "from memory"
    assert status["drag of the bare stem"] == "from memory"
    assert status["limits.share"] == "common practice"
    assert status["wind with height"] == "from memory"
    for spread in ("height", "crown width", "diameters"):
        assert status[f"spread of the {spread}"] == "common practice"
    assert "spread of the lean" not in status  # plumb
    assert "sail of a limb" not in status  # none named
    assert all(row.source for row in plain.filled_in)


def test_a_spread_that_was_written_is_not_filled_in() -> None:
    """Nor is the reach of a test where none was made; a leaning tree's error is."""
    known = {"height": "18 m ± 1 m", "crown_width": "9..11 m", "lean": "5 deg", "lean_towards": "N"}
    test = {"test": [drilled("1 m", {"N": "10 cm", "S": "9 cm"})]}
    paths = {row.path for row in stand(job(standing=known, inspection=test)).filled_in}
    assert {"spread of the lean", "spread of the diameters", "reach of a test"} <= paths
    assert not {"spread of the height", "spread of the crown width"} & paths


def test_a_leaning_tree_reaches_as_far_as_it_is_long() -> None:
    """18 m high with 30 degrees of lean is 18/cos 30 = 20.8 m from foot to top."""
    fall = stand(job(standing={"lean": "30 deg", "lean_towards": "N"})).fall
    assert fall.radius_m == pytest.approx(20.785, abs=1e-3)


def test_lost_roots_and_a_trench_are_not_added_up() -> None:
    """The greater of the two, and that is said."""
    both = stand(job(standing={"roots_lost": "50 %", "trench": "1.2 m"}))
    assert both.roots.loss.likely == pytest.approx(0.30)
    assert any("the greater loss is taken" in note for note in both.notes)


def test_same_job_same_answer(plain: StandResult) -> None:
    """Repeatable."""
    assert stand(job()).gust_m_s == plain.gust_m_s


def test_fragility_is_a_curve_within_its_band(plain: StandResult) -> None:
    """Rising from 0, between its band."""
    curve = plain.fragility
    assert curve.share[0] == 0.0
    assert np.all(np.diff(curve.share) >= 0.0)
    assert all(low <= share <= high for low, share, high in zip(curve.low, curve.share, curve.high, strict=True))
    at = np.interp(plain.gust_m_s.likely, curve.gust_m_s, curve.share)
    assert at == pytest.approx(0.5, abs=0.05)


def test_drill_holes_become_the_section() -> None:
    """Strength lost is that of the polygon through the readings; weakest across the thin side; rules beside it."""
    result = stand(job(inspection={"test": [drilled("1 m", THIN_WEST, diameter="60 cm")]}))
    tested = section(result, 1.0)
    clocks = [(12.0, 0.12), (9.0, 0.20), (6.0, 0.12), (3.0, 0.03)]  # any even spacing: the loss does not mind turning
    kept = strength_kept(measured_shell(tested.diameter_m, clocks), solid_round(tested.diameter_m))
    assert tested.measured
    assert tested.loss_of_strength == pytest.approx(1.0 - kept.strength_worst, rel=1e-6)
    assert tested.weakest_deg == pytest.approx(90.0, abs=25.0)
    assert {f.source for f in tested.formulas} == {"Wagener 1963", "Coder 1989", "Smiley and Fraedrich 1992"}
    assert not next(r for r in tested.rules if r.name == "shell over radius").within
    assert tested.wall == "cracking"


@pytest.mark.parametrize("bearing", ["0 deg", "75 deg", "200 deg"])
def test_the_bearing_is_only_a_way_to_look(bearing: str) -> None:
    """With compass sides throughout, no number changes with the bearing."""
    given = {
        "inspection": {"test": [drilled("1 m", THIN_WEST)]},
        "standing": {"lean": "5 deg", "lean_towards": "SE", "wind_from": "W"},
    }
    here, north = stand(job(**given, tree={"bearing": bearing})), stand(job(**given, tree={"bearing": "0 deg"}))
    assert section(here, 1.0).weakest_deg == pytest.approx(section(north, 1.0).weakest_deg, abs=0.5)
    assert here.wind_gust_m_s is not None
    assert north.wind_gust_m_s is not None
    assert here.wind_gust_m_s.likely == pytest.approx(north.wind_gust_m_s.likely, rel=1e-3)
    east, up = max(section(here, 1.0).outline, key=lambda p: p[0])
    assert east == pytest.approx(section(here, 1.0).diameter_m / 2.0, rel=1e-3)
    assert up == pytest.approx(0.0, abs=0.03)
    void = section(here, 1.0).void
    assert min(p[0] for p in void) == pytest.approx(-(section(here, 1.0).diameter_m / 2.0 - 0.03), abs=0.01)  # thin W


def test_a_thin_shell_breaks_first_and_the_neighbours_take_it_on() -> None:
    """2 cm of shell at 2 m: breaks there or within the metre it is taken on for."""
    result = stand(job(inspection={"test": [drilled("2 m", {"N": "2 cm", "E": "1.5 cm", "S": "2 cm", "W": "2 cm"})]}))
    assert result.breaks_first.startswith("stem at")
    assert abs(result.breaks_first_height_m - 2.0) <= 1.01
    assert "shell of the test at" in section(result, 1.5).note
    assert "taken as sound" in section(result, 4.5).note


def test_an_opening_takes_more() -> None:
    """The same holes with a 40 cm opening."""
    holes = drilled("1 m", {"N": "10 cm", "S": "10 cm", "W": "10 cm"})
    gap = {"kind": "opening", "height": "1 m", "side": "E", "width": "40 cm"}
    closed, opened = (stand(job(inspection={"test": tests})) for tests in ([holes], [holes, gap]))
    assert section(opened, 1.0).loss_of_strength > section(closed, 1.0).loss_of_strength + 0.1
    assert section(opened, 1.0).wall == ""


def test_a_trace_gives_its_shell() -> None:
    """8 cm of sound wood in the trace, in the words and in the section."""
    depth = np.arange(0.0, 300.0, 1.0)
    noise = np.random.default_rng(2).normal(0.0, 2.0, depth.size)
    lines = [f"{d:.0f},{max(v, 0):.1f}" for d, v in zip(depth, np.where(depth < 80, 55, 6) + noise, strict=True)]
    trace = "depth_mm,resistance\n" + "\n".join(lines)
    result = stand(
        job(inspection={"test": [{"kind": "drilling", "height": "1 m", "side": "N", "trace": trace, "id": "T1"}]})
    )
    (read,) = result.tests
    assert read.shell_m is not None
    assert read.shell_m.likely == pytest.approx(0.08, abs=0.003)
    assert "falls below" in read.words
    assert section(result, 1.0).shell[0][1] == pytest.approx(0.08, abs=0.003)
    assert any("one hole" in note for note in result.notes)


def test_a_pull_test_replaces_the_band() -> None:
    """20 kN at 8 m for a quarter of a degree: 2.5 x 160 = 400 kN m (Forests 2023, 14(3):533)."""
    pulled = {"kind": "pull", "height": "8 m", "pull": "20 kN", "tilt": "0.25 deg"}
    result = stand(job(inspection={"test": [pulled]}))
    assert result.roots.measured
    assert result.roots.capacity_Nm.likely == pytest.approx(400e3, rel=0.05)
    assert result.roots.status == "measured"
    loose = stand(job())
    assert result.roots.capacity_Nm.high / result.roots.capacity_Nm.low < (
        loose.roots.capacity_Nm.high / loose.roots.capacity_Nm.low
    )


def test_lost_roots_take_hold() -> None:
    """Half of the buttress roots gone: 30 % (Smiley 2008)."""
    whole, half = stand(job()), stand(job(standing={"roots_lost": "50 %"}))
    assert half.roots.capacity_Nm.likely / whole.roots.capacity_Nm.likely == pytest.approx(0.7, abs=0.02)
    assert half.roots.loss.likely == pytest.approx(0.30)


def test_a_mean_is_raised_once() -> None:
    """20 m/s of mean is a gust of 30.7 m/s; a gust is left alone."""
    mean = stand(job(standing={"design_gust": "20 m/s", "design_gust_is": "mean"}))
    assert mean.design_gust_m_s == pytest.approx(20.0 * 1.5337, rel=1e-4)
    assert stand(job()).design_gust_m_s == 30.0


def test_no_wind_set_is_the_published_one() -> None:
    """115 km/h: up to a fifth of mature trees down (Environment Canada)."""
    raw = {"height": "18 m", "crown_width": "10 m"}
    result = stand(job(standing={**raw, "design_gust": "115 km/h"}))
    assert result.design_gust_m_s == pytest.approx(115.0 / 3.6)
    bare = job()
    assert bare.standing is not None
    unset = bare.model_copy(update={"standing": bare.standing.model_copy(update={"design_gust": None})})
    assert stand(unset).design_gust_m_s == pytest.approx(115.0 / 3.6)
    assert "published table" in stand(unset).design_gust_why


def test_seasons() -> None:
    """Bare stands more wind than in leaf; ice weighs, and stands less; wet weighs more than dry."""
    leaf, bare, wet, ice = (stand(job(standing={"season": s})) for s in ("in leaf", "bare", "wet", "iced"))
    assert bare.gust_m_s.likely > leaf.gust_m_s.likely > ice.gust_m_s.likely
    assert bare.mass_kg.likely < leaf.mass_kg.likely < wet.mass_kg.likely < ice.mass_kg.likely


def test_rough_ground_shelters() -> None:
    """The same gust at the station is less at the tree in a suburb."""
    assert stand(job(standing={"terrain": "suburb"})).gust_m_s.likely > stand(job()).gust_m_s.likely


def test_lean_costs() -> None:
    """Own weight off the plumb is counted in the roots' moment."""
    plumb, leaning = stand(job()), stand(job(standing={"lean": "15 deg", "lean_towards": "E"}))
    assert leaning.roots.own_weight_Nm > 10.0 * max(plumb.roots.own_weight_Nm, 1.0)
    assert leaning.gust_m_s.likely < plumb.gust_m_s.likely
    assert leaning.worst_towards_deg == pytest.approx(90.0, abs=10.0)


def test_options_and_rating() -> None:
    """Cutting back raises the gust, taking off more raises it more; words come from the tables as chosen."""
    options = [
        {
            "id": f"{kind} {by}".replace(" %", " percent"),
            "kind": kind,
            "by": by,
            "failure": "possible",
            "impact": "high",
            "consequences": "severe",
        }
        for kind, by in (("reduce", "10 %"), ("reduce", "30 %"), ("thin", "10 %"), ("raise", "10 %"))
    ]
    options.append({"id": "down", "kind": "remove"})
    rating = {"failure": "probable", "impact": "high", "consequences": "severe", "option": options}
    result = stand(job(rating=rating))
    little, much, thin, raised, gone = result.judgement.options
    assert result.judgement.combined == "likely"
    assert result.judgement.rating == "high"
    assert (little.combined, little.rating) == ("somewhat likely", "moderate")
    assert gone.gust_m_s is None
    assert gone.rating is None
    assert little.gust_m_s is not None
    assert much.gust_m_s is not None
    assert thin.gust_m_s is not None
    assert raised.gust_m_s is not None
    assert much.gust_m_s.likely > little.gust_m_s.likely > result.gust_m_s.likely
    # reduction lowers the moment more than thinning or raising (Pavlis et al. 2008, Arboric. Urban For. 34(4))
    assert little.gust_m_s.likely > thin.gust_m_s.likely > result.gust_m_s.likely
    assert little.gust_m_s.likely > raised.gust_m_s.likely


def test_no_choice_no_rating(plain: StandResult) -> None:
    """Nothing is rated in the assessor's place."""
    assert plain.judgement.rating is None
    assert plain.judgement.combined is None


def test_targets_by_side_and_distance() -> None:
    """In the sector down the wind, in the circle off it, out of reach beyond."""
    targets = [
        {"id": "a", "what": "bench", "distance": "12 m", "towards": "E"},
        {"id": "b", "what": "shed", "distance": "12 m", "towards": "N"},
        {"id": "c", "what": "road", "distance": "60 m", "towards": "E"},
        {"id": "d", "what": "bed", "distance": "2 m", "towards": "S"},
    ]
    found = {
        t.id: t.reach
        for t in stand(job(target=targets, standing={"wind_from": "W", "lean": "8 deg", "lean_towards": "E"})).targets
    }
    assert found == {"a": "in the sector", "b": "in the circle", "c": "out of reach", "d": "under the crown"}


def test_signs_without_a_hole_are_not_enough() -> None:
    """A conk and a dull sound, and nobody drilled."""
    seen = [{"group": "stem", "what": "conk", "state": "seen"}]
    dull = [{"kind": "sounding", "height": "1 m", "sound": "dull"}]
    result = stand(job(inspection={"observation": seen, "test": dull}))
    assert result.status == "not enough known"
    assert "conk" in result.words
    stem = next(group for group in result.looked if group.group == "stem")
    assert stem.seen == ("conk",)
    assert "conk" not in stem.not_recorded
    assert "crack" in stem.not_recorded


def test_could_not_see_is_carried() -> None:
    """To the result, group by group."""
    hidden = [{"group": "roots", "what": "root flare", "state": "could not see"}]
    looked = stand(job(inspection={"observation": hidden})).looked
    assert looked[0].could_not_see == ("root flare",)


def test_look_back_on_a_thin_stem() -> None:
    """Sound it needed more; the thin side shows in the hole that hits it; opinion kept apart."""
    failure = {
        "kind": "stem", "height": "1 m", "diameter": "60 cm",
        "shells": {"N": "3 cm", "E": "2 cm", "S": "3 cm", "W": "9 cm"},
        "gust": "45 m/s", "wind_from": "W", "station": "airfield", "opinion": "old wound", "evidence": ["photo 1"],
    }  # fmt: skip
    back = stand(job(failure=failure)).look_back
    assert back is not None
    assert back.needed_m_s.likely < back.needed_sound_m_s.likely
    assert back.recorded_m_s == 45.0
    assert back.answer in ("explained by the gust", "within the spread")
    shown = {show.sides_deg: show for show in back.would_have_shown}
    assert shown[(90.0,)].thinnest_share < shown[(270.0,)].thinnest_share
    assert shown[(90.0,)].over_shell_rule
    assert shown[(0.0, 90.0, 180.0, 270.0)].loss == pytest.approx(back.loss_of_strength, abs=0.01)
    assert (back.opinion, back.evidence) == ("old wound", ("photo 1",))


def test_look_back_on_sound_wood_in_little_wind() -> None:
    """A sound stem in a breeze: the gust does not account for it, and it says so."""
    back = stand(job(failure={"kind": "stem", "height": "1 m", "gust": "10 m/s"})).look_back
    assert back is not None
    assert back.answer == "failed below the gust computed"
    assert "weaker than measured" in back.words


def test_look_back_on_roots() -> None:
    """Half rotten roots need less."""
    back = stand(job(failure={"kind": "roots", "roots_rotten": "50 %"})).look_back
    assert back is not None
    assert back.needed_m_s.likely < back.needed_sound_m_s.likely
    assert back.answer == "not enough known"


def test_roots_found_lost_after_are_not_taken_off_twice() -> None:
    """What the inspection before had written gives way; a pull test felt the lost roots already."""
    rotten = {"kind": "roots", "roots_rotten": "50 %"}
    once = stand(job(failure=rotten)).look_back
    twice = stand(job(standing={"roots_lost": "50 %"}, failure=rotten)).look_back
    before = stand(job(standing={"roots_lost": "50 %"}, failure={"kind": "roots"})).look_back
    assert once is not None
    for other in (twice, before):
        assert other is not None
        assert other.loss_of_strength == pytest.approx(0.30)
        assert other.needed_m_s.likely == pytest.approx(once.needed_m_s.likely, rel=0.02)
        assert other.needed_sound_m_s.likely == pytest.approx(once.needed_sound_m_s.likely, rel=0.02)
    pull = {"test": [{"kind": "pull", "height": "8 m", "pull": "8 kN", "tilt": "0.25 deg"}]}
    pulled = stand(job(inspection=pull, failure=rotten))
    assert pulled.look_back is not None
    assert pulled.look_back.needed_m_s.likely == pytest.approx(pulled.roots.gust_m_s.likely)
    assert pulled.look_back.needed_sound_m_s.likely > pulled.roots.gust_m_s.likely


def test_plate_weight_stands_beside() -> None:
    """Peltola et al. 1999, only where the plate's size was told."""
    assert stand(job()).roots.plate_Nm is None
    given = stand(job(standing={"plate_diameter": "2.4 m", "plate_depth": "0.8 m"}))
    assert given.roots.plate_Nm == pytest.approx(151.4e3, rel=1e-3)
    assert any(row.path == "density of the root plate" and row.status == "from memory" for row in given.filled_in)


def test_measuring_narrows() -> None:
    """With the crown photographed and a pull test, the answer is tighter, and both fall in the list."""
    wide = stand(job())
    pulled = {"kind": "pull", "height": "8 m", "pull": "8 kN", "tilt": "0.25 deg"}
    tight = stand(job(standing={"crown_filled": "70 % ± 3 %"}, inspection={"test": [pulled]}))
    assert np.log(tight.gust_m_s.high / tight.gust_m_s.low) < np.log(wide.gust_m_s.high / wide.gust_m_s.low)
    assert wide.narrows[0].name == "what the roots hold"
    assert wide.narrows[0].share == max(item.share for item in wide.narrows)


@pytest.mark.parametrize(
    ("changes", "word"),
    [
        ({"standing": {"lean": "90 deg", "lean_towards": "N"}}, "lies is described"),
        ({"standing": {"lean": "5 deg"}}, "to which side"),
        ({"standing": {"crown_base": "20 m"}}, "not below the top"),
        ({"standing": {"ice": "1 cm"}}, "season"),
        ({"standing": {"sweep": "9 m", "lean_towards": "N"}}, "sweep of"),
        ({"standing": {"crown_offset": "17 m", "crown_towards": "N"}}, "crown offset of"),
        ({"tree": {"stem": [{"at": "1.3 m", "diameter": "40 cm"}]}}, "along the stem"),
        ({"inspection": {"test": [drilled("1 m", {"N": "0 cm", "S": "0 cm"})]}}, "No sound wood"),
        ({"inspection": {"test": [drilled("1 m", {"N": "40 cm"}, diameter="60 cm")]}}, "more than half"),
        ({"inspection": {"test": [drilled("30 m", {"N": "4 cm"})]}}, "above the top"),
        ({"inspection": {"test": [{"kind": "drilling", "height": "1 m"}]}}, "has to say"),
        ({"inspection": {"test": [{"kind": "pull", "pull": "1 kN"}]}}, "pull test needs"),
        ({"inspection": {"test": [drilled("1 m", {"N": "4 cm", "0 deg": "5 cm"})]}}, "same side"),
        ({"inspection": {"test": [drilled("1 m", {"up": "4 cm"})]}}, "point of the compass"),
        ({"rating": {"target": "barn"}}, "no target"),
        ({"rating": {"option": [{"id": "x", "kind": "reduce"}]}}, "how much"),
        ({"rating": {"option": [{"id": "x", "kind": "remove", "by": "10 %"}]}}, "takes none"),
        ({"failure": {"kind": "stem"}}, "what height"),
    ],
)
def test_contradictions_get_a_sentence(changes: dict[str, Any], word: str) -> None:
    """At the door, with the path."""
    with pytest.raises(JobFaults, match=word) as fault:
        job(**changes)
    assert all(f.path for f in fault.value.faults)


@pytest.mark.parametrize(
    ("test", "word"),
    [
        (drilled("1 m", {"N": "40 cm"}), "more than the radius"),
        ({"kind": "drilling", "height": "1 m", "side": "N", "trace": "1,2\n2,3"}, "unit"),
        ({"kind": "drilling", "height": "1 m", "side": "N", "trace": "depth_mm,resistance\n1,x"}, "Line 2"),
        ({"kind": "drilling", "height": "1 m", "side": "N", "trace": "depth_mm,resistance\n1,2\n2,3"}, "too short"),
    ],
)
def test_what_shows_only_on_the_tree_gets_a_sentence(test: dict[str, Any], word: str) -> None:
    """Readings against the stem, and traces, with the path of the test."""
    with pytest.raises(BadInput, match=word) as fault:
        stand(job(inspection={"test": [test]}))
    assert fault.value.path.startswith("inspection.test[0]")


def test_without_a_standing_table() -> None:
    """Not enough known, not a traceback."""
    bare = job().model_copy(update={"standing": None})
    with pytest.raises(NotEnoughKnown, match="standing"):
        stand(bare)


def test_a_tree_that_stands_everything_names_the_nearer_to_failing() -> None:
    """A stout bare bole with a small crown: no gust looked at brings it down, and something is still named first."""
    result = stand(
        job(
            tree={"dbh": "1.5 m"}, standing={"height": "9 m", "crown_width": "2 m", "season": "bare", "terrain": "city"}
        )
    )
    assert result.gust_m_s.likely == 100.0
    assert result.breaks_first


def test_season_sets_the_leaves_of_named_limbs() -> None:
    """A limb written without leaves carries them in leaf and loses them bare; one without twigs stays so."""
    limb = {"id": "L1", "at": "4 m", "clock": 6, "angle": "60 deg", "length": "5 m", "diameter": "20 cm"}
    stem = [{"at": "0 m", "diameter": "60 cm"}, {"at": "6 m", "diameter": "45 cm"}]
    leaf, bare = (stand(job(tree={"limb": [limb], "stem": stem}, standing={"season": s})) for s in ("in leaf", "bare"))
    assert leaf.roots.own_weight_Nm > bare.roots.own_weight_Nm
    dead = stand(job(tree={"limb": [{**limb, "foliage": "none"}], "stem": stem}))
    assert dead.roots.own_weight_Nm < bare.roots.own_weight_Nm


def test_what_the_document_takes_is_listed() -> None:
    """Season and wind form not written: both told as filled in; the terrain written is not."""
    paths = {row.path for row in stand(job()).filled_in}
    assert {"standing.season", "standing.wind_form"} <= paths
    assert "standing.terrain" not in paths


def test_the_broken_section_counts_as_tested() -> None:
    """Measured after the failure, it is where the tree breaks first, and the answer says so."""
    shells = {"N": "2 cm", "E": "1.5 cm", "S": "2 cm", "W": "2 cm"}
    result = stand(job(failure={"kind": "stem", "height": "1 m", "shells": shells}))
    broken = section(result, 1.0)
    assert broken.measured
    assert result.look_back is not None
    assert broken.loss_of_strength == pytest.approx(result.look_back.loss_of_strength, rel=1e-9)
    assert any("at the break" in note for note in result.notes)
    assert result.breaks_first.startswith("stem at")
