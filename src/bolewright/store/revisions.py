"""Saving a job: every change adds a revision, and what met another's change is kept beside the line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from django.db import IntegrityError, transaction

from bolewright.job.faults import Fault, JobFaults
from bolewright.job.syntax import tables_of
from bolewright.job.write import dump_tables
from bolewright.store.edits import Conflict, Edit, Tables, applied, carried_over, changes
from bolewright.store.models import KeptJob, Revision
from bolewright.store.models.jobs import first_revision

LARGEST = 1_000_000  # characters of a job document
TRIES = 5


@dataclass(frozen=True)
class Saved:
    """What became of a change: the newest revision, whether others' changes were taken in, and what met theirs."""

    revision: Revision
    merged: bool
    aside: Revision | None
    conflicts: tuple[Conflict, ...]


@lru_cache(maxsize=64)
def read_document(text: str) -> Tables:
    """The tables in a document; not to be altered."""
    return tables_of(text)


def tables(revision: Revision) -> Tables:
    """The document of a revision as plain tables; not to be altered."""
    return read_document(revision.text)


def new_job(document: Tables, by: str, what: str, units: str = "us", example: str = "") -> KeptJob:
    """A job with its first revision."""
    with transaction.atomic():
        job = KeptJob.objects.create(units=units, example=example)
        first_revision(job, _written(document), by, what)
    return job


def save(
    job: KeptJob, base: int, edits: Sequence[Edit], by: str, what: str, own: Sequence[Sequence[Edit]] = ()
) -> Saved:
    """Add the edits, made on revision `base` with the edits `own` already typed over it, to what is saved now."""
    for left in reversed(range(TRIES)):
        try:
            with transaction.atomic():
                return _save(job, base, edits, by, what, own)
        except IntegrityError:  # another took the number in the same moment
            if not left:
                raise
    raise AssertionError


def as_seen(revision: Revision, own: Sequence[Sequence[Edit]]) -> Tables:
    """The document as a page shows it that has sent edits without hearing what became of them."""
    document = tables(revision)
    for edits in own:
        document = applied(document, edits)
    return document


def _save(job: KeptJob, base: int, edits: Sequence[Edit], by: str, what: str, own: Sequence[Sequence[Edit]]) -> Saved:
    locked = KeptJob.objects.select_for_update().get(pk=job.pk)
    latest = locked.latest
    seen = latest if latest.number == base else revision_of(locked, base)
    start, now = as_seen(seen, own), tables(latest)
    fine, conflicts = carried_over(start, now, edits)
    revision = latest
    if fine:
        revision = _add(locked, latest, applied(now, fine), by, what, base=base)
    aside = None
    if conflicts:
        document = applied(start, edits)
        fields: dict[str, Any] = {"aside": True, "base": base, "by": by, "what": what}
        aside = Revision.objects.create(job=locked, number=base, text=_written(document), **fields)
    return Saved(revision, seen.number != latest.number, aside, tuple(conflicts))


class Stale(Exception):
    """A change was made on a revision that is not the newest any more."""

    def __init__(self, latest: Revision) -> None:
        self.latest = latest
        super().__init__(f"The job is at revision {latest.number} by now.")


def replace(job: KeptJob, base: int, document: Tables, by: str, what: str) -> Revision:
    """The whole document in place of that of revision `base`; the same document adds none. Raises Stale."""
    try:
        with transaction.atomic():
            locked = KeptJob.objects.select_for_update().get(pk=job.pk)
            latest = locked.latest
            if latest.number != base:
                raise Stale(latest)
            same = _comparable(tables(latest)) == _comparable(document)
            return latest if same else _add(locked, latest, document, by, what, base=base)
    except IntegrityError:  # another took the number in the same moment
        raise Stale(job.latest) from None


def revision_of(job: KeptJob, number: int) -> Revision:
    """A revision in the line; the first one when there is none of that number."""
    line = job.revisions.filter(aside=False)
    return line.filter(number=number).first() or line.earliest("number")


def restore(job: KeptJob, number: int, by: str) -> Revision:
    """Bring back what an earlier revision said, as a new one."""
    with transaction.atomic():
        locked = KeptJob.objects.select_for_update().get(pk=job.pk)
        old, latest = revision_of(locked, number), locked.latest
        what = f"went back to revision {old.number}"
        return _add(locked, latest, tables(old), by, what, base=latest.number, restores=old.number)


def undo(job: KeptJob, by: str) -> Revision | None:
    """Take back the last change, or with another call the one before it; None when there is nothing to take back."""
    latest = job.latest
    target = (latest.restores or latest.number) - 1
    return restore(job, target, by) if target >= 1 else None


def open_conflicts(job: KeptJob) -> list[tuple[Revision, tuple[Conflict, ...]]]:
    """Versions kept aside that still differ from what is saved, with the places where they do."""
    found = []
    for aside in job.revisions.filter(aside=True, settled=False):
        conflicts = conflicts_of(job, aside)
        if conflicts:
            found.append((aside, conflicts))
    return found


def conflicts_of(job: KeptJob, aside: Revision) -> tuple[Conflict, ...]:
    """Where a version kept aside meets what is saved now."""
    start = tables(revision_of(job, aside.base))
    _, conflicts = carried_over(start, tables(job.latest), changes(start, tables(aside)))
    return tuple(conflicts)


def settle(job: KeptJob, aside: Revision, mine: Sequence[int], by: str) -> Revision:
    """Take these of the differing places from the version kept aside, leave the others as saved."""
    with transaction.atomic():
        locked = KeptJob.objects.select_for_update().get(pk=job.pk)
        latest = locked.latest
        found = conflicts_of(locked, aside)
        edits = [edit for n in mine if 0 <= n < len(found) for edit in found[n].mine]
        if edits:
            document = applied(tables(latest), edits)
            latest = _add(locked, latest, document, by, "chose between two versions", base=latest.number)
        aside.settled = True
        aside.save(update_fields=["settled"])
    return latest


def _add(job: KeptJob, latest: Revision, document: Tables, by: str, what: str, **fields: Any) -> Revision:
    text = _written(document)
    number = latest.number + 1
    return Revision.objects.create(job=job, number=number, text=text, by=by, what=what[:200], **fields)


def _written(document: Tables) -> str:
    """The document as text that reads back the same. Raises JobFaults when it is too large or cannot be written."""
    try:
        text = dump_tables(document)
    except (TypeError, ValueError):
        raise JobFaults([Fault("", "This job has a value that cannot be kept as text: type it again.")]) from None
    if len(text) > LARGEST:
        raise JobFaults([Fault("", f"This job is too large to keep: at most {LARGEST // 1000} kB of text fit.")])
    if _comparable(read_document(text)) != _comparable(document):
        raise JobFaults([Fault("", "This job has a value that does not read back as typed: type it again.")])
    return text


def _comparable(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _comparable(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_comparable(item) for item in value]
    return str(value) if not isinstance(value, bool | int | float) else value
