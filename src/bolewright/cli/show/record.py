"""The record of earlier jobs, as text."""

from __future__ import annotations

from pathlib import Path

from rich.console import Console

from bolewright.cli.show import page as sheet
from bolewright.drawings import units as words
from bolewright.planning.haul.record import Earlier, Learnt, Record

STEP_COLUMNS = ("Kind of work", "Jobs", "Took over planned", "Counts", "Times", "One time then")
HOW = "Took over planned is the middle of the jobs; it counts n in n + 4, the plan the rest."


def show(found: Record, written: Path | None) -> None:
    """Print what is learnt, then every job looked at, planned and taken."""
    page = sheet.console()
    jobs = f"{found.counted} EARLIER JOB{'' if found.counted == 1 else 'S'} COUNT{'S' if found.counted == 1 else ''}"
    sheet.answer(page, found.title, jobs if found.counted else "NO EARLIER JOB COUNTS", good=bool(found.counted))
    if found.stays:
        sheet.line(page, f"Rows of other jobs that count beside them, as the job has them: {len(found.stays)}.")
    sheet.table(page, STEP_COLUMNS, (_step(one) for one in found.steps))
    sheet.line(page, HOW)
    for one in found.jobs:
        _job(page, one)
    if written is not None:
        sheet.line(page, f"The job with this record is in {written}.")
    elif found.counted and not found.taken:
        sheet.line(page, "The job does not count with this yet: --write FILE makes a job that does.")


def _step(one: Learnt) -> tuple[str, ...]:
    if one.ratio is None:
        return one.step, "0", "", "", "1.00", ""
    ratio = f"{one.ratio:.2f} ({one.lowest:.2f} to {one.highest:.2f})"
    time = ""
    if one.usual_h is not None and one.learnt_h is not None:
        time = f"{words.one_time(one.usual_h.likely)} becomes {words.one_time(one.learnt_h.likely)}"
    return one.step, str(one.jobs), ratio, f"{one.weight:.0%}", f"{one.factor:.2f}", time


def _job(page: Console, one: Earlier) -> None:
    day = f", {one.on.isoformat()}" if one.on is not None else ""
    sheet.heading(page, f"{one.name}{day}")
    if one.why:
        sheet.line(page, f"Does not count. {one.why}", indent=2)
    if one.steps:
        sheet.table(page, ("", "Planned", "Took", ""), (
            (step.step, f"{step.planned_h.likely:.2f} h", f"{step.took_h:.2f} h" if step.took_h else "",
             f"{step.ratio:.2f} times" if step.ratio is not None else step.why) for step in one.steps))  # fmt: skip
    for note in one.notes:
        sheet.line(page, note, indent=2)
