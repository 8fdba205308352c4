"""Photographs on paper: those the record names as pictures, all of them with their hashes, the missing named."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from bolewright.documents.given import PhotoRow
from bolewright.documents.photo_log.data import picture_of
from bolewright.job.cited import Citation, citations, named_for
from bolewright.job.model import Job

HASH_START = 16  # signs of a hash under a picture; the whole of it stands in the list
NO_PICTURE = "The file is not here, or no picture could be made of it: only what is known about it is left."


def photographs(job: Job, photos: Sequence[PhotoRow]) -> dict[str, Any]:
    """Pictures of the photographs the record names, a list of all that came, and what is named and did not come."""
    cited = citations(job)
    shown = [(photo, _words(cited, photo)) for photo in photos]
    return {
        "figures": [_figure(photo, words) for photo, words in shown if words],
        "rows": [_row(photo) for photo in photos],
        "missing": _missing(cited, photos),
    }


def _words(cited: Sequence[Citation], photo: PhotoRow) -> str:
    """What the record names a photograph for; "" where it does not."""
    return "; ".join(dict.fromkeys(c.words for c in cited if c.names(photo.number, photo.name)))


def _missing(cited: Sequence[Citation], photos: Sequence[PhotoRow]) -> list[str]:
    lost = [c for c in cited if not any(c.names(photo.number, photo.name) for photo in photos)]
    if not lost:
        return []
    head = "Some photographs are missing here" if photos else "No photograph came with this paper"
    return [f"{head}. The record names {named_for(lost)}."]


def _figure(photo: PhotoRow, words: str) -> dict[str, Any]:
    shows = photo.shows or words
    state = "" if photo.untouched is not False else "The original is NOT as it came: its hash is another now."
    return {
        "number": str(photo.number),
        "shows": shows,
        "for": words if photo.shows else "",
        "taken": ", ".join(part for part in (photo.taken, photo.by) if part),
        "hash": photo.sha256[:HASH_START],
        "link": photo.link,
        "state": state,
        "picture": picture_of(photo, f"Photograph {photo.number}: {shows}"),
        "none": NO_PICTURE,
    }


def _row(photo: PhotoRow) -> dict[str, str]:
    """One photograph of the list: number, what it shows, when and by whom, the name of the original and its hash."""
    return {
        "number": str(photo.number),
        "shows": photo.shows,
        "taken": ", ".join(part for part in (photo.taken, photo.by) if part),
        "name": photo.name,
        "hash": photo.sha256,
        "link": photo.link,
    }
