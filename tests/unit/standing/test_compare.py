"""Two inspections of one tree: what is told to have changed, and what is not."""

from __future__ import annotations

import math
from typing import Any

import pytest

from bolewright.job.model import Job
from bolewright.planning.standing.changes import Change, Comparison
from bolewright.planning.standing.compare import compare

from .jobs import drilled, job

RING = {"N": "12 cm", "E": "20 cm", "S": "12 cm", "W": "9 cm"}


def seen(what: str, state: str, group: str = "stem", **more: Any) -> dict[str, Any]:
    """An observation."""
    return {"group": group, "what": what, "state": state, **more}


def inspected(date: str, ring: dict[str, str] | None = None, observed: tuple[Any, ...] = (), **more: Any) -> Job:
    """The plain tree inspected on a day."""
    test = [drilled("1 m", ring, id="ring")] if ring else []
    return job(inspection={"date": date, "test": test, "observation": list(observed)}, **more)


def row(found: Comparison, what: str) -> Change:
    """The change of one thing."""
    return next(c for c in (*found.measured, *found.answers) if what in c.what)


@pytest.fixture(scope="module")
def thinner() -> Comparison:
    """Two years on: the west wall 9 to 3 cm, the east wall within a centimetre, a conk come out."""
    before = inspected("2024-05-01", RING, (seen("conk", "not seen"), seen("crack", "could not see")))
    after = inspected(
        "2026-05-01", {**RING, "W": "3 cm", "E": "19.5 cm"}, (seen("conk", "seen", side="W"), seen("crack", "not seen"))
    )
    return compare(before, after)


def test_a_wall_that_went_is_told(thinner: Comparison) -> None:
    """Six centimetres in two years with a centimetre either way each: changed, 3 cm a year."""
    west = row(thinner, "1.00 m (3 ft 3 in), W")
    assert west.verdict == "changed"
    assert west.change == pytest.approx(-0.06)
    assert west.per_year == pytest.approx(-0.03, rel=2e-3)
    assert west.usual_error


def test_half_a_centimetre_is_not_told(thinner: Comparison) -> None:
    """Within what two drills read."""
    assert row(thinner, "1.00 m (3 ft 3 in), E").verdict == "within the measurement"


def test_the_section_follows(thinner: Comparison) -> None:
    """Strength lost at the ring rises, beyond the error of the depths."""
    lost = row(thinner, "strength lost")
    assert lost.before is not None
    assert lost.after is not None
    assert lost.after.low > lost.before.high
    assert lost.verdict == "changed"


def test_observations_step_by_step(thinner: Comparison) -> None:
    """A new conk; a crack hidden then and looked at now."""
    by_name = {w.what: w for w in thinner.observations}
    assert (by_name["conk"].words, by_name["conk"].changed) == ("new", True)
    assert by_name["crack"].words == "looked at now, hidden then"
    assert any("Seen now and not then: conk" in sentence for sentence in thinner.words)


def test_the_same_record_twice() -> None:
    """Nothing changed, the ratio of the gusts lies round 1, and it is said that no difference can be told."""
    found = compare(inspected("2024-05-01", RING), inspected("2026-05-01", RING))
    assert all(c.verdict == "within the measurement" for c in found.measured)
    assert found.gust_ratio.low < 1.0 < found.gust_ratio.high
    assert found.stands == "no difference that can be told"
    assert found.years == pytest.approx(2.0, abs=0.01)


def test_shared_unknowns_cancel() -> None:
    """The ratio is far narrower than the two answers side by side would let one think."""
    found = compare(inspected("2024-05-01", RING), inspected("2026-05-01", RING))
    one = math.log(found.later.gust_m_s.high / found.later.gust_m_s.low)
    ratio = math.log(found.gust_ratio.high / found.gust_ratio.low)
    assert ratio < 0.5 * math.sqrt(2.0) * one  # two independent answers: their log spreads add as squares


def test_a_crown_cut_back_stands_more() -> None:
    """From 18 to 13 m: more wind than then, beyond the errors of both."""
    found = compare(job(), job(standing={"height": "13 m"}))
    assert found.stands == "more wind than then"
    assert row(found, "height of the tree").verdict == "changed"


def test_a_section_lost_stands_less() -> None:
    """A thin shell all round where there was 20 cm."""
    thin = dict.fromkeys("NESW", "1.5 cm")
    found = compare(inspected("2024-05-01", dict.fromkeys("NESW", "20 cm")), inspected("2026-05-01", thin))
    assert found.stands == "less wind than then"
    assert found.gust_ratio.high < 1.0


def test_another_season_is_taken_alike() -> None:
    """In leaf then, bare now: compared bare, and a photograph of the leaves is not carried over."""
    found = compare(job(standing={"season": "in leaf", "crown_filled": "80 %"}), job(standing={"season": "bare"}))
    assert found.gust_ratio.low < 1.0 < found.gust_ratio.high
    assert any(words.startswith("season: bare") for words in found.conditions)
    assert any("share of the crown filled" in words for words in found.conditions)


def test_measured_once_only() -> None:
    """A ring drilled then and not again; a trench measured now only."""
    found = compare(inspected("2024-05-01", RING), inspected("2026-05-01", standing={"trench": "1 m"}))
    assert row(found, "sound wood").verdict == "only then"
    assert row(found, "trench").verdict == "only now"
    assert any("Measured then and not again" in sentence for sentence in found.words)


def test_doubts() -> None:
    """Another species, the wrong order, a stem that shrank, two people."""
    before = job(inspection={"date": "2026-05-01", "inspector": "A"}, tree={"species": "red maple", "dbh": "80 cm"})
    after = job(inspection={"date": "2024-05-01", "inspector": "B"})
    doubts = " ".join(compare(before, after).doubts)
    for word in ("the same tree", "change the order", "shrunk", "Two people"):
        assert word in doubts


def test_due_and_rating() -> None:
    """Asked for by May, done in June; possible became probable."""
    words = {"impact": "medium", "consequences": "severe"}
    before = inspected("2025-05-01", rating={"failure": "possible", "reinspect": "2026-05-01", **words})
    after = inspected("2026-06-01", rating={"failure": "probable", **words})
    found = compare(before, after)
    assert "31 days after" in found.due
    by_name = {w.what: w for w in found.rating}
    assert (by_name["failure"].before, by_name["failure"].after, by_name["failure"].changed) == (
        "possible", "probable", True,
    )  # fmt: skip
    assert not by_name["impact"].changed


def test_targets_come_and_go() -> None:
    """A bench set up, a shed gone."""
    shed = {"id": "shed", "what": "shed", "distance": "5 m", "towards": "N"}
    bench = {"id": "bench", "what": "bench", "distance": "5 m", "towards": "S"}
    found = {w.what: w.words for w in compare(job(target=[shed]), job(target=[bench])).targets}
    assert found == {"shed": "gone", "bench": "new"}


def test_one_thing_on_two_sides() -> None:
    """Conks on two sides then and on one now: neither is dropped, and it is not called as then."""
    two = [{"group": "roots", "what": "conk", "state": "seen", "side": side} for side in ("N", "W")]
    found = compare(job(inspection={"observation": two}), job(inspection={"observation": two[1:]}))
    (change,) = found.observations
    assert (change.before, change.after) == ("seen: N; seen: W", "seen: W")
    assert change.changed
