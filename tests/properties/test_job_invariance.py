"""The same tree told differently gets the same answers: turned, mirrored, in inches or in millimetres."""

from __future__ import annotations

import copy
import re
from collections.abc import Callable
from typing import Any

import pytest

from bolewright.job.model import Job
from bolewright.job.read import from_tables
from bolewright.planning import cuts, hold, weigh
from bolewright.planning.results import CutsResult, HoldResult

Tables = dict[str, Any]
SAME = 1e-6  # of the value: rounding of sums in another order; nothing else differs

JOB: Tables = {
    "schema": 1,
    "job": {"title": "Maple across a garage"},
    "tree": {
        "species": "red maple",
        "attached": "free",
        "bearing": "40 deg",
        "stem": [
            {"at": "0 in", "diameter": "20 in", "height": "6 in"},
            {"at": "160 in", "diameter": "16 in", "height": "54 in", "offset": "10 in"},
            {"at": "400 in", "diameter": "8 in", "height": "126 in", "offset": "16 in"},
        ],
        "limb": [
            {"id": "L1", "at": "140 in", "clock": 4.5, "angle": "75 deg", "length": "100 in", "diameter": "7 in"},
            {"id": "L2", "at": "160 in", "clock": 8, "angle": "70 deg", "length": "110 in", "diameter": "6 in"},
            {"id": "L3", "at": "300 in", "clock": 2, "angle": "50 deg", "length": "120 in", "diameter": "5 in"},
        ],
        "decay": [{"member": "stem", "from": "0 in", "to": "50 in", "readings": {"12": "6 in", "3": "3 in"}}],
    },
    "support": [
        {"id": "butt", "at": "12 in", "on": "ground"},
        {"id": "wall", "at": "290 in", "on": "wall", "tolerance": "3 in"},
        {"id": "L1 down", "member": "L1", "at": "95 in", "on": "ground"},
        {"id": "L2 down", "member": "L2", "at": "100 in", "on": "ground", "gap": "1 in"},
    ],
    "line": [
        {
            "id": "tie",
            "at": "200 in",
            "kind": "tie-back",
            "anchor": {"forward": "100 in", "right": "200 in", "height": "20 in"},
        }
    ],
    "building": [
        {"id": "garage", "near": "280 in", "far": "500 in", "left": "150 in", "right": "80 in", "eave": "90 in"}
    ],
    "protect": [{"id": "bed", "kind": "bed", "near": "50 in", "far": "90 in", "left": "60 in", "right": "-20 in"}],
    "cut": [{"at": "230 in"}, {"at": "340 in"}],
    "handling": {"roll": "600 lb", "drop": "900 lb", "line": "2700 lb"},
    "limits": {"samples": 64, "movement": "12 in", "floor": "15 %"},
}


def every_text(tables: Any, change: Callable[[str], str]) -> Any:
    """The tables with every text changed."""
    if isinstance(tables, dict):
        return {key: every_text(value, change) for key, value in tables.items()}
    if isinstance(tables, list):
        return [every_text(value, change) for value in tables]
    return change(tables) if isinstance(tables, str) else tables


def in_metric(text: str) -> str:
    """Inches as millimetres and pounds as kilograms, exactly (NIST SP 811: 25.4 mm, 0.45359237 kg)."""
    inches, pounds = re.fullmatch(r"(-?[0-9.]+) in", text), re.fullmatch(r"([0-9.]+) lb", text)
    if inches:
        return f"{float(inches[1]) * 25.4:.6g} mm"
    return f"{float(pounds[1]) * 0.45359237:.10g} kg" if pounds else text


def in_feet(text: str) -> str:
    """Inches as feet and inches."""
    inches = re.fullmatch(r"([0-9]+) in", text)
    return f"{int(inches[1]) // 12} ft {int(inches[1]) % 12} in" if inches else text


def other_side(text: str) -> str:
    """The same distance to the other side."""
    return text[1:] if text.startswith("-") else f"-{text}"


def mirrored(tables: Tables) -> Tables:
    """The job in a mirror along the bearing: left for right, clock positions from the other side."""
    out = copy.deepcopy(tables)
    for station in out["tree"]["stem"]:
        station["offset"] = other_side(station.get("offset", "0 in"))
    for limb in out["tree"]["limb"]:
        limb["clock"] = (12 - limb["clock"]) or 12
    for decay in out["tree"]["decay"]:
        decay["readings"] = {str((12 - int(clock)) or 12): depth for clock, depth in decay["readings"].items()}
    for line in out["line"]:
        line["anchor"]["right"] = other_side(line["anchor"]["right"])
    for area in (*out["building"], *out["protect"]):
        area["left"], area["right"] = area["right"], area["left"]
    return out


def job(tables: Tables) -> Job:
    return from_tables(tables)


@pytest.fixture(scope="module")
def held() -> HoldResult:
    return hold(job(JOB))


@pytest.fixture(scope="module")
def ordered() -> CutsResult:
    return cuts(job(JOB))


TOLD_OTHERWISE = {
    "in millimetres and kilograms": every_text(JOB, in_metric),
    "in feet and inches": every_text(JOB, in_feet),
    "lying another way": {**JOB, "tree": {**JOB["tree"], "bearing": "310 deg"}},
    "mirrored": mirrored(JOB),
}


@pytest.mark.parametrize("told", TOLD_OTHERWISE)
def test_the_same_weight(told: str) -> None:
    """Mass of every piece, low, likely and high, and its distance along and above; sideways it may be mirrored."""
    here, there = weigh(job(JOB)), weigh(job(TOLD_OTHERWISE[told]))
    assert [p.id for p in here.pieces] == [p.id for p in there.pieces]
    for a, b in zip(here.pieces, there.pieces, strict=True):
        assert list(b.mass_kg.as_dict().values()) == pytest.approx(list(a.mass_kg.as_dict().values()), rel=SAME)
        side = -1.0 if told == "mirrored" else 1.0
        x, y, z = b.centre_m
        assert (x, side * y, z) == pytest.approx(a.centre_m, rel=SAME, abs=1e-9)


@pytest.mark.parametrize("told", TOLD_OTHERWISE)
def test_the_same_forces(told: str, held: HoldResult) -> None:
    """Status, every support's range and hard bound, roles of the pieces and margins."""
    other = hold(job(TOLD_OTHERWISE[told]))
    assert other.status == held.status
    assert [(s.id, s.state) for s in other.supports] == [(s.id, s.state) for s in held.supports]
    for a, b in zip(held.supports, other.supports, strict=True):
        assert list(b.force_N.as_dict().values()) == pytest.approx(
            list(a.force_N.as_dict().values()), rel=SAME, abs=1e-3
        )
        assert b.cannot_exceed_N == pytest.approx(a.cannot_exceed_N, rel=SAME, nan_ok=True)
    assert [(p.id, p.role) for p in other.pieces] == [(p.id, p.role) for p in held.pieces]
    assert held.margins is not None
    assert other.margins is not None
    assert other.margins.tipping_m == pytest.approx(held.margins.tipping_m, rel=SAME)
    assert other.margins.rolling_m == pytest.approx(held.margins.rolling_m, rel=SAME)
    assert other.margins.friction_needed == pytest.approx(held.margins.friction_needed, rel=1e-5, abs=1e-6)


@pytest.mark.parametrize("told", TOLD_OTHERWISE)
def test_the_same_order(told: str, ordered: CutsResult) -> None:
    """Status, steps with their methods, forces and peaks, and the table of first cuts."""
    other = cuts(job(TOLD_OTHERWISE[told]))
    assert other.status == ordered.status
    assert [(s.piece, s.method, s.takes) for s in other.chosen.steps] == [
        (s.piece, s.method, s.takes) for s in ordered.chosen.steps
    ]
    for a, b in zip(ordered.chosen.steps, other.chosen.steps, strict=True):
        assert b.building_peak_N.high == pytest.approx(a.building_peak_N.high, rel=SAME, abs=0.01)
        assert b.minutes == pytest.approx(a.minutes, rel=SAME)
    assert [(n.piece, n.allowed, n.why) for n in other.next_cuts] == [
        (n.piece, n.allowed, n.why) for n in ordered.next_cuts
    ]
