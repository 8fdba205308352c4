"""What stands beside the answer: seasons, shelter, what measuring would leave, what was hidden, look back on limbs."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from bolewright.job.faults import JobFaults
from bolewright.planning.standing.looked import LookBack
from bolewright.planning.standing.seasons import in_every_season
from bolewright.planning.standing.stand import stand

from .jobs import job

STEM = [{"at": "0 m", "diameter": "60 cm"}, {"at": "6 m", "diameter": "45 cm"}]
TWIN = {"id": "twin", "at": "5 m", "clock": 3, "angle": "20 deg", "length": "11 m", "diameter": "40 cm"}


def back(failure: dict[str, Any], **more: Any) -> LookBack:
    """The look back on a failure of the plain tree with one codominant stem."""
    found = stand(job(tree={"stem": STEM, "limb": [TWIN]}, failure=failure, **more)).look_back
    assert found is not None
    return found


def test_every_season() -> None:
    """Bare stands the most; the season written is marked, and is the same answer as that of the record itself."""
    plain = job(tree={"stem": STEM, "limb": [TWIN]})
    found = {s.season: s for s in in_every_season(plain)}
    assert found["bare"].gust_m_s.likely > found["in leaf"].gust_m_s.likely > found["iced"].gust_m_s.likely
    assert [s.season for s in found.values() if s.judged] == ["in leaf"]
    assert found["in leaf"].gust_m_s == stand(plain).gust_m_s
    iced, bare = found["iced"].limb_share, found["bare"].limb_share
    assert iced is not None
    assert bare is not None
    assert iced.likely > bare.likely


def test_a_photograph_counts_for_its_own_season() -> None:
    """80 % in leaf: bare is as bare as without the photograph."""
    with_photo = {s.season: s.gust_m_s for s in in_every_season(job(standing={"crown_filled": "80 %"}))}
    without = {s.season: s.gust_m_s for s in in_every_season(job())}
    assert with_photo["bare"] == without["bare"]
    assert with_photo["wet"].likely < without["wet"].likely


def test_shelter_by_hand() -> None:
    """Half the speed taken, exactly: twice the gust; common practice where nothing is written; none without trees."""
    plain = stand(job())
    assert plain.shelter is None
    half = stand(job(standing={"neighbours": "lost", "shelter": "50 %"}))
    assert half.shelter is not None
    assert half.shelter.gust_m_s.likely == pytest.approx(2.0 * plain.gust_m_s.likely, rel=1e-6)
    assert half.gust_m_s == plain.gust_m_s
    usual = stand(job(standing={"neighbours": "standing"}))
    assert usual.shelter is not None
    assert not usual.shelter.given
    assert any(row.path == "standing.shelter" and row.status == "common practice" for row in usual.filled_in)


def test_what_a_measurement_would_leave() -> None:
    """A pull test narrows: the range left is narrower than the range now, the most for the one worth most."""
    plain = stand(job())
    measured = [item for item in plain.narrows if item.measurable and item.then_m_s is not None]
    assert len(measured) == 3
    assert not [item for item in plain.narrows if item.measure.startswith("nothing") and item.measurable]

    def width(gust: Any) -> float:
        return float(np.log(gust.high / gust.low))

    first = measured[0]
    assert first.share == max(item.share for item in measured)
    assert width(first.then_m_s) < width(plain.gust_m_s)
    assert width(first.then_m_s) == min(width(item.then_m_s) for item in measured)


def test_what_was_hidden_says_what_it_leaves_open() -> None:
    """In the notes, with the thing named."""
    hidden = [{"group": "roots", "what": "root flare", "state": "could not see", "side": "E"}]
    notes = stand(job(inspection={"observation": hidden})).notes
    assert any("root flare (E)" in note and "band alone" in note for note in notes)


def test_look_back_on_a_union() -> None:
    """Included bark: it needed less than the same limb grown sound; the loss is that of the union."""
    seen = {"union": [{"limb": "twin", "bark": "included"}]}
    found = back({"kind": "union", "limb": "twin", "gust": "40 m/s", "wind_from": "W"}, inspection=seen)
    assert found.limb == "twin"
    assert found.needed_m_s.likely < found.needed_sound_m_s.likely
    assert found.loss_of_strength == pytest.approx(1.0 - 0.74 * 0.76)
    assert found.answer in ("explained by the gust", "within the spread", "failed below the gust computed")


def test_look_back_on_a_rotten_branch() -> None:
    """A 3 cm shell measured in the broken section."""
    found = back({"kind": "branch", "limb": "twin", "diameter": "40 cm", "shell": "3 cm", "gust": "30 m/s"})
    assert found.loss_of_strength is not None
    assert found.loss_of_strength > 0.3
    assert found.needed_m_s.likely < found.needed_sound_m_s.likely


def test_a_limb_not_named_is_not_known() -> None:
    """Kept as measured, nothing reckoned."""
    found = back({"kind": "branch", "gust": "30 m/s"})
    assert found.answer == "not enough known"
    assert "not named" in found.words


def test_roots_one_by_one() -> None:
    """10 cm rotten beside 10 cm snapped: half of the section; Smiley 2008: 30 % of the hold."""
    roots = [
        {"diameter": "10 cm", "state": "rotten", "side": "W"},
        {"diameter": "8 cm", "state": "snapped"},
        {"diameter": "6 cm", "state": "pulled out"},
    ]
    found = back({"kind": "roots", "root": roots})
    assert found.roots_lost == pytest.approx(0.5)
    assert found.loss_of_strength == pytest.approx(0.30)
    assert found.needed_m_s.likely < found.needed_sound_m_s.likely


@pytest.mark.parametrize(
    ("changes", "word"),
    [
        ({"standing": {"shelter": "20 %"}}, "needs its trees"),
        ({"standing": {"neighbours": "none", "shelter": "20 %"}}, "needs its trees"),
        (
            {"failure": {"kind": "roots", "roots_rotten": "80 %", "root": [{"diameter": "9 cm", "state": "snapped"}]}},
            "Root by root 0%",
        ),
    ],
)
def test_contradictions_get_a_sentence(changes: dict[str, Any], word: str) -> None:
    """At the door."""
    with pytest.raises(JobFaults, match=word):
        job(**changes)
