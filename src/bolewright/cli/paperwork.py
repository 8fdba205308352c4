"""`bolewright papers`: every paper of the job that can be made, and what the others lack."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from bolewright.cli import facts, late
from bolewright.cli.door import ANSWER_IS_NO, ANSWERED, door
from bolewright.cli.options import AsJson, JobFile, PaperDate, UnitsOption

Only = Annotated[list[str] | None, typer.Option("--only", metavar="NAME", help="Only this paper; may be repeated.")]
Folder = Annotated[Path, typer.Option("--out", metavar="FOLDER", help="Write the papers here.")]
Photos = Annotated[
    Path | None,
    typer.Option("--photos", metavar="FOLDER", help="Photographs to list with their hashes and put into the pack."),
]
Before = Annotated[
    str | None, typer.Option("--before", metavar="JOB", help="The job as it was agreed, for the change order.")
]


def papers(
    job: JobFile,
    out: Folder,
    only: Only = None,
    as_json: AsJson = False,
    units: UnitsOption = None,
    date: PaperDate = None,
    photos: Photos = None,
    before: Before = None,
) -> None:
    """Every paper of the job: call sheet, authorisation, estimate, work order ... and the insurer's pack."""
    with door(as_json, out):
        read = late.load_job(job)
        wanted = tuple(only or ())
        late.known_papers(wanted)
        day = late.paper_day(read, date, out)
        made = late.make_papers(read, wanted, facts.units_of(read, units), day, photos, before)
        written = late.write_made(out, made, bool(wanted))
        if as_json:
            from bolewright.planning import machine

            print(machine.dumps(machine.papers_answer(made, late.hashes(out, written))))
        else:
            from bolewright.cli.show import papers as show

            show.show(facts.title_of(read), made, out, written)
    asked_in_vain = bool(wanted) and bool(made.not_made)
    sys.exit(ANSWER_IS_NO if asked_in_vain or not made.files else ANSWERED)
