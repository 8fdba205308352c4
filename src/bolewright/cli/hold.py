"""`bolewright hold`: what holds the tree up, and how far it is from moving."""

from __future__ import annotations

import sys

from bolewright.cli import facts, late
from bolewright.cli.door import ANSWER_IS_NO, ANSWERED, door
from bolewright.cli.options import AsJson, JobFile, UnitsOption


def hold(job: JobFile, as_json: AsJson = False, units: UnitsOption = None) -> None:
    """What holds it up, and how far it is from tipping, rolling or sliding."""
    with door(as_json):
        read = late.load_job(job, "hold")
        result = late.hold_job(read)
        if as_json:
            from bolewright.planning import machine

            print(machine.dumps(machine.hold_answer(result)))
        else:
            from bolewright.cli.show import hold as show

            show.show(facts.title_of(read), result, facts.units_of(read, units))
    sys.exit(ANSWERED if result.status == "held" else ANSWER_IS_NO)
