"""Which views a plan asks for, and which step waits for them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import pytest

from bolewright.planning.order.views import GENERAL, LONGEST_ID, after_cut, views_of, waits_for


@dataclass(frozen=True)
class Part:
    """A step, place or support of an invented plan."""

    n: int = 0
    action: str = ""
    piece: str = ""
    method: str = ""
    takes: tuple[str, ...] = ()
    id: str = ""
    kind: str = ""
    member: str = "stem"


@dataclass(frozen=True)
class Invented:
    """A plan or scene with nothing else in it."""

    steps: tuple[Part, ...] = ()
    places: tuple[Part, ...] = ()
    supports: tuple[Part, ...] = ()


CUT = Part(1, "cut", "L3", "carry", ("L3",))
PLACE = Part(2, "place", "P1")
HELD = Part(3, "cut", "L1", "lower on a line", ("L1", "L2"))
LAST = Part(4, "remove", "S1", "crane pick", ("S1",))
PLAN: Any = Invented((CUT, PLACE, HELD, LAST), (Part(id="P1", kind="prop"),))
SCENE: Any = Invented(
    supports=(Part(id="roof", kind="roof"), Part(id="T1", kind="tie-back"), Part(id="x", kind="possible"))
)


def test_what_is_held_and_what_is_cut() -> None:
    """One of what stands already before the first cut, of a prop before the next, of a held piece before it goes, and
    one after each cut; the last is taken, not cut."""
    asked = [(v.id, v.step) for v in views_of(PLAN, SCENE) if v not in GENERAL]
    assert asked == [
        ("in-place-T1", 1), ("after-L3", 3), ("in-place-P1", 3), ("held-L1", 3), ("after-L1", 4), ("held-S1", 4),
    ]  # fmt: skip
    words = {v.id: v.words for v in views_of(PLAN, SCENE)}
    assert words["in-place-P1"] == "Prop P1 in place at stem, foot and head"
    assert words["in-place-T1"] == "Tie-back T1 in place at stem, both ends"
    assert "secured" not in words  # said thing by thing instead
    assert "secured" in {v.id for v in views_of()}


@pytest.mark.parametrize(
    ("step", "waits"),
    [
        (CUT, ["in-place-T1"]),
        (PLACE, []),  # props and lines never wait for a photograph
        (HELD, ["in-place-T1", "after-L3", "in-place-P1", "held-L1"]),
    ],
)
def test_a_step_waits_for_what_comes_before_it(step: Any, waits: list[str]) -> None:
    """Views of the first stage hold up every cut; a step that moves no wood is never held up."""
    before = [v.id for v in GENERAL if v.stage == "before"]
    found = [v.id for v in waits_for(step, views_of(PLAN, SCENE))]
    assert found == ([*before, *waits] if step.takes else [])


def test_cuts_of_an_earlier_plan_are_not_forgotten() -> None:
    """The first cut of the new plan waits for them; a cut of this plan is asked for once, before the next."""
    views = [v for v in views_of(PLAN, None, ("S9", "L3")) if v.id.startswith("after")]
    assert [(v.id, v.step) for v in views] == [("after-S9", 1), ("after-L3", 3), ("after-L1", 4)]


def test_ids_are_short_plain_and_of_one_piece() -> None:
    """Whatever a limb is called."""
    names = ["L 1", "L-1", "L/1", "Ast über der Garage", "x" * 40]
    ids = {after_cut(name) for name in names}
    assert len(ids) == len(names)
    assert all(len(i) <= LONGEST_ID and i.replace("-", "").isalnum() and i.isascii() for i in ids)
