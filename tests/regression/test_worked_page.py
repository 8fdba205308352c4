"""The worked page: its sums are keyed in again, its tables and results compared with a run of the program.

The sums stand on their own (statics and the frustum rule); the comparison shows that program and hand agree within
what the page says. The tolerance is that stated on the page, of the larger number of the line or, where a small
difference of large numbers is left, of the weight it comes from.
"""

from __future__ import annotations

import ast
import operator
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from bolewright import planning
from bolewright.job.read import load
from bolewright.planning.results import CutsResult, HoldResult, WeighResult
from bolewright.reference.examples import examples

PAGE = (Path(__file__).parents[2] / "docs" / "worked-page.md").read_text(encoding="utf-8")
POUND, POUND_FORCE, FOOT = 0.45359237, 4.4482216152605, 0.3048  # NIST SP 811 (2008), appendix B.8
STATED = 0.03  # of the page
OPERATORS: dict[type, Callable[..., float]] = {
    ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv,
    ast.Pow: operator.pow, ast.USub: operator.neg,
}  # fmt: skip


def keyed_in(sum_: str) -> float:
    """What a pocket calculator shows for a sum as it stands on the page."""
    return _value(ast.parse(sum_.replace(" x ", " * ").replace("^", "**"), mode="eval").body)


def _value(node: ast.AST) -> float:
    if isinstance(node, ast.Constant) and isinstance(node.value, int | float):
        return float(node.value)
    if isinstance(node, ast.BinOp):
        return OPERATORS[type(node.op)](_value(node.left), _value(node.right))
    if isinstance(node, ast.UnaryOp):
        return OPERATORS[type(node.op)](_value(node.operand))
    raise ValueError(f"not a sum: {ast.dump(node)}")


def sums() -> list[tuple[str, str, str]]:
    """Name, sum and printed result of every line in a calc block."""
    blocks = re.findall(r"```calc\n(.*?)```", PAGE, re.DOTALL)
    return [tuple(line.split(" = ")) for block in blocks for line in block.strip().splitlines()]  # type: ignore[misc]


def table(after: str) -> list[list[str]]:
    """The cells of the first table after a heading."""
    part = PAGE.split(after, 1)[1]
    rows = re.search(r"\|---.*?\n((?:\|.*\n)+)", part)
    assert rows
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in rows[1].splitlines()]


def number(text: str) -> float:
    """The number at the start of "8,739 lb"."""
    return float(text.split()[0].replace(",", ""))


RESULTS = {row[0]: row[1:] for row in table("## By hand and by program")}


@pytest.fixture(scope="module")
def runs() -> dict[str, tuple[WeighResult, HoldResult]]:
    """The examples, weighed and held."""
    out = {}
    for short, name in (("oak", "garage-oak"), ("maple", "seesaw-maple"), ("pine", "ridge-pine")):
        job = load(examples()[name])
        out[short] = (planning.weigh(job), planning.hold(job))
    return out


@pytest.fixture(scope="module")
def pine_plan() -> CutsResult:
    """The plan of the pine."""
    return planning.cuts(load(examples()["ridge-pine"]))


@pytest.mark.parametrize(("name", "sum_", "printed"), sums())
def test_sum(name: str, sum_: str, printed: str) -> None:
    """Every sum comes out as printed, to half of the last place."""
    result = printed.split()[0].replace(",", "")
    places = len(result.partition(".")[2])
    assert keyed_in(sum_) == pytest.approx(float(result), abs=0.501 * 10.0**-places), name


def test_there_are_sums() -> None:
    """The page is not empty."""
    assert len(sums()) >= 30


@pytest.mark.parametrize(
    ("short", "after", "mass", "length"),
    [
        ("oak", "### All pieces", POUND, FOOT),
        ("maple", "## The maple", POUND, FOOT),
        ("pine", "## The pine", 1.0, 1.0),
    ],
)
def test_tables_are_the_programs(
    runs: dict[str, tuple[WeighResult, HoldResult]], short: str, after: str, mass: float, length: float
) -> None:
    """Mass and place of every piece as the program weighs them, to what is printed and 2 % for the chance numbers."""
    pieces = {piece.id: piece for piece in runs[short][0].pieces}
    rows = table(after)
    assert [row[0] for row in rows] == list(pieces)
    for name, printed, forward in rows:
        assert number(printed) == pytest.approx(pieces[name].mass_kg.likely / mass, rel=0.02, abs=0.6)
        assert number(forward) == pytest.approx(pieces[name].centre_m[0] / length, abs=0.06)


def program(runs: dict[str, tuple[WeighResult, HoldResult]], plan: CutsResult) -> dict[str, tuple[float, float]]:
    """The program's number for each line of the page, and the weight that a small difference is measured by."""

    def weighed(short: str, mass: float) -> dict[str, float]:
        return {piece.id: piece.mass_kg.likely / mass for piece in runs[short][0].pieces}

    def force(short: str, name: str, unit: float) -> float:
        return next(s.force_N.likely for s in runs[short][1].supports if s.id == name) / unit

    def change(short: str, name: str) -> float:
        return next(p.building_change_N.likely for p in runs[short][1].pieces if p.id == name) / POUND_FORCE

    oak = weighed("oak", POUND)
    total = {short: run[0].total_kg.likely for short, run in runs.items()}
    plate = runs["oak"][0].plate_kg
    assert plate is not None
    after: dict[str, Any] = next(step for step in plan.chosen.steps if step.piece == "S4").forces_after
    left = sum(weighed("pine", 1.0)[name] for name in ("S1", "S2", "S3")) * 9.80665 / 1000.0
    prop = next(name for name in after if name.startswith("prop"))
    return {
        "oak S5": (oak["S5"], 0.0),
        "oak S3": (oak["S3"], 0.0),
        "oak L3": (oak["L3"], 0.0),
        "oak in all": (total["oak"] / POUND, 0.0),
        "oak root plate": (plate.likely / POUND, 0.0),
        "oak front wall": (force("oak", "front wall", POUND_FORCE), 0.0),
        "oak plate edge": (force("oak", "root plate", POUND_FORCE), 0.0),
        "oak wall less without L6": (-change("oak", "L6"), 0.0),
        "maple in all": (total["maple"] / POUND, 0.0),
        "maple porch wall": (force("maple", "porch wall", POUND_FORCE), 0.0),
        "maple post": (force("maple", "post", POUND_FORCE), 0.0),
        "maple wall more without S1": (change("maple", "S1"), 0.0),
        "pine in all": (total["pine"], 0.0),
        "pine ridge": (force("pine", "ridge", 1000.0), 0.0),
        "pine hinge": (force("pine", "hinge", 1000.0), 0.0),
        "pine prop after S4": (after[prop].likely / 1000.0, 0.0),
        "pine hinge after S4": (after["hinge"].likely / 1000.0, left),
    }


def test_hand_and_program_agree(runs: dict[str, tuple[WeighResult, HoldResult]], pine_plan: CutsResult) -> None:
    """The last table: both columns are what they say they are, and no further apart than the page says."""
    found = program(runs, pine_plan)
    assert set(RESULTS) == set(found)
    for name, (hand, printed) in RESULTS.items():
        value, weight = found[name]
        most = STATED * max(abs(value), weight)
        assert number(printed) == pytest.approx(value, abs=0.5 * most), name
        assert number(hand) == pytest.approx(value, abs=most), name


def test_hand_column_is_worked_out_above() -> None:
    """Every number of the hand column is the result of a sum on the page."""
    worked = {number(printed) for _, _, printed in sums()}
    assert {number(hand) for hand, _ in RESULTS.values()} <= worked
