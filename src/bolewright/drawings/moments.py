"""The work as moments to look at, one after another: the tree as found, then as it is after each step."""

from __future__ import annotations

from dataclasses import dataclass

from bolewright.core.base.range import Range
from bolewright.drawings.forces import Shown, after_step, as_found, scale_for
from bolewright.drawings.panels import step_words
from bolewright.planning.results import Bind, CutStep, HoldResult, NextCut, Plan, WeighResult
from bolewright.planning.shapes import Scene


@dataclass(frozen=True)
class Moment:
    """n: 0 as found, else after step n. on: pieces there. leaves: those that come off in the next step."""

    n: int
    words: str
    then: str  # what comes next, "" when nothing does
    on: tuple[str, ...]
    leaves: tuple[str, ...]
    supports: tuple[Shown, ...]
    standing: tuple[str, ...]  # supports, props and lines in place
    building_N: Range | None


@dataclass(frozen=True)
class PieceSeen:
    """What is said of a piece that is pointed at. bind: at its own cut, as the tree lies now."""

    id: str
    member: str
    from_m: float
    to_m: float
    mass_kg: Range
    role: str
    why: str
    cut_member: str
    cut_at_m: float | None
    bind: Bind | None


def moments(scene: Scene, hold: HoldResult | None, plan: Plan | None) -> tuple[Moment, ...]:
    """As found, and after every step of the plan."""
    steps = plan.steps if plan else ()
    gone = hold.gone if hold else ()
    on = tuple(dict.fromkeys(run.piece for run in scene.wood if run.piece not in gone))
    there = {s.id for s in hold.supports} if hold else {s.id for s in scene.supports}
    found = tuple(as_found(scene, hold))
    words = "As it lies now" if gone else "As found"
    first = Moment(0, words, _then(steps, 0), on, _leaves(steps, 0), found, tuple(there),
                   hold.building_N if hold else None)  # fmt: skip
    out = [first]
    for k, step in enumerate(steps):
        on = tuple(piece for piece in on if piece not in step.takes)
        forces = tuple(after_step(scene, step, hold, scale_for(hold, plan, 1.0)))
        words = f"After step {step.n}: {step_words(step)}"
        out.append(Moment(step.n, words, _then(steps, k + 1), on, _leaves(steps, k + 1), forces,
                          tuple(step.forces_after), step.building_after_N))  # fmt: skip
    return tuple(out)


def _then(steps: tuple[CutStep, ...], k: int) -> str:
    return f"Next, step {steps[k].n}: {step_words(steps[k])}" if k < len(steps) else ""


def _leaves(steps: tuple[CutStep, ...], k: int) -> tuple[str, ...]:
    return steps[k].takes if k < len(steps) else ()


def pieces_seen(weigh: WeighResult, hold: HoldResult | None, cuts: tuple[NextCut, ...]) -> tuple[PieceSeen, ...]:
    """Every piece with its mass, what it does, and what its cut would do to the saw now."""
    roles = {p.id: p for p in hold.pieces} if hold else {}
    known = {c.piece: c for c in cuts}
    out = []
    for p in (p for p in weigh.pieces if hold is None or p.id not in hold.gone):
        role, cut = roles.get(p.id), known.get(p.id)
        has_cut = cut is not None and cut.bind is not None
        out.append(PieceSeen(
            p.id, p.member, p.start_m, p.end_m, p.mass_kg, role.role if role else "", role.why if role else "",
            cut.member if cut and has_cut else "", cut.at_m if cut and has_cut else None, cut.bind if cut else None,
        ))  # fmt: skip
    return tuple(out)
