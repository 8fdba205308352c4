"""`bolewright demo`: a shipped example job worked through, from weight to papers."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from bolewright.cli import facts, late
from bolewright.cli.door import ANSWER_IS_NO, ANSWERED, door
from bolewright.cli.options import AsJson, PaperDate, UnitsOption

Name = Annotated[str | None, typer.Argument(help="Which example; the first one when left out.")]
DemoFolder = Annotated[Path, typer.Option("--out", metavar="FOLDER", help="Where drawings and briefing go.")]


def demo(
    name: Name = None,
    as_json: AsJson = False,
    units: UnitsOption = None,
    out: DemoFolder = Path("bolewright-out"),
    date: PaperDate = None,
) -> None:
    """An example job: what it weighs, what holds it, in what order to cut."""
    with door(as_json, out):
        example, read = late.load_example(name)
        day = late.paper_day(read, date, out)
        weighed, held, cut = late.weigh_job(read), late.hold_job(read), late.cuts_job(read)
        written = facts.units_of(read, units)
        names = late.write_papers(out, read, weighed, held, cut, written, day)
        if as_json:
            from bolewright.planning import machine

            answers = machine.whole_answer(weighed, held, cut)
            print(machine.dumps({"example": example, **answers, "files": names}))
        else:
            from bolewright.cli.show import cuts, hold, weigh

            title = facts.title_of(read)
            weigh.show(title, weighed, written, sources=False)  # the cuts, last, name all that was filled in
            hold.show(title, held, written, sources=False)
            cuts.show(title, cut, written, facts.hazards_of(read))
            cuts.files(out, names)
    sys.exit(ANSWERED if cut.status == "plan" else ANSWER_IS_NO)
