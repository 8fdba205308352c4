"""A standing record that failed becomes the job of a tree that lies."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from bolewright.core.base.errors import NotEnoughKnown
from bolewright.job.read import from_tables, loads
from bolewright.job.write import dump_tables
from bolewright.planning import weigh
from bolewright.planning.standing.fallen import Fallen, fallen

from .jobs import drilled, job

STEM = [
    {"at": "0 m", "diameter": "60 cm"}, {"at": "2 m", "diameter": "55 cm"}, {"at": "10 m", "diameter": "30 cm"},
]  # fmt: skip
LIMBS = [
    {"id": "A", "at": "5 m", "clock": 3, "angle": "60 deg", "length": "5 m", "diameter": "16 cm", "foliage": "leaf"},
    {"id": "B", "on": "A", "at": "2 m", "clock": 12, "angle": "50 deg", "length": "2 m", "diameter": "8 cm"},
    {"id": "low", "at": "1 m", "clock": 6, "angle": "90 deg", "length": "2 m", "diameter": "6 cm"},
]
RING = {"N": "10 cm", "E": "18 cm", "S": "12 cm", "W": "4 cm"}


def failed(failure: dict[str, Any], **tree: Any) -> Fallen:
    """The plain tree, bearing north, failed."""
    return fallen(
        job(
            tree={"stem": STEM, "limb": LIMBS, "bearing": "0 deg", **tree},
            inspection={"date": "2026-01-10", "test": [drilled("3 m", RING)]},
            failure=failure,
        )
    )


def whole(found: Fallen) -> dict[str, Any]:
    """The tables once what is asked for has been measured."""
    tables = loads_raw(found)
    tables["tree"]["stem"][0]["height"] = "0.2 m"
    tables["tree"]["stem"][-1]["height"] = "1 m"
    if tables["tree"]["attached"] == "root plate":
        tables["tree"]["root_plate"] = {"diameter": "3 m", "thickness": "0.8 m"}
    tables["support"] = [{"id": "roof", "member": "stem", "at": "6 m", "on": "roof"}]
    return tables


def loads_raw(found: Fallen) -> dict[str, Any]:
    """The tables as the file gives them."""
    import tomllib

    return tomllib.loads(dump_tables(found.tables))


def test_roots_gave_way_nothing_is_lost() -> None:
    """All stations, all limbs, the tested ring as decay; once the asked is measured it is a job, and it weighs."""
    found = failed({"kind": "roots", "fell_towards": "N"})
    tree = found.tables["tree"]
    assert tree["attached"] == "root plate"
    assert [s["at"] for s in tree["stem"]] == ["0 m", "2 m", "10 m"]
    assert [limb["clock"] for limb in tree["limb"]] == [3.0, tree["limb"][1]["clock"], 6.0]
    read = from_tables(whole(found))
    assert weigh(read).total_kg.likely > 0.0
    assert read.tree.decay[0].readings is not None


def test_what_is_asked_comes_needed_first_and_is_what_lacks() -> None:
    """Heights, supports, the plate, and the stem beyond the last station; not the limbs, which are named."""
    asks = failed({"kind": "roots", "fell_towards": "N"}).asks
    needed = {ask.path: ask.sentence for ask in asks if ask.needed}
    assert set(needed) == {"tree.stem", "tree.stem[*].height", "support", "tree.root_plate"}
    assert "18 m" in needed["tree.stem"]
    bare = fallen(job(failure={"kind": "roots"}))
    assert "tree.stem" in {ask.path for ask in bare.asks if ask.needed}
    assert "tree.bearing" in {ask.path for ask in bare.asks}


def test_fell_the_other_way_turns_the_clocks() -> None:
    """Bearing north, fell east: the limb on the east side (3) is under the stem now, at 6; the wall towards north, 6 of
    the record, is at 9, left of the stem looking east."""
    found = failed({"kind": "roots", "fell_towards": "E"})
    tree = found.tables["tree"]
    assert tree["bearing"] == "90.0 deg"
    assert {limb["id"]: limb["clock"] for limb in tree["limb"] if limb.get("on") is None} == {"A": 6.0, "low": 9.0}
    (ring,) = tree["decay"]
    assert ring["readings"] == {"9": "10.0 cm", "6": "18.0 cm", "3": "12.0 cm", "12": "4.0 cm"}


def test_a_branch_on_a_limb_keeps_its_place_in_space() -> None:
    """B stands on top of A, which points right and up; laid over, what was up is forward: B points towards the tip."""
    found = failed({"kind": "roots", "fell_towards": "N"})
    a, b = (row for row in found.tables["tree"]["limb"] if row["id"] in "AB")
    assert (a["clock"], b["clock"]) == (3.0, 9.0)


def test_snapped_at_two_and_a_half_metres() -> None:
    """The part above: the break is the butt, stations and limbs count from it, the low limb stays on the stump."""
    found = failed({"kind": "stem", "height": "2.5 m", "diameter": "53 cm", "fell_towards": "N"})
    tree = found.tables["tree"]
    assert tree["attached"] == "hinge"
    assert tree["stem"] == [{"at": "0.00 m", "diameter": "53 cm"}, {"at": "7.50 m", "diameter": "30 cm"}]
    assert [limb["id"] for limb in tree["limb"]] == ["A", "B"]
    assert tree["limb"][0]["at"] == "2.50 m"
    assert tree["limb"][1]["at"] == "2 m"
    (ring,) = tree["decay"]
    assert (ring["from"], ring["to"]) == ("0.00 m", "1.50 m")
    assert weigh(from_tables(whole(found))).total_kg.likely > 0.0


def test_inches_stay_inches() -> None:
    """A record in feet and inches goes on in them."""
    stem = [{"at": "0 ft", "diameter": "24 in"}, {"at": "30 ft", "diameter": "12 in"}]
    found = fallen(
        job(
            tree={"stem": stem, "dbh": "23 in"},
            failure={"kind": "stem", "height": "6 ft"},
            standing={"height": "60 ft"},
        )
    )
    assert found.tables["tree"]["stem"][1]["at"] == "24 ft 0.0 in"


def test_a_limb_that_came_off() -> None:
    """It is the stem of a tree of its own; what grew on it grows on the stem."""
    found = failed({"kind": "branch", "limb": "A"})
    tree = found.tables["tree"]
    assert [s["at"] for s in tree["stem"]] == ["0.00 m", "5 m"]
    assert [(limb["id"], limb["on"]) for limb in tree["limb"]] == [("B", "stem")]
    tables = whole(found)
    tables["support"][0]["at"] = "3 m"
    assert weigh(from_tables(tables)).total_kg.likely > 0.0


def test_people_and_lines_are_asked_anew() -> None:
    """Nothing of the inspection's day: no crew, nobody out, no line off; inspection and failure stay as evidence."""
    found = fallen(
        job(
            job={
                "title": "Oak", "crew": ["A"], "people_out": True, "date": "2026-01-10",
                "utilities": [{"kind": "power", "state": "off"}],
            },
            inspection={"date": "2026-01-10"},
            failure={"kind": "roots"},
        )
    )  # fmt: skip
    facts = found.tables["job"]
    assert not {"crew", "people_out", "date"} & set(facts)
    assert facts["utilities"] == [{"kind": "power", "state": "unknown"}]
    assert found.tables["inspection"]["date"] == "2026-01-10"
    assert found.tables["failure"]["kind"] == "roots"
    loads(dump_tables({**found.tables, "tree": {**found.tables["tree"], "attached": "free"}}))


def test_the_weight_is_the_same_lying_or_standing() -> None:
    """Stem wood by volume: the stations carried over give the volume the record's stations give."""
    found = failed({"kind": "roots", "fell_towards": "N"})
    at = np.array([0.0, 2.0, 10.0])
    d = np.array([0.60, 0.55, 0.30])
    frusta = np.pi / 12.0 * np.diff(at) * (d[1:] ** 2 + d[1:] * d[:-1] + d[:-1] ** 2)
    tables = whole(found)
    del tables["tree"]["limb"], tables["tree"]["decay"]
    tables["tree"]["density"] = "1000 kg/m^3"
    tables["tree"]["attached"] = "free"
    del tables["tree"]["root_plate"]
    assert weigh(from_tables(tables)).total_kg.likely == pytest.approx(1000.0 * float(frusta.sum()), rel=0.03)


@pytest.mark.parametrize(("failure", "path"), [(None, "failure"), ({"kind": "branch"}, "failure.limb")])
def test_what_cannot_be_carried_over_gets_a_sentence(failure: dict[str, Any] | None, path: str) -> None:
    """Without [failure], or without the limb."""
    with pytest.raises(NotEnoughKnown) as fault:
        fallen(job(failure=failure) if failure else job())
    assert fault.value.path == path
