"""`bolewright out`: how the wood gets out over the lawn, how long it takes and what it costs."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from bolewright.cli import facts, late
from bolewright.cli.door import ANSWER_IS_NO, ANSWERED, door
from bolewright.cli.folder import refuse_a_file
from bolewright.cli.options import AsJson, JobFile, OutFolder, UnitsOption

WithoutPlan = Annotated[bool, typer.Option("--without-plan", help="Count pieces only; look for no cut order.")]
Against = Annotated[
    Path | None,
    typer.Option("--against", metavar="JOB", help="An earlier revision: what the change costs, by line."),
]


def out(
    job: JobFile,
    as_json: AsJson = False,
    units: UnitsOption = None,
    out: OutFolder = None,
    without_plan: WithoutPlan = False,
    against: Against = None,
) -> None:
    """How the wood gets out: boards, trips, pressure on the lawn, hours, loads, price."""
    with door(as_json, out):
        read = late.load_job(job, "weigh")
        before = late.load_job(str(against), "weigh") if against is not None else None
        if out is not None:
            refuse_a_file(out)
        result, cut = late.out_job(read, not without_plan)
        price, ways, day = late.priced(read, result, cut)
        change = late.change_from(before, price, not without_plan) if before is not None else None
        written = facts.units_of(read, units)
        names = late.write_out(out, read, cut, result, price, ways, day, written) if out is not None else ()
        if as_json:
            from bolewright.planning import machine

            print(machine.dumps({**machine.out_answer(result, price, ways, day), "change": change, "files": names}))
        else:
            from bolewright.cli.show import out as show

            show.show(facts.title_of(read), result, price, ways, day, written)
            show.changed(change)
            show.files(out, names)
    sys.exit(ANSWERED if not result.outside else ANSWER_IS_NO)
