"""The example jobs, put into an empty store once."""

from __future__ import annotations

from bolewright.job.syntax import tables_of
from bolewright.reference.examples import examples
from bolewright.store.models import KeptJob
from bolewright.store.revisions import new_job


def load_examples() -> int:
    """How many example jobs were put in; none when the store already holds a job."""
    if KeptJob.objects.exists():
        return 0
    found = list(examples().items())
    for name, place in reversed(found):  # the newest stands first in the list
        new_job(tables_of(place.read_text(encoding="utf-8")), "", "example job", example=name)
    return len(found)
