"""Photographs a paper names: number, what is known of each, and where to find it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class PhotoNote:
    """One photograph as the store knows it. `link` is where it can be looked at, "" on paper alone."""

    number: int
    name: str
    shows: str
    taken: str
    by: str
    sha256: str
    link: str = ""


def photo_rows(photos: Sequence[PhotoNote]) -> list[dict[str, str]]:
    """The photographs as rows: number, what it shows, when and by whom, the name of the original and its hash."""
    return [
        {
            "number": str(photo.number),
            "shows": photo.shows,
            "taken": ", ".join(part for part in (photo.taken, photo.by) if part),
            "name": photo.name,
            "hash": photo.sha256,
            "link": photo.link,
        }
        for photo in photos
    ]
