"""What is read on the way picks among the trees that could be lying there."""

from __future__ import annotations

import numpy as np
import pytest
from tests.unit.planning.invented import LENGTH, PER_METRE, Tables, job, log, post, saddle

from bolewright import planning
from bolewright.core.base.errors import BadInput, NotEnoughKnown
from bolewright.core.base.range import Range
from bolewright.core.contact.samples import NORMAL_95
from bolewright.planning.results import Learnt

GRAVITY = 9.80665
MASS = PER_METRE * LENGTH / GRAVITY


def read(tables: Tables, *readings: Tables, done: list[Tables] | None = None) -> planning.results.HoldResult:
    """What holds the log with these readings."""
    return planning.hold(job({**tables, "reading": list(readings), "done": done or []}))


def two_posts() -> Tables:
    """A log on two supports: the lever gives both forces, whatever gives."""
    tables = log([saddle("near", 1.0, "ground"), saddle("far", 9.0, "wall")], cuts=[5.0])
    tables["tree"]["density"] = "700..900..1157 kg/m3"  # a factor of 1.286 either way
    tables["limits"] = {"samples": 512}
    return tables


def test_a_weighed_piece_is_weighted_by_precision() -> None:
    """Normal prior and normal reading: the middle lies between them by their precisions, and the precisions add
    (Gelman et al., Bayesian Data Analysis, 3rd ed. 2013, eq. 2.11 and 2.12). The factor of density and size is normal
    in its logarithm, and so is a small error of the scale."""
    heavier = 1.12
    found = read(two_posts(), {"on": "S2", "mass": f"{heavier * MASS / 2:.2f} kg ± 8 %"})
    learnt: Learnt = found.learnt[0]
    prior = np.log(learnt.foreseen.high / learnt.foreseen.low) / (2 * NORMAL_95)
    scale = 0.08 / NORMAL_95
    share = prior**-2 / (prior**-2 + scale**-2)
    middle = np.exp(share * np.log(learnt.foreseen.likely) + (1 - share) * np.log(heavier * MASS / 2))
    spread = (prior**-2 + scale**-2) ** -0.5
    assert learnt.now.likely == pytest.approx(middle, rel=0.015)
    assert np.log(learnt.now.high / learnt.now.low) / (2 * NORMAL_95) == pytest.approx(spread, rel=0.15)
    assert learnt.foreseen.likely == pytest.approx(MASS / 2, rel=0.02)


def test_a_weighed_piece_tells_of_the_rest() -> None:
    """All wood of a tree has one density: a heavy log makes the supports carry more, by the lever in the same ratio."""
    plain = {s.id: s.force_N for s in read(two_posts()).supports}
    weighed = {"on": "S2", "mass": f"{1.1 * MASS / 2:.2f} kg ± 1 %"}
    heavy = {s.id: s.force_N for s in read(two_posts(), weighed).supports}
    for name in ("near", "far"):
        assert heavy[name].likely / plain[name].likely == pytest.approx(1.1, abs=0.015)
        assert heavy[name].high - heavy[name].low < 0.25 * (plain[name].high - plain[name].low)


def test_a_jack_that_was_read_settles_how_three_posts_share() -> None:
    """Three supports share in any way; with one known, the lever gives the other two."""
    tables = log(
        [
            saddle("near", 1.0, "ground"),
            post("middle", 5.0, "ground", stiffness="2 kN/mm"),
            saddle("far", 9.0, "wall"),
        ]
    )
    tables["limits"] = {"samples": 512}
    weight = PER_METRE * LENGTH
    found = {s.id: s.force_N for s in read(tables, {"on": "middle", "force": f"{0.3 * weight:.0f} N ± 2 %"}).supports}
    assert found["middle"].likely == pytest.approx(0.3 * weight, rel=0.02)
    for name in ("near", "far"):
        assert found[name].likely == pytest.approx(0.35 * weight, rel=0.06)


def test_what_it_sank_by_after_a_cut() -> None:
    """A post of 0.5 kN/mm that loses load comes up by the loss over its stiffness (Hooke), so a rise that was read
    picks the samples with that stiffness."""
    tables = log(
        [saddle("near", 2.0, "ground", stiffness="20 kN/mm"), post("far", 8.0, "wall", stiffness="0.5 kN/mm")],
        cuts=[8.5],
    )
    done = [{"at": "8.5 m"}]
    lost = PER_METRE * 1.5 * (9.25 - 2.0) / 6.0
    expected = lost / 0.5e6
    reading = {"on": "far", "after": 1, "settled": f"{1000 * expected:.3f} mm ± 20 %", "rose": True}
    learnt = read(tables, reading, done=done).learnt[0]
    assert learnt.foreseen.likely == pytest.approx(expected, rel=0.03)
    assert learnt.now.high - learnt.now.low <= learnt.foreseen.high - learnt.foreseen.low


def test_what_no_tree_could_show_stops_the_work() -> None:
    """Half the log again on one support: refused with what was foreseen, never fitted."""
    with pytest.raises(NotEnoughKnown, match="Stop and look again") as told:
        read(two_posts(), {"on": "far", "force": f"{4 * PER_METRE * LENGTH:.0f} N ± 2 %"})
    assert told.value.path == "reading[0]"


def test_readings_at_what_is_not_there() -> None:
    """A piece that is none, and a support whose wood is off by then."""
    with pytest.raises(BadInput, match="no piece S9"):
        read(two_posts(), {"on": "S9", "mass": "100 kg"})
    tables = two_posts()
    with pytest.raises(BadInput, match="not there any more"):
        read(tables, {"on": "far", "after": 1, "force": "1 kN"}, done=[{"at": "5 m"}])


def test_a_spread_that_was_not_given_is_filled_in_and_told() -> None:
    """Marked as filled in, with the range it stands for."""
    found = read(two_posts(), {"on": "S1", "mass": f"{MASS / 2:.1f} kg"})
    learnt = found.learnt[0]
    assert learnt.read is not None
    assert (learnt.read.high - learnt.read.likely) / learnt.read.likely == pytest.approx(0.03)
    assert any(f.path == "reading[0].mass" and f.value == "± 3 %" for f in found.filled_in)
    assert isinstance(learnt.foreseen, Range)
