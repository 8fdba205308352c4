"""`bolewright out`: how the wood gets out over the lawn, how long it takes and what it costs."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

from bolewright.cli import facts, late
from bolewright.cli.door import ANSWER_IS_NO, ANSWERED, door
from bolewright.cli.options import AsJson, JobFile, UnitsOption

WithoutPlan = Annotated[bool, typer.Option("--without-plan", help="Count pieces only; look for no cut order.")]


def out(job: JobFile, as_json: AsJson = False, units: UnitsOption = None, without_plan: WithoutPlan = False) -> None:
    """How the wood gets out: boards, trips, pressure on the lawn, hours, loads, price."""
    with door(as_json):
        read = late.load_job(job, "weigh")
        result, cut = late.out_job(read, not without_plan)
        price, ways, day = late.priced(read, result, cut)
        if as_json:
            from bolewright.cli import machine

            print(machine.dumps(machine.out_answer(result, price, ways, day)))
        else:
            from bolewright.cli.show import out as show

            show.show(facts.title_of(read), result, price, ways, day, facts.units_of(read, units))
    sys.exit(ANSWERED if not result.outside else ANSWER_IS_NO)
