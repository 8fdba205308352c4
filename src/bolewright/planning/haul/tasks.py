"""The hours of the steps as single tasks: what one crew does in one go, and what has to be over before."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from bolewright.core.base.range import Range
from bolewright.job.model import Job
from bolewright.planning.haul.hours import CRANE, HOUR, LOWERED, done_steps
from bolewright.planning.haul.learning import learnt
from bolewright.planning.haul.results import NONE, BoardsOut, LoadOut, StepHours, Task
from bolewright.planning.haul.trips import Journey
from bolewright.planning.passage.ways import BY_HAND
from bolewright.planning.results import CutsResult, CutStep

SET_UP, LAID, TAKEN_UP, CLEAN = "set-up", "lay sheets", "take up sheets", "clean"


@dataclass(frozen=True)
class _Off:
    """One thing that comes off the tree: its task, the pieces it takes."""

    task: Task
    pieces: tuple[str, ...]


def tasks_of(
    job: Job, steps: Sequence[StepHours], going: Journey, cut: CutsResult | None, loads: Sequence[LoadOut],
    boards: BoardsOut | None,
) -> tuple[Task, ...]:  # fmt: skip
    """Single tasks in the order of the plan; their hours add up to those of the steps.

    Securing and cutting follow one another as planned: there is one tree. A piece is moved once it is off and the
    sheets lie, a truck is loaded once its pieces are there, and cleaning comes last.
    """
    done = list(_done(job))
    hours = {step.step: _less(step.hours, [task.hours for task in done if task.step == step.step]) for step in steps}
    first = Task(SET_UP, "set-up", "set up", hours["set-up"])
    planned = cut.chosen.steps if cut is not None and cut.status == "plan" else ()
    tree = list(_on_the_tree(job, hours, planned, going, done[-1].id if done else SET_UP))
    off = [one for one in tree if one.pieces]
    laid, taken_up = _sheets(job, boards)
    moving = _less(hours["move"], [task.hours for task in (laid, taken_up) if task is not None])
    moved = list(_moved(moving, off, going, laid))
    if taken_up is not None:
        taken_up = Task(TAKEN_UP, "move", taken_up.what, taken_up.hours, tuple(task.id for task in moved))
    loaded = list(_loaded(hours["load"], loads, off, moved))
    every = [first, *done, *(one.task for one in tree), laid, *moved, taken_up, *loaded]
    before = [task for task in every if task is not None]
    last = Task(CLEAN, "clean", "clean up", hours["clean"], tuple(task.id for task in before))
    return (*before, last)


def _done(job: Job) -> Iterator[Task]:
    """The steps that are done, one after the other."""
    last = SET_UP
    for n, one in enumerate(done_steps(job), 1):
        task = Task(f"done {n}", one.kind, one.what, one.hours, (last,), one.machine, True, True)
        yield task
        last = task.id


def _on_the_tree(
    job: Job, hours: Mapping[str, Range], planned: Sequence[CutStep], going: Journey, last: str
) -> Iterator[_Off]:
    """Props, cribs, lines and cuts one after the other, as planned; without a plan every piece in the order found."""
    for one in _steps(job, hours, planned) if planned else _pieces(job, hours, going):
        yield _Off(replace(one.task, after=(last,)), one.pieces)
        last = one.task.id
    taken = {name for step in planned for name in step.takes}
    left = tuple(piece.id for piece in going.pieces if planned and piece.id not in taken)
    if left:  # a stub that stays until the end is no step of the plan, but its wood goes out too
        yield _Off(Task("cut rest", "cut", "what is left", NONE, (last,)), left)


def _steps(job: Job, hours: Mapping[str, Range], planned: Sequence[CutStep]) -> Iterator[_Off]:
    """The steps of a plan: a place to secure, or a cut with what it takes."""
    places = sum(step.action == "place" for step in planned)
    cuts = [step for step in planned if step.action == "cut"]
    minutes = sum(step.minutes for step in cuts if step.method not in LOWERED)
    lowered = sum(step.method in LOWERED for step in cuts)
    if not places:
        yield _secure("what holds", hours["secure"])
    for step in planned:
        if step.action == "place":
            yield _secure(step.piece, hours["secure"].scaled(1.0 / places))
        elif step.action == "cut":
            held = step.method in LOWERED
            share = 1.0 / lowered if held else step.minutes / minutes if minutes > 0.0 else 0.0
            kind = "lower" if held else "cut"
            machine = CRANE if step.method == "crane pick" else ""
            what = f"{'lift' if machine else 'cut and lower' if held else 'cut'} {step.piece}"
            time = hours[kind].scaled(share)
            yield _Off(Task(f"cut {step.n}", kind, what, time, (), machine, True, True), step.takes)


def _pieces(job: Job, hours: Mapping[str, Range], going: Journey) -> Iterator[_Off]:
    """Lines of the job, then each piece by itself."""
    names = [line.id for line in job.line] or ["what holds"]
    for name in names:
        yield _secure(name, hours["secure"].scaled(1.0 / len(names)))
    for piece in going.pieces:
        time = hours["cut"].scaled(1.0 / len(going.pieces))
        yield _Off(Task(f"cut {piece.id}", "cut", f"cut {piece.id}", time, (), "", True, True), (piece.id,))


def _secure(name: str, hours: Range) -> _Off:
    return _Off(Task(f"secure {name}", "secure", f"secure {name}", hours, (), "", True, True), ())


def _sheets(job: Job, boards: BoardsOut | None) -> tuple[Task | None, Task | None]:
    """Laying the sheets and taking them up again; moving them ahead is part of the trips."""
    if boards is None or boards.needed == 0:
        return None, None
    down = min(boards.needed, boards.have)
    rate = job.rates.board
    share = boards.needed * learnt(job.rates.actual, "move") / HOUR
    each = Range(rate.low, rate.likely, rate.high).scaled(share)
    return (
        Task(LAID, "move", f"lay {down} sheets", each, (SET_UP,)),
        Task(TAKEN_UP, "move", f"take up {down} sheets", each),
    )


def _moved(hours: Range, off: Sequence[_Off], going: Journey, laid: Task | None) -> Iterator[Task]:
    """What came off, moved out: hours by its share of all that is moved."""
    outs = {one.id: one for one in going.outs}
    weights = [sum(outs[name].log_kg.high + outs[name].brush_kg.high for name in one.pieces) for one in off]
    whole = sum(weights) or 1.0
    first = (laid.id,) if laid is not None else (SET_UP,)
    for one, weight in zip(off, weights, strict=True):
        if weight <= 0.0:
            continue
        ways = {outs[name].way for name in one.pieces if outs[name].way not in (BY_HAND, "chipped")}
        what = one.pieces[0] if len(one.pieces) == 1 else f"{one.pieces[0]} and {len(one.pieces) - 1} more"
        name, machine = f"move {one.task.id.removeprefix('cut ')}", min(ways, default="")
        yield Task(name, "move", f"move {what}", hours.scaled(weight / whole), (*first, one.task.id), machine)


def _loaded(hours: Range, loads: Sequence[LoadOut], off: Sequence[_Off], moved: Sequence[Task]) -> Iterator[Task]:
    """Each load once what it takes is there; chips and brush come in step with what is moved."""
    known = {task.id for task in moved}
    of = {name: f"move {one.task.id.removeprefix('cut ')}" for one in off for name in one.pieces}
    bulk = [load for load in loads if load.kind != "logs"]
    for n, load in enumerate(loads):
        if load.kind == "logs":
            needs = {of[item.split("/")[0]] for item in load.items} & known
        else:
            part = (bulk.index(load) + 1) / len(bulk)
            needs = {task.id for task in moved[: math.ceil(part * len(moved))]}
        after = tuple(task.id for task in moved if task.id in needs) or (SET_UP,)
        yield Task(f"load {n + 1}", "load", f"load {load.carrier}", hours.scaled(1.0 / len(loads)), after)


def _less(whole: Range, parts: Sequence[Range]) -> Range:
    """What is left of a range when parts of it, end by end, are taken off."""
    low, likely, high = (
        max(getattr(whole, end) - sum(getattr(part, end) for part in parts), 0.0) for end in ("low", "likely", "high")
    )
    return Range(min(low, likely), likely, max(likely, high))
