"""Photographs named on a page of a standing tree, each beside the photograph itself, or said to be missing."""

from __future__ import annotations

from dataclasses import dataclass

from bolewright.job.cited import citations, named_for
from bolewright.job.model import Job
from bolewright.store.models import KeptJob, Photo


@dataclass(frozen=True)
class Shown:
    """A photograph that is named, and what for."""

    words: str
    photo: Photo


@dataclass(frozen=True)
class Named:
    """The photographs named on a page that the job has, once each, and in words those it has none of."""

    shown: tuple[Shown, ...]
    missing: str


def named_on(page: str, found: Job | None, job: KeptJob) -> Named | None:
    """Every photograph named on a page, in the order of the record; None where none is."""
    cited = [c for c in citations(found) if c.page == page] if found is not None else []
    photos = list(job.photos.all()) if cited else []
    words: dict[int, list[str]] = {}
    lost = []
    for c in cited:
        photo = next((p for p in photos if c.names(p.number, p.name)), None)
        if photo is None:
            lost.append(c)
        else:
            words.setdefault(photo.number, []).append(c.words)
    by_number = {photo.number: photo for photo in photos}
    shown = tuple(Shown("; ".join(said), by_number[number]) for number, said in words.items())
    return Named(shown, named_for(lost)) if cited else None
