"""`bolewright check`: is the job file right, and what is still missing to answer each question."""

from __future__ import annotations

import sys

from bolewright.cli import facts, late
from bolewright.cli.door import ANSWER_IS_NO, ANSWERED, door
from bolewright.cli.options import AsJson, JobFile


def check(job: JobFile, as_json: AsJson = False) -> None:
    """Is the job file right, and what is still missing?"""
    with door(as_json):
        read = late.load_job(job)
        gaps = late.missing(read)
        if as_json:
            from bolewright.planning import machine

            print(machine.dumps(machine.check_answer(facts.title_of(read), gaps)))
        else:
            from bolewright.cli.show import check as show

            show.show(facts.title_of(read), gaps)
    sys.exit(ANSWER_IS_NO if any(gap.needed for found in gaps.values() for gap in found) else ANSWERED)
