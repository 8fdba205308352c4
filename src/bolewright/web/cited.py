"""Photographs named on a page of a standing tree, each beside the photograph itself, or said to be missing."""

from __future__ import annotations

from dataclasses import dataclass

from bolewright.job.cited import citations
from bolewright.job.model import Job
from bolewright.store.models import KeptJob, Photo


@dataclass(frozen=True)
class Named:
    """A photograph as named, what for, and the one it is; None where the job has none of that number or name."""

    name: str
    words: str
    photo: Photo | None


def named_on(page: str, found: Job | None, job: KeptJob) -> tuple[Named, ...]:
    """Every photograph named on a page, once, in the order of the record."""
    cited = [c for c in citations(found) if c.page == page] if found is not None else []
    photos = list(job.photos.all()) if cited else []
    rows: dict[str, Named] = {}
    for c in cited:
        photo = next((p for p in photos if c.names(p.number, p.name)), None)
        key = str(photo.number) if photo is not None else c.name
        before = f"{rows[key].words}; " if key in rows else ""
        rows[key] = Named(c.name, before + c.words, photo)
    return tuple(rows.values())
