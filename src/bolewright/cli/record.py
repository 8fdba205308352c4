"""`bolewright record`: what earlier jobs took against what was planned, and what a job learns from it."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bolewright.cli import late
from bolewright.cli.door import ANSWER_IS_NO, ANSWERED, door
from bolewright.cli.options import AsJson, JobFile

if TYPE_CHECKING:
    from bolewright.job.model import Job
    from bolewright.planning.haul.record import Record

Places = Annotated[
    list[Path], typer.Argument(metavar="EARLIER...", help="Job files with hours worked, or folders of them.")
]
WithoutPlan = Annotated[
    bool, typer.Option("--without-plan", help="Look for no cut orders: securing, cutting and lowering stay out.")
]
Write = Annotated[
    Path | None, typer.Option("--write", metavar="FILE", help="Write the job with the record in it to this new file.")
]


def record(
    job: JobFile, earlier: Places, as_json: AsJson = False, without_plan: WithoutPlan = False, write: Write = None
) -> None:
    """What earlier jobs took against what was planned, and how far that moves the times of this one."""
    with door(as_json):
        read = late.load_job(job)
        found = _found(read, earlier, not without_plan, write)
        if as_json:
            from bolewright.planning import machine

            print(machine.dumps({**machine.record_answer(found), "files": [str(write)] if write else []}))
        else:
            from bolewright.cli.show import record as show

            show.show(found, write)
    sys.exit(ANSWERED if found.counted else ANSWER_IS_NO)


def _found(job: Job, places: list[Path], with_plan: bool, file: Path | None) -> Record:
    """What earlier jobs teach this one; the job with it goes to a new file where one is named."""
    from bolewright.cli.earlier import record_of, write_taken

    with late.waiting("looking at earlier jobs") as report:
        found = record_of(job, places, with_plan, report)
    if file is not None:
        write_taken(job, found, file)
    return found
