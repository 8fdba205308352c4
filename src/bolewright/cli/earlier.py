"""Earlier jobs from files and folders, for the record a job learns from."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from bolewright import planning
from bolewright.core.base.errors import BadInput, BolewrightError
from bolewright.job.faults import JobFaults
from bolewright.job.model import Job
from bolewright.job.problems import missing
from bolewright.job.read import load
from bolewright.job.write import dump
from bolewright.planning.haul.record import Earlier, Record, amounts, as_found, earlier_job, record, with_record
from bolewright.planning.results import CutsResult

Report = Callable[[str, float], None]
ENDS = (".toml", ".json")
MOST_FILES = 500


def record_of(job: Job, places: Sequence[Path], with_plan: bool, report: Report) -> Record:
    """The record of the jobs in these files and folders. Raises BadInput for a place without one."""
    files = [file for place in places for file in _files(place)]
    if len(files) > MOST_FILES:
        raise BadInput(f"There are {len(files)} files: at most {MOST_FILES} can be looked at in one go.", "EARLIER")
    found = []
    for n, file in enumerate(files):
        report(f"{file.name}, {n + 1} of {len(files)}", n / len(files))
        found.append(_looked_at(file, job, with_plan))
    return record(job, found)


def write_taken(job: Job, found: Record, file: Path) -> None:
    """The job with the record in it, in a new file; refuses one that is there."""
    try:
        with file.open("x", encoding="utf-8") as new:
            new.write(dump(with_record(job, found)))
    except FileExistsError:
        raise BadInput(f"{file} is there already: choose another name, nothing is written over.", "--write") from None
    except OSError as fault:
        raise BadInput(f"{file} cannot be written ({fault.strerror}): choose another name.", "--write") from fault


def _files(place: Path) -> Iterator[Path]:
    """A file, or the job files of a folder by name."""
    if not place.exists():
        raise BadInput(f'There is no file or folder called "{place}": check the name.', "EARLIER")
    if not place.is_dir():
        yield place
        return
    files = sorted(file for file in place.iterdir() if file.suffix.lower() in ENDS and file.is_file())
    if not files:
        raise BadInput(f'There is no job file (TOML or JSON) in the folder "{place}".', "EARLIER")
    yield from files


def _looked_at(file: Path, job: Job, with_plan: bool) -> Earlier:
    """One earlier job; one that cannot be read is listed with its first fault."""
    try:
        done = load(file)
    except JobFaults as fault:
        first = fault.faults[0]
        return Earlier(file.name, "", None, str(file), f"It cannot be read. {first.path or 'file'}: {first.sentence}")
    kept_out = earlier_job(done, None, False, job.rates, str(file))
    if kept_out.why:
        return kept_out
    try:
        cut = _order(as_found(done)) if with_plan else None
        return earlier_job(done, amounts(done, cut), cut is not None, job.rates, str(file))
    except BolewrightError as fault:
        return earlier_job(done, fault, False, job.rates, str(file))


def _order(job: Job) -> CutsResult | None:
    """Its order of cuts as before work began; None where there is none."""
    if any(gap.needed for gap in missing(job, "cuts")):
        return None
    try:
        found = planning.cuts(job)
    except BolewrightError:
        return None
    return found if found.status == "plan" else None
