"""The one place where the heavy rooms are opened, and only when called: `bolewright --help` must answer at once."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import AbstractContextManager
from pathlib import Path
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from datetime import date as day

    from bolewright.documents.papers import Made
    from bolewright.job.model import Job
    from bolewright.job.problems import Missing, Question
    from bolewright.planning.haul.change import Change
    from bolewright.planning.haul.daywork import DayPlan
    from bolewright.planning.haul.price import Price, Way
    from bolewright.planning.haul.results import OutResult
    from bolewright.planning.results import CutsResult, HoldResult, WeighResult
    from bolewright.planning.standing.changes import Comparison
    from bolewright.planning.standing.fallen import Fallen
    from bolewright.planning.standing.results import StandResult
    from bolewright.planning.standing.screen import Screened

Units = Literal["us", "metric"]
Report = Callable[[str, float], None]


def load_job(name: str, question: Question | None = None) -> Job:
    """The job in a file, or on standard input for "-"; refused when it cannot answer the question at all."""
    from bolewright.job.problems import answerable
    from bolewright.job.read import load

    job = load(name)
    return answerable(job, question) if question else job


def load_example(name: str | None) -> tuple[str, Job]:
    """Name and job of a shipped example; the first one when no name is given."""
    from bolewright.core.base.errors import BadInput
    from bolewright.reference.examples import examples

    known = examples()
    chosen = name or next(iter(known), "")
    if not known:
        raise BadInput("No example job came with this copy: install it again.")
    if chosen not in known:
        raise BadInput(f"There is no example called {chosen!r}: choose one of {', '.join(known)}.")
    return chosen, load_job(str(known[chosen]), "cuts")


def missing(job: Job) -> dict[str, list[Missing]]:
    """What is still missing to answer each question, what is needed first."""
    from bolewright.job.problems import all_missing

    return all_missing(job)


def weigh_job(job: Job) -> WeighResult:
    """What the tree weighs."""
    from bolewright import planning

    with waiting("weighing"):
        return planning.weigh(job)


def hold_job(job: Job) -> HoldResult:
    """What holds it up."""
    from bolewright import planning

    with waiting("working out what holds it up"):
        return planning.hold(job)


def cuts_job(job: Job) -> CutsResult:
    """In what order to cut."""
    from bolewright import planning

    with waiting("looking for an order") as report:
        return planning.cuts(job, report)


def stand_job(job: Job) -> StandResult:
    """How far a standing tree is from failing."""
    from bolewright.planning.standing.stand import stand

    with waiting("working out wind, stem and roots"):
        return stand(job)


def screen_list(name: str, skip: int) -> AbstractContextManager[tuple[Iterator[Screened], int]]:
    """The answers of a list of trees, one at a time, and how many there will be (0 when that cannot be told)."""
    from bolewright.cli.lists import opened

    return opened(name, skip)


def screen_table(out: Path | None, as_json: bool) -> AbstractContextManager[Callable[[Screened], None]]:
    """A function that writes one answer of a list."""
    from bolewright.cli.lists import table

    return table(out, as_json)


def with_seasons(job: Job, result: StandResult) -> StandResult:
    """The answer with the same tree in leaf, wet, bare and iced."""
    from bolewright.planning.standing.seasons import with_seasons as added

    with waiting("working out every season"):
        return added(job, result)


def fallen_job(job: Job, file: Path) -> Fallen:
    """The job of a tree that failed and now lies, written to a new file; refuses one that is there."""
    from bolewright.core.base.errors import BadInput
    from bolewright.job.write import dump_tables
    from bolewright.planning.standing.fallen import fallen

    found = fallen(job)
    try:
        with file.open("x", encoding="utf-8") as new:
            new.write(dump_tables(found.tables))
    except FileExistsError:
        raise BadInput(f"{file} is there already: choose another name, nothing is written over.", "--fallen") from None
    except OSError as fault:
        raise BadInput(f"{file} cannot be written ({fault.strerror}): choose another name.", "--fallen") from fault
    return found


def compare_jobs(earlier: Job, later: Job) -> Comparison:
    """What changed between two inspections of one tree."""
    from bolewright.planning.standing.compare import compare

    with waiting("laying the two inspections side by side"):
        return compare(earlier, later)


def out_job(job: Job, with_plan: bool) -> tuple[OutResult, CutsResult | None]:
    """How the wood gets out, with a cut order where one is wanted and can be found; faults of the way out first."""
    from bolewright import planning
    from bolewright.core.base.errors import BolewrightError
    from bolewright.job.problems import missing as find

    with waiting("looking at the way out") as report:
        quick = planning.out(job)
        if not with_plan or any(gap.needed for gap in find(job, "cuts")):
            return quick, None
        try:
            cut = planning.cuts(job, report)
        except BolewrightError:
            return quick, None  # the cut order's own fault is told by `cuts`; the pieces are the same without it
        return planning.out(job, cut), cut


def priced(job: Job, result: OutResult, cut: CutsResult | None) -> tuple[Price | None, tuple[Way, ...], DayPlan]:
    """Price, the ways of doing it priced side by side, and the day."""
    from bolewright.planning.haul.daywork import day_plan
    from bolewright.planning.haul.price import price, priced_ways

    with waiting("adding up"):
        ways = priced_ways(job, cut) if cut is not None and job.rates.crew_hour is not None else ()
        return price(job, result), ways, day_plan(job, result)


def change_from(before: Job, after: Price | None, with_plan: bool) -> Change:
    """What it costs to do the job as it is now instead of as it was; refused where one of them has no price."""
    from bolewright.core.base.errors import BadInput
    from bolewright.planning.haul.change import change

    old = priced(before, *out_job(before, with_plan))[0]
    if old is None or after is None:
        which = "earlier revision" if old is None else "job"
        raise BadInput(f"The {which} has no price to compare: enter rates.crew_hour.", "rates.crew_hour")
    return change(old, after)


def write_out(
    folder: Path, job: Job, cut: CutsResult | None, result: OutResult, price: Price | None, ways: tuple[Way, ...],
    day: DayPlan, units: Units,
) -> tuple[str, ...]:  # fmt: skip
    """Write the drawings of the way out and the day into the folder, whole or not at all; the names written."""
    from bolewright.cli import folder as folders
    from bolewright.cli import way_sheets

    with waiting("drawing"):
        files = way_sheets.out_sheets(job, cut, result, price, ways, day, units)
        return folders.write_whole(folder, files, folders.is_of_the_way_out)


def paper_day(job: Job | None, asked: str | None, folder: Path | None) -> day | None:
    """The day on the papers: the one asked for, else the job's, else left open; refuses a file as folder."""
    from datetime import date as day

    from bolewright.cli.folder import refuse_a_file
    from bolewright.core.base.errors import BadInput

    if folder is not None:
        refuse_a_file(folder)
    try:
        return day.fromisoformat(asked) if asked else job.job.date if job is not None else None
    except ValueError:
        raise BadInput(f"{asked!r} is not a date: write it as 2026-03-28.", "--date") from None


def write_papers(
    folder: Path, job: Job, weighed: WeighResult, held: HoldResult, cut: CutsResult, units: Units, date: day | None
) -> tuple[str, ...]:
    """Write drawings and briefing into the folder, whole or not at all; the names written."""
    from bolewright.cli import folder as folders
    from bolewright.cli import papers

    with waiting("drawing and printing") as report:
        files = papers.papers(job, weighed, held, cut, units, date, report)
        return folders.write_whole(folder, files)


def known_papers(names: Sequence[str]) -> None:
    """Refuse the name of a paper there is none of, before the long work."""
    if names:
        from bolewright.cli.given import known

        known(names)


def make_papers(
    job: Job, only: Sequence[str], units: Units, date: day | None, photos: Path | None, before: str | None
) -> Made:
    """The papers of the job as files in memory, with what the others lack."""
    from bolewright.cli.given import made_papers

    agreed = load_job(before) if before is not None else None
    with waiting("making the papers") as report:
        return made_papers(job, only, units, date, photos, agreed, report)


def write_made(folder: Path, made: Made, some: bool) -> tuple[str, ...]:
    """Write the papers into the folder, whole or not at all; with all of them asked for, older ones not made go."""
    from bolewright.cli import folder as folders
    from bolewright.documents.papers import PAPERS

    if not made.files:
        return ()
    ours = frozenset() if some else frozenset(f"{paper.name}.{end}" for paper in PAPERS for end in ("pdf", "zip"))
    return folders.write_whole(folder, made.files, lambda name: name in ours)


def hashes(folder: Path, names: Sequence[str]) -> dict[str, tuple[int, str]]:
    """Size and SHA-256 of every file written."""
    from bolewright.cli import folder as folders

    return folders.hashes(folder, names)


def photos_need_a_folder(photos: Path | None, out: Path | None) -> None:
    """Raise BadInput where photographs are named and nothing is to be printed with them."""
    if photos is not None and out is None:
        from bolewright.core.base.errors import BadInput

        raise BadInput("Photographs go into papers: name a folder for those with --out too.", "--photos")


def write_standing(
    folder: Path,
    job: Job,
    result: StandResult,
    units: Units,
    date: day | None,
    earlier: Job | None = None,
    against: Comparison | None = None,
    photos: Path | None = None,
) -> tuple[str, ...]:
    """Write drawings and papers of a standing tree into the folder, whole or not at all; the names written."""
    from bolewright.cli import folder as folders
    from bolewright.cli import sheets

    with waiting("drawing and printing"):
        rows = sheets.standing_photos(job, photos) if photos is not None else ()
        return folders.write_whole(folder, sheets.standing_sheets(job, result, units, date, earlier, against, rows))


def waiting(words: str) -> AbstractContextManager[Report]:
    """A progress line on the error stream while something long runs; silent when nobody watches."""
    if not sys.stderr.isatty():
        from contextlib import nullcontext

        return nullcontext(lambda _words, _share: None)
    from bolewright.cli.progress import progress_line

    return progress_line(words)
