"""`bolewright weigh`: what the tree and each of its pieces weigh."""

from __future__ import annotations

import sys

from bolewright.cli import facts, late
from bolewright.cli.door import ANSWERED, door
from bolewright.cli.options import AsJson, JobFile, UnitsOption


def weigh(job: JobFile, as_json: AsJson = False, units: UnitsOption = None) -> None:
    """What the tree weighs, piece by piece."""
    with door(as_json):
        read = late.load_job(job, "weigh")
        result = late.weigh_job(read)
        if as_json:
            from bolewright.planning import machine

            print(machine.dumps(machine.weigh_answer(result)))
        else:
            from bolewright.cli.show import weigh as show

            show.show(facts.title_of(read), result, facts.units_of(read, units))
    sys.exit(ANSWERED)
