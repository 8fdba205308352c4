"""Photographs of the pack: the originals that are still as they came, and the copies somebody drew on."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from bolewright.documents.given import Given, PhotoRow
from bolewright.drawings.photo_marks import marked_photo

MOST_BYTES = 2_000_000_000  # of all originals: what still goes by a link or on a stick


@dataclass(frozen=True)
class Original:
    """An original with its name in the pack; its hash was found to agree when the papers were made."""

    name: str
    place: Path
    size: int
    sha256: str


def name_of(photo: PhotoRow) -> str:
    """Under its number, whatever the camera called it; "" for one that is not as it came, or not here."""
    if photo.original is None or not photo.untouched:
        return ""
    return f"photographs/{photo.number:04d}{photo.original.suffix.lower()}"


def originals(given: Given) -> tuple[Original, ...]:
    """Those that go into the pack; none when there are too many bytes of them."""
    found = [(photo, name_of(photo)) for photo in given.photos or ()]
    kept = tuple(Original(n, p.original, p.size, p.sha256) for p, n in found if n and p.original is not None)
    return kept if sum(one.size for one in kept) <= MOST_BYTES else ()


def too_much(given: Given) -> str:
    """Why the originals stay out, "" when they do not."""
    size = sum(p.size for p in given.photos or () if name_of(p))
    if size <= MOST_BYTES:
        return ""
    most = f"{MOST_BYTES / 1e9:.0f} GB"
    return f"left out: the originals come to {size / 1e9:.1f} GB, more than {most}; hand them over apart"


def drawn_on(given: Given) -> dict[str, bytes]:
    """Copies with what was drawn on them, as drawings with the picture inside."""
    found = {}
    for photo in given.photos or ():
        if photo.drawn and photo.thumb is not None:
            title = f"Photograph {photo.number}, a copy that was drawn on; original's SHA-256 {photo.sha256}"
            drawing = marked_photo(photo.thumb, *photo.thumb_size, photo.drawn, title)
            found[f"photographs/drawn-on/{photo.number:04d}.svg"] = drawing.encode("utf-8")
    return found
