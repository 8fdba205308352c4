"""Results as plain dictionaries for `--json` and the JSON interface. Key names are a promise: add, never rename."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Mapping
from typing import Any

from bolewright.core.base.plain import plain
from bolewright.job.problems import Missing
from bolewright.planning.haul.daywork import DayPlan
from bolewright.planning.haul.price import Price, Way
from bolewright.planning.haul.record import Record
from bolewright.planning.haul.results import OutResult
from bolewright.planning.results import Bind, CutsResult, CutStep, HoldResult, Plan, WeighResult
from bolewright.planning.standing.changes import Comparison
from bolewright.planning.standing.results import StandResult


def dumps(answer: dict[str, Any]) -> str:
    """The answer as JSON text; what has no bound is null."""
    return json.dumps(plain(answer), indent=2, ensure_ascii=False, allow_nan=False)


def line(answer: Any) -> str:
    """One result as one line of JSON."""
    return json.dumps(plain(answer), ensure_ascii=False, allow_nan=False)


def check_answer(title: str, gaps: dict[str, list[Missing]]) -> dict[str, Any]:
    """`questions.<weigh|hold|cuts|stand>.can_answer` and `.missing[].path, .sentence, .needed`."""
    questions = {
        name: {"can_answer": not any(gap.needed for gap in found), "missing": found} for name, found in gaps.items()
    }
    return {"title": title, "questions": questions, "faults": []}


def weigh_answer(result: WeighResult) -> dict[str, Any]:
    """`total.mass_kg`, `pieces[].id, .mass_kg, .centre_m` and what else was found."""
    return {"total": {"mass_kg": result.total_kg}, **_rest(result, "total_kg")}


def hold_answer(result: HoldResult) -> dict[str, Any]:
    """`status`, `supports[].id, .force_N, .cannot_exceed_N`, `pieces[].id, .role`, `residual` and all else found."""
    return _rest(result)


def cuts_answer(result: CutsResult) -> dict[str, Any]:
    """`status`, `steps[]`, `peak_building_N`, `start_building_N`; on "no plan" also `dead_end` and `opens`."""
    answer = {"status": result.status, **plan_answer(result.chosen)}
    answer |= {"alternatives": [plan_answer(plan) for plan in result.alternatives]}
    return {**answer, **_rest(result, "status", "chosen", "alternatives")}


def stand_answer(result: StandResult) -> dict[str, Any]:
    """`status`, `sections[].height_m, .loss_of_strength, .margin`, `breaks_first`, `gust_m_s`, `rating`, all else."""
    judged = result.judgement
    rating = {"rated": judged.rating, **_rest(judged, "rating", "options")}
    failed = result.look_back is not None  # then all else is for the tree as it stood before
    return {"failed": failed, **_rest(result, "judgement"), "rating": rating, "options": judged.options}


def comparison_answer(found: Comparison) -> dict[str, Any]:
    """`comparison` of `stand --against`: all but the two answers themselves."""
    return _rest(found, "earlier", "later")


def out_answer(result: OutResult, price: Price | None, ways: tuple[Way, ...], day: DayPlan | None) -> dict[str, Any]:
    """`status`, `sheets`, `trips`, `heaviest_kg`, `pressure_kPa`, `hours` and all else; sums of money are text."""
    return {**_rest(result), "price": price, "ways": ways, "day": day}


def record_answer(found: Record) -> dict[str, Any]:
    """`counted`, `steps[].step, .jobs, .ratio, .factor, .now`, `jobs[].name, .on, .counts, .why, .steps[]`, `rows`."""
    jobs = [{**_rest(one), "on": one.on.isoformat() if one.on else None, "counts": one.counts} for one in found.jobs]
    return {**_rest(found), "jobs": jobs}


def papers_answer(made: Any, written: Mapping[str, tuple[int, str]]) -> dict[str, Any]:
    """Of `documents.papers.Made`: `made[].file, .title, .bytes, .sha256` and `not_made[].name, .title, .reasons`.

    `written` has size and SHA-256 of every file.
    """
    rows = [
        {"file": name, "title": made.titles[name], "bytes": size, "sha256": digest}
        for name, (size, digest) in written.items()
    ]
    return {"made": rows, "not_made": made.not_made}


def whole_answer(weighed: WeighResult, held: HoldResult, cut: CutsResult) -> dict[str, Any]:
    """All three answers under the names of their commands."""
    return {"weigh": weigh_answer(weighed), "hold": hold_answer(held), "cuts": cuts_answer(cut)}


def plan_answer(plan: Plan) -> dict[str, Any]:
    """One order of work."""
    answer = {**_rest(plan, "steps"), "steps": [_step(step) for step in plan.steps]}
    if plan.status != "no plan":
        del answer["dead_end"], answer["opens"]
    return answer


def _step(step: CutStep) -> dict[str, Any]:
    """A step with its forces as lists and the section's behaviour as a word beside its numbers."""
    return {
        **_rest(step, "bind", "forces_before", "forces_after"),
        "bind": step.bind.kind if step.bind else None,
        "kerf_mm": step.bind.kerf_mm if step.bind else None,
        "release_J": step.bind.release_J if step.bind else None,
        "section": _section(step.bind) if step.bind else None,
        "supports_before": _forces(step.forces_before),
        "supports": _forces(step.forces_after),
    }


def _section(bind: Bind) -> dict[str, Any]:
    return _rest(bind, "kind", "kerf_mm", "release_J")


def _forces(forces: dict[str, Any]) -> list[dict[str, Any]]:
    return [{"id": name, "force_N": force} for name, force in forces.items()]


def _rest(thing: Any, *without: str) -> dict[str, Any]:
    """The fields of a result one level down, without those already placed."""
    fields = (field.name for field in dataclasses.fields(thing))
    return {name: getattr(thing, name) for name in fields if name not in without}
