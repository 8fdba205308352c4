"""`bolewright cuts`: in what order to cut, and what to prop first."""

from __future__ import annotations

import sys

from bolewright.cli import facts, late
from bolewright.cli.door import ANSWER_IS_NO, ANSWERED, door
from bolewright.cli.options import AsJson, JobFile, OutFolder, PaperDate, UnitsOption


def cuts(
    job: JobFile,
    as_json: AsJson = False,
    units: UnitsOption = None,
    out: OutFolder = None,
    date: PaperDate = None,
) -> None:
    """In what order to cut, what to prop first, and what each cut does."""
    with door(as_json, out):
        read = late.load_job(job, "cuts")
        day = late.paper_day(read, date, out)
        result = late.cuts_job(read)
        written = facts.units_of(read, units)
        names: tuple[str, ...] = ()
        if out is not None:
            names = late.write_papers(out, read, late.weigh_job(read), late.hold_job(read), result, written, day)
        if as_json:
            from bolewright.planning import machine

            print(machine.dumps({**machine.cuts_answer(result), "files": names}))
        else:
            from bolewright.cli.show import cuts as show

            show.show(facts.title_of(read), result, written, facts.hazards_of(read))
            show.files(out, names)
    sys.exit(ANSWERED if result.status == "plan" else ANSWER_IS_NO)
