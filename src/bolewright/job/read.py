"""Opens a job: every fault at once, each with its path and one plain sentence."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from pydantic import ValidationError

from bolewright.job.checks import all_faults
from bolewright.job.faults import Fault, JobFaults
from bolewright.job.guards import bytes_of, text_of, too_many
from bolewright.job.migrate import migrate
from bolewright.job.model import Job
from bolewright.job.plain import plain_faults
from bolewright.job.respell import respell
from bolewright.job.salvage import salvage
from bolewright.job.syntax import tables_of


def load(path: str | Path) -> Job:
    """The job in a TOML or JSON file, or on standard input for "-". Raises JobFaults with all that is wrong."""
    return loads(text_of(bytes_of(path)))


def loads(text: str) -> Job:
    """The job in a TOML or JSON text. Raises JobFaults with all that is wrong."""
    return from_tables(tables_of(text))


def from_tables(raw: dict[str, Any]) -> Job:
    """The job in plain tables, as TOML or JSON gives them. Raises JobFaults with all that is wrong."""
    typed = migrate(raw)
    raw, misspelt = respell(typed)
    crowded = too_many(raw)
    if crowded:  # the rest would be thousands of faults of the same kind
        raise JobFaults([*misspelt, *crowded])
    try:
        job = Job.model_validate(raw)
    except ValidationError as error:
        faults = [*misspelt, *plain_faults(error, raw), *all_faults(salvage(raw))]
        raise JobFaults(_in_order(faults, typed, raw)) from None
    faults = [*misspelt, *all_faults(job)]
    if faults:
        raise JobFaults(_in_order(faults, typed, raw))
    return job


def _in_order(faults: list[Fault], *documents: dict[str, Any]) -> list[Fault]:
    """The faults in the order of the tables in the file, as typed and as meant; what is missing comes last."""
    places = {key: n for document in documents for n, key in enumerate(document)}
    return sorted(faults, key=lambda fault: places.get(fault.path.split(".")[0].split("[")[0], len(places)))
