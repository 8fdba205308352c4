"""What the pages of a job share."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Literal, cast

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from bolewright.store.models import KeptJob, LogEntry, Revision
from bolewright.store.revisions import open_conflicts, tables
from bolewright.web.look import draft_of
from bolewright.web.stages import stages

Units = Literal["us", "metric"]


def job_of(key: str) -> KeptJob:
    """The job of an address."""
    job = KeptJob.objects.filter(key=key).first()
    if job is None:
        raise Http404("There is no such job here: go back to the jobs.")
    return job


def units_of(job: KeptJob) -> Units:
    """How numbers are written."""
    return cast(Units, job.units)


def whole_number(text: str | None) -> int | None:
    """A number of a row or of days as a form sends it; None for anything else."""
    return int(text) if text and text.isascii() and text.isdecimal() and len(text) < 12 else None


def there(place: Path) -> Path:
    """The place of a photograph's file, which is there; 404 in words where it is gone."""
    if not place.is_file():
        raise Http404(
            "The file of this photograph is not in the data folder any more: put the folder back from a backup."
        )
    return place


def data_folder() -> Path:
    """Where files are kept."""
    return Path(settings.BOLEWRIGHT_DATA)


def title_of(revision: Revision) -> str:
    """The job's title as typed, or a word for none."""
    facts = tables(revision).get("job")
    title = facts.get("title") if isinstance(facts, dict) else None
    return str(title) if title else "Job without a title"


def is_stopped(job: KeptJob) -> LogEntry | None:
    """The stop that still stands."""
    last = job.log.filter(kind__in=("stopped", "went on")).last()
    return last if last is not None and last.kind == "stopped" else None


def is_standing(revision: Revision) -> bool:
    """Whether the tree of the job stands."""
    tree = tables(revision).get("tree")
    return isinstance(tree, dict) and tree.get("attached") == "standing"


def facts(job: KeptJob, here: str, revision: Revision | None = None) -> dict[str, Any]:
    """What every page of a job is given."""
    revision = revision or job.latest
    standing = is_standing(revision)
    return {
        "job": job,
        "revision": revision,
        "title": title_of(revision),
        "stages": stages(job.key, here, standing, standing and "failure" in tables(revision)),
        "standing": standing,
        "here": here,
        "stopped": is_stopped(job),
        "draft": draft_of(revision.text),
        "units": units_of(job),
        "conflicts": open_conflicts(job),
        "can_undo": (revision.restores or revision.number) > 1,
    }


def page(request: HttpRequest, template: str, given: dict[str, Any], status: int = 200) -> HttpResponse:
    """A page that is never kept by the browser: the next look has to be the saved state."""
    answer = render(request, f"bolewright/{template}.html", given, status=status)
    answer["Cache-Control"] = "no-store"
    return answer
