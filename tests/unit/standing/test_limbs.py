"""Limbs and unions from job to answer."""

from __future__ import annotations

from typing import Any

import pytest

from bolewright.job.faults import JobFaults
from bolewright.job.problems import missing
from bolewright.planning.standing.results import LimbStand, StandResult
from bolewright.planning.standing.stand import stand

from .jobs import job

STEM = [{"at": "0 m", "diameter": "60 cm"}, {"at": "6 m", "diameter": "45 cm"}]
LONG = {
    "id": "long",
    "at": "4 m",
    "clock": 6,
    "angle": "80 deg",
    "length": "8 m",
    "diameter": "20 cm",
    "foliage": "leaf",
}
TWIN = {
    "id": "twin",
    "at": "5 m",
    "clock": 3,
    "angle": "20 deg",
    "length": "11 m",
    "diameter": "40 cm",
    "foliage": "leaf",
}


def limbed(*limbs: dict[str, Any], **more: Any) -> StandResult:
    """The plain tree, bearing north, with limbs; unions, options and the rest as given."""
    tree = {"stem": STEM, "limb": list(limbs), "bearing": "0 deg", **more.pop("tree", {})}
    return stand(job(tree=tree, **more))


def union(limb: str, **more: Any) -> dict[str, Any]:
    """An inspection with one union."""
    return {"union": [{"limb": limb, **more}]}


def only(result: StandResult) -> LimbStand:
    """The one limb."""
    (limb,) = result.limbs
    return limb


@pytest.fixture(scope="module")
def long_limb() -> LimbStand:
    """A level limb 8 m long, nothing said about its union."""
    return only(limbed(LONG))


def test_where_it_grows(long_limb: LimbStand) -> None:
    """Clock 6 looks along the bearing, north; union at 4 m; it rises by cos 80 of its length."""
    assert long_limb.towards_deg == pytest.approx(0.0, abs=1.0)
    assert long_limb.tip_m[0] == pytest.approx(0.0, abs=0.05)
    assert long_limb.tip_m[1] == pytest.approx(7.88, abs=0.05)
    assert long_limb.tip_height_m == pytest.approx(4.0 + 1.39, abs=0.05)


def test_told_from_the_diameters(long_limb: LimbStand) -> None:
    """20 cm on a stem of 50: a branch; 40 on 47: codominant; both marked as not told, bark not known."""
    assert long_limb.union.form == "branch"
    assert not long_limb.union.form_told
    assert long_limb.union.bark == "not known"
    twin = only(limbed(TWIN)).union
    assert (twin.form, round(twin.aspect, 2)) == ("codominant", 0.84)


def test_own_weight_by_hand(long_limb: LimbStand) -> None:
    """Its mass, about 60 % of the way out, square to the limb, against pi d3/32 of the wood: the share told."""
    assert 0.05 < long_limb.own_share.likely < 0.6
    steep = only(limbed({**LONG, "angle": "15 deg"}))
    assert steep.own_share.likely < long_limb.own_share.likely  # nearly plumb: little of its weight bends it


def test_included_bark_breaks_in_less() -> None:
    """None, partly grown over, included: ever less; the source travels."""
    found = [
        only(limbed(TWIN, inspection=union("twin", bark=bark))) for bark in ("none", "partly grown over", "included")
    ]
    gusts = [limb.gust_m_s.likely for limb in found]
    assert gusts[0] > gusts[1] > gusts[2]
    assert found[2].breaks == "at its union"
    assert "Slater and Ennos 2015" in found[2].union.source
    assert found[2].union.status == "estimate"


def test_a_split_union_is_not_known() -> None:
    """No sign of failing may be read into it either way."""
    result = limbed({**LONG, "length": "3 m"}, inspection=union("long", split="6 mm", bark="none"))
    assert only(result).status == "not enough known"
    assert "open crack" in only(result).union.note
    assert result.status in ("not enough known", "outside")
    closed = limbed({**LONG, "length": "3 m"}, inspection=union("long", split="0 mm", bark="none"))
    assert only(closed).status == "inside"


def test_a_weak_limb_makes_it_outside() -> None:
    """The tree stands, a far too long limb does not: outside, and named."""
    gentle = {"design_gust": "18 m/s"}
    assert limbed(standing=gentle).status == "inside"
    result = limbed({**LONG, "length": "14 m", "diameter": "13 cm"}, standing=gentle)
    assert result.status == "outside"
    assert "long" in result.words


def test_decay_along_a_limb_takes_strength() -> None:
    """A shell of 2 cm from the union on."""
    decay = {"decay": [{"member": "long", "from": "0 m", "to": "3 m", "shell": "2 cm"}]}
    assert only(limbed(LONG, tree=decay)).gust_m_s.likely < only(limbed(LONG)).gust_m_s.likely


def test_ice_weighs_on_limbs() -> None:
    """Own weight takes more of the union iced than bare; wet more than dry."""
    share = {s: only(limbed(LONG, standing={"season": s})).own_share.likely for s in ("bare", "iced", "in leaf", "wet")}
    assert share["iced"] > share["bare"]
    assert share["wet"] > share["in leaf"]


def test_what_lies_under_it() -> None:
    """A bench 5 m north under the limb, a shed 5 m east beside the tree: the limb comes down on the bench alone."""
    targets = [
        {"id": "bench", "what": "bench", "distance": "5 m", "towards": "N"},
        {"id": "shed", "what": "shed", "distance": "5 m", "towards": "E"},
    ]
    result = limbed(LONG, target=targets)
    assert only(result).over == ("bench",)
    assert {t.id: t.parts for t in result.targets} == {"bench": ("whole tree", "long"), "shed": ("whole tree",)}


def test_options_on_a_limb() -> None:
    """A prop takes weight off the union, a cut takes weight and wind, a line the pull outward: all stand more; what the
    prop carries lies between nothing and the limb's weight."""
    options = [
        {"id": "prop", "kind": "prop", "part": "long", "at": "5 m"},
        {"id": "cut", "kind": "reduce", "part": "long", "by": "30 %"},
        {"id": "line", "kind": "brace", "part": "long"},
    ]
    thin = {**LONG, "length": "9 m", "diameter": "14 cm"}
    result = limbed(thin, rating={"option": options}, standing={"design_gust": "18 m/s"})
    prop, cut, line = result.judgement.options
    before = only(result)
    for option in (prop, cut, line):
        assert option.part == "long"
        assert option.gust_m_s is not None
        assert option.gust_m_s.likely >= before.gust_m_s.likely - 1e-9
    assert cut.gust_m_s is not None
    assert cut.gust_m_s.likely > before.gust_m_s.likely
    assert prop.support_N is not None
    assert 0.0 < prop.support_N.likely < before.mass_kg.high * 9.80665
    assert line.support_at_m == pytest.approx(6.0)
    assert "two thirds" in line.words


def test_moving_a_target_and_taking_it_down() -> None:
    """The bench goes, the shed stays; with the tree gone nothing is left."""
    targets = [
        {"id": "bench", "what": "bench", "distance": "5 m", "towards": "N"},
        {"id": "shed", "what": "shed", "distance": "5 m", "towards": "E"},
    ]
    options = [
        {"id": "a", "kind": "move target", "target": "bench"},
        {"id": "b", "kind": "remove"},
        {"id": "c", "kind": "look again", "reinspect": "2027-01-01"},
    ]
    moved, gone, again = limbed(target=targets, rating={"option": options}).judgement.options
    assert moved.targets_left == ("shed",)
    assert gone.targets_left == ()
    assert again.targets_left == ("bench", "shed")
    assert again.reinspect == "2027-01-01"


def looked(*seen: tuple[str, str, str, str]) -> dict[str, Any]:
    """Observations by group, what, state and side."""
    rows = [{"group": g, "what": w, "state": s, **({"side": side} if side else {})} for g, w, s, side in seen]
    return {"inspection": {"observation": rows}}


@pytest.mark.parametrize(
    "changes",
    [
        looked(("stem", "crack", "not seen", "N"), ("stem", "crack", "seen", "S")),
        looked(("stem", "crack", "could not see", ""), ("stem", "crack", "seen", "S")),
        {**looked(("stem", "lean", "not seen", "")), "standing": {"lean": "1 deg", "lean_towards": "E"}},
    ],
)
def test_what_is_no_contradiction(changes: dict[str, Any]) -> None:
    """Seen on one side and not on another; seen where it could be; too little lean for the eye."""
    assert job(tree={"stem": STEM, "limb": [LONG]}, **changes).inspection is not None


@pytest.mark.parametrize(
    ("changes", "word"),
    [
        ({"inspection": union("none such")}, "no limb called"),
        ({"inspection": {"union": [{"limb": "long"}, {"limb": "long"}]}}, "described twice"),
        ({"rating": {"option": [{"id": "x", "kind": "prop", "part": "none such"}]}}, "no limb called"),
        ({"rating": {"option": [{"id": "x", "kind": "remove", "part": "long"}]}}, "not done to one limb"),
        ({"rating": {"option": [{"id": "x", "kind": "prop", "part": "long", "at": "9 m"}]}}, "beyond the tip"),
        ({"rating": {"option": [{"id": "x", "kind": "prop", "at": "3 m"}]}}, "write part too"),
        ({"rating": {"option": [{"id": "x", "kind": "move target", "target": "barn"}]}}, "no target"),
        ({"failure": {"kind": "branch", "limb": "none such"}}, "no limb called"),
        ({"failure": {"kind": "roots", "limb": "long"}}, "A limb is named"),
        (
            {
                "inspection": {
                    "observation": [
                        {"group": "stem", "what": "conk", "state": "seen"},
                        {"group": "stem", "what": "Conk", "state": "not seen"},
                    ]
                }
            },
            "written down both",
        ),
        (looked(("stem", "crack", "not seen", ""), ("stem", "Crack", "seen", "NE")), "but it was seen on side NE"),
        (
            {**looked(("stem", "lean", "not seen", "")), "standing": {"lean": "9 deg", "lean_towards": "E"}},
            'said to lean "9 deg"',
        ),
        (
            {
                "inspection": {
                    **looked(("stem", "dull sound", "not seen", ""))["inspection"],
                    "test": [{"kind": "sounding", "height": "1 m", "sound": "hollow"}],
                }
            },
            "it sounded hollow",
        ),
        (
            {"failure": {"kind": "stem", "height": "1 m", "diameter": "60 cm", "opening": "2 m", "opening_side": "N"}},
            "goes all round",
        ),
    ],
)
def test_contradictions_get_a_sentence(changes: dict[str, Any], word: str) -> None:
    """At the door, with the path."""
    with pytest.raises(JobFaults, match=word) as fault:
        job(tree={"stem": STEM, "limb": [LONG]}, **changes)
    assert all(f.path for f in fault.value.faults)


def test_a_day_to_look_again_that_is_past_is_told() -> None:
    """Left over from the last record: no fault of the file, but told by `check`."""
    old = job(inspection={"date": "2026-05-01"}, rating={"reinspect": "2025-05-01"})
    gap = next(gap for gap in missing(old, "stand") if gap.path == "rating.reinspect")
    assert not gap.needed
    assert "lies before the inspection" in gap.sentence
