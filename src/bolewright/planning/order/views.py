"""Views somebody will ask for afterwards: those of every job, and those of what a plan secures and cuts.

Which step has to wait for which view is said here and nowhere else: what is not photographed before a cut is gone
after it.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from bolewright.planning.order.phrases import HELD_WAYS
from bolewright.planning.results import CutStep, Plan
from bolewright.planning.shapes import Scene

BEFORE, DURING, AFTER = "before", "during", "after"
LONGEST_ID = 40
SECURED = "secured"
_HOLDS = {"prop": "prop", "crib": "crib", "chock": "chock", "tie-back": "tie-back", "crane": "crane line",
          "lowering": "lowering line"}  # fmt: skip


@dataclass(frozen=True)
class View:
    """A view somebody will ask for. `step` is the step of the plan that waits for it, None when none does."""

    id: str
    stage: str
    words: str
    step: int | None = None


GENERAL = (
    View("whole-near", BEFORE, "The whole tree and building from the butt end"),
    View("whole-far", BEFORE, "The whole tree and building from the tip end"),
    View("whole-side", BEFORE, "The whole tree and building from one side"),
    View("butt", BEFORE, "Roots, break or stump at the butt, close, with a tape in the picture"),
    View("bearing", BEFORE, "Each place where the tree bears on the building, close"),
    View("lines", BEFORE, "Wires, meters and service lines, from well away"),
    View("damage", BEFORE, "Roof, gutter, walls and windows as the tree left them"),
    View("way-out", BEFORE, "Lawn, drive, gate and fence along the way out"),
    View(SECURED, DURING, "Props, chocks and lines in place, before the first cut"),
    View("section", DURING, "The cut face or break that shows decay or the cause, with a tape"),
    View("same-places", AFTER, "The building again, from the places of the first pictures"),
    View("opening", AFTER, "The opening before and after it was covered"),
    View("ground-after", AFTER, "Lawn, drive, gate and fence again"),
)


def views_of(plan: Plan | None = None, scene: Scene | None = None, cut: Sequence[str] = ()) -> tuple[View, ...]:
    """Every view asked for, in the order of the day.

    With a plan: one of each prop and line before the first cut after it, one of each piece held by a line or hook
    before that piece is cut, and one after each cut before the next. `cut` are pieces cut by an earlier plan.
    """
    found = [*_cut_before(plan, cut), *(_of_plan(plan, scene) if plan is not None else ())]
    during = [v for v in GENERAL if v.stage == DURING and not (v.id == SECURED and plan is not None)]
    first, last = ([v for v in GENERAL if v.stage == stage] for stage in (BEFORE, AFTER))
    return (*first, *_once(found), *during, *last)


def waits_for(step: CutStep, views: Iterable[View]) -> list[View]:
    """The views without which a step may not be called ready: nothing for putting a prop or line in place."""
    if not step.takes:
        return []
    return [v for v in views if v.stage == BEFORE or (v.step is not None and v.step <= step.n)]


def after_cut(piece: str) -> str:
    """Id of the view after the cut of a piece."""
    return _id("after", piece)


def _of_plan(plan: Plan, scene: Scene | None) -> list[View]:
    """What stands already, then step by step."""
    loaded = [s.n for s in plan.steps if s.takes]
    standing = [s for s in (scene.supports if scene is not None else ()) if s.kind in _HOLDS]
    first = loaded[0] if loaded else None
    found = [_in_place(s.id, s.kind, s.member, first) for s in standing]
    for step in plan.steps:
        following = next((n for n in loaded if n > step.n), None)
        found += _of_step(plan, step, following)
    return found


def _of_step(plan: Plan, step: CutStep, following: int | None) -> list[View]:
    if not step.takes:
        placed = [p for p in plan.places if p.id == step.piece] if step.action == "place" else []
        return [_in_place(p.id, p.kind, p.member, following) for p in placed]
    found = []
    if step.method in HELD_WAYS:
        by = "the hook, sling on" if step.method == "crane pick" else "its line"
        found.append(View(_id("held", step.piece), DURING, f"{step.piece} on {by}, before it is let go", step.n))
    if step.action == "cut":
        found.append(_after(step.piece, following))
    return found


def _in_place(name: str, kind: str, member: str, step: int | None) -> View:
    word = _HOLDS.get(kind, kind)
    both = "foot and head" if kind in ("prop", "crib", "chock") else "both ends"
    named = name if word in name.lower() else f"{word} {name}"
    return View(_id("in-place", name), DURING, f"{_first_large(named)} in place at {member}, {both}", step)


def _after(piece: str, step: int | None) -> View:
    return View(after_cut(piece), DURING, f"After the cut of {piece}: what stays, what it rests on, the cut face", step)


def _cut_before(plan: Plan | None, cut: Sequence[str]) -> list[View]:
    """Views after cuts of an earlier plan; the next cut waits for them too."""
    own = {s.piece for s in plan.steps if s.action == "cut"} if plan is not None else set()
    following = next((s.n for s in plan.steps if s.takes), None) if plan is not None else None
    return [_after(piece, following) for piece in cut if piece not in own]


def _once(views: Iterable[View]) -> list[View]:
    found: dict[str, View] = {}
    for view in views:
        found.setdefault(view.id, view)
    return list(found.values())


def _first_large(words: str) -> str:
    return words[:1].upper() + words[1:]


def _id(kind: str, name: str) -> str:
    """A short name that stays the same from plan to plan."""
    plain = re.sub(r"[^A-Za-z0-9]+", "-", name).strip("-")
    if plain != name or len(f"{kind}-{plain}") > LONGEST_ID:
        plain = f"{plain[:20]}-{hashlib.sha256(name.encode('utf-8')).hexdigest()[:8]}"
    return f"{kind}-{plain}"
