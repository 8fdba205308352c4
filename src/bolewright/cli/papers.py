"""Drawings and briefing of a worked job, as named files ready to be written."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date as day
from typing import Literal

from bolewright import documents, drawings, planning
from bolewright.job.model import Job
from bolewright.planning import machine
from bolewright.planning.results import CutsResult, HoldResult, Plan, WeighResult
from bolewright.planning.shapes import Scene

Units = Literal["us", "metric"]


def papers(
    job: Job,
    weighed: WeighResult,
    held: HoldResult,
    cut: CutsResult,
    units: Units,
    date: day | None,
    report: Callable[[str, float], None],
) -> dict[str, bytes]:
    """Every drawing as SVG and the briefing as PDF, under the names they are written by."""
    scene = planning.scene(job, cut)
    drawn: dict[str, str] = {}
    plan = cut.chosen if cut.status == "plan" else None
    for share, (name, svg) in enumerate(sheets(scene, held, plan, units)):
        report("drawing", share / (share + 2))
        drawn[name] = svg
    report("printing", 0.9)
    files = {name: svg.encode("utf-8") for name, svg in drawn.items()}
    files["briefing.pdf"] = documents.briefing(job, weighed, held, cut, scene, units, date, drawn)
    files["results.json"] = machine.dumps(machine.whole_answer(weighed, held, cut)).encode("utf-8")
    return files


def sheets(scene: Scene, held: HoldResult, plan: Plan | None, units: Units) -> Iterator[tuple[str, str]]:
    """Name and SVG of each drawing; without a plan only the tree as found."""
    yield "elevation.svg", drawings.elevation(scene, held, plan, units)
    yield "plan.svg", drawings.plan_view(scene, plan, None, held, units)
    if plan is None:
        return
    yield "load-chart.svg", drawings.load_chart(plan, units)
    for step in plan.steps:
        yield f"step-{step.n:02d}.svg", drawings.step_strip(scene, plan, step.n, held, units)
