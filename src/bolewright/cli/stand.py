"""`bolewright stand`: how far a standing tree is from failing, where first, and what is not known."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal, NoReturn

import typer

from bolewright.cli import facts, late
from bolewright.cli.door import ANSWER_IS_NO, ANSWERED, door
from bolewright.cli.options import AsJson, JobFile, OutFolder, PaperDate, UnitsOption, UnitSystem

if TYPE_CHECKING:
    from bolewright.job.model import Job


Against = Annotated[
    str | None, typer.Option("--against", metavar="EARLIER", help="An earlier inspection of this tree: what changed.")
]

Lying = Annotated[
    Path | None,
    typer.Option("--fallen", metavar="FILE", help="Write the tree that failed as a job of a tree that lies, and stop."),
]

Photos = Annotated[
    Path | None, typer.Option("--photos", metavar="FOLDER", help="Photographs the record names, to print; with --out.")
]


def stand(
    job: JobFile,
    as_json: AsJson = False,
    units: UnitsOption = None,
    out: OutFolder = None,
    against: Against = None,
    date: PaperDate = None,
    fallen: Lying = None,
    photos: Photos = None,
) -> None:
    """How a standing tree stands: wind, stem, roots, what it would hit, the rating chosen."""
    if fallen is not None:
        _write_fallen(job, fallen, as_json)
    with door(as_json, out):
        late.photos_need_a_folder(photos, out)
        read = late.load_job(job, "stand")
        written = units_of(read, units)
        day = late.paper_day(None, date, out)
        earlier = late.load_job(against, "stand") if against is not None else None
        found = late.compare_jobs(earlier, read) if earlier is not None else None
        result = late.with_seasons(read, late.stand_job(read) if found is None else found.later)
        names = late.write_standing(out, read, result, written, day, earlier, found, photos) if out is not None else ()
        if as_json:
            from bolewright.planning import machine

            more = {} if found is None else {"comparison": machine.comparison_answer(found)}
            print(machine.dumps({**machine.stand_answer(result), **more, "files": names}))
        else:
            from bolewright.cli.show import against as beside
            from bolewright.cli.show import stand as show

            show.show(facts.title_of(read), result, written)
            if found is not None:
                beside.show(found, written)
            show.files(out, names)
    stands = result.status == "inside" and result.look_back is None
    sys.exit(ANSWERED if stands else ANSWER_IS_NO)


def _write_fallen(job: str, file: Path, as_json: bool) -> NoReturn:
    """Write the lying tree's job beside nothing else: a file that is there is never written over."""
    with door(as_json):
        found = late.fallen_job(late.load_job(job, "stand"), file)
        if as_json:
            from bolewright.planning import machine

            print(machine.dumps({"file": str(file), "carried": found.carried, "asks": found.asks}))
        else:
            from bolewright.cli.show import fallen as show

            show.show(file, found)
    sys.exit(ANSWERED)


def units_of(job: Job, asked: UnitSystem | None) -> Literal["us", "metric"]:
    """The units asked for; else those the stem was measured in, or the height where no stem was."""
    if asked is not None or job.tree.stem or job.standing is None:
        return facts.units_of(job, asked)
    return "metric" if facts.METRIC.search(str(job.standing.height)) else "us"
