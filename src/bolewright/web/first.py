"""The example jobs, put into an empty store once."""

from __future__ import annotations

from bolewright.job.syntax import tables_of
from bolewright.reference.examples import examples, standing_examples
from bolewright.store.models import KeptJob
from bolewright.store.revisions import new_job
from bolewright.web.pages.jobs import units_in


def load_examples() -> int:
    """How many example jobs were put in; none when the store already holds a job."""
    if KeptJob.objects.exists():
        return 0
    found = [*examples().items(), *standing_examples().items()]
    for name, place in reversed(found):  # the newest stands first in the list
        document = tables_of(place.read_text(encoding="utf-8"))
        new_job(document, "", "example job", units_in(document), name)
    return len(found)
