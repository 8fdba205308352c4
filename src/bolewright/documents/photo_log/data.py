"""What stands in the photo log."""

from __future__ import annotations

from typing import Any

from bolewright.documents.given import Given, PhotoRow
from bolewright.documents.parts import NOT_ENTERED, Block, Section, photograph, section, table, words
from bolewright.drawings.photo_marks import marked_photo
from bolewright.planning.picture import HOLDS

STAGES = (("before", "Before anything moves"), ("during", "During the work"), ("after", "When the tree is out"))


def lacking(given: Given) -> list[str]:
    """Photographs."""
    if given.photos is None:
        return [
            "No photographs come with a job file: send them to the field sheet, or name their folder with --photos."
        ]
    return [] if given.photos else ["There are no photographs yet."]


def sections(given: Given) -> list[Section]:
    """How they are kept, the views asked for, then every photograph by stage."""
    photos = given.photos or ()
    known = {stage for stage, _ in STAGES}
    found = [
        section(
            "How they are kept",
            words(_kept(photos)),
            plain="A hash is the fingerprint of a file. If one dot of a picture changes, its hash is another.",
        ),
        _views(given),
        *(_stage(heading, [p for p in photos if p.stage == stage]) for stage, heading in STAGES),
        _stage("Others", [p for p in photos if p.stage not in known]),
    ]
    return [part for part in found if part is not None]


def _kept(photos: tuple[PhotoRow, ...]) -> str:
    gone = [str(p.number) for p in photos if p.untouched is False]
    gaps = sorted(set(range(1, max((p.number for p in photos), default=0) + 1)) - {p.number for p in photos})
    text = (
        f"{len(photos)} photograph{'' if len(photos) == 1 else 's'}. Originals are kept as they came and never written "
        "over; copies are made from them."
    )
    text += f" NOT as they came any more: {', '.join(gone)}." if gone else ""
    return text + (f" Numbers that are missing: {', '.join(map(str, gaps))}." if gaps else " No number is missing.")


def _views(given: Given) -> Section | None:
    if not given.views:
        return None
    rows = [[view.stage, view.words, view.state, view.reason or "–"] for view in given.views]
    return section(
        "Views asked for",
        table((0.7, 2.8, 0.8, 1.6), ("When", "View", "", "Reason if done without"), rows),
        plain="What will be asked for afterwards, and what was done without.",
        wide=True,
    )


def _stage(heading: str, photos: list[PhotoRow]) -> Section | None:
    if not photos:
        return None
    block: Block = {"kind": "photos", "rows": [_row(photo) for photo in photos]}
    return section(heading, block)


def _row(photo: PhotoRow) -> dict[str, Any]:
    shows = photo.shows or "what it shows: " + NOT_ENTERED
    facts = [
        ["Taken", photo.taken or "the camera wrote no time"],
        ["Received", photo.received or "not known"],
        ["By", photo.by or NOT_ENTERED],
        ["Facing", photo.facing or NOT_ENTERED],
        ["Place", photo.place or "the camera wrote no place"],
        ["File", f"{photo.name}, {photo.size:,} bytes"],
    ]
    if photo.untouched is not None:
        facts.append(["Original", "as it came" if photo.untouched else "NOT as it came: its hash is another now"])
    if photo.drawn:
        facts.append(["Drawn on", "the copy shown here; the original has nothing drawn on it"])
    return {
        "number": str(photo.number),
        "shows": shows,
        "facts": facts,
        "sha": f"SHA-256 {photo.sha256}",
        "picture": picture_of(photo, f"Photograph {photo.number}: {shows}"),
        "drawn": [*(mark.told for mark in photo.drawn), *([HOLDS] if _reads_a_length(photo) else [])],
    }


def _reads_a_length(photo: PhotoRow) -> bool:
    return any(mark.kind == "length" for mark in photo.drawn)


def picture_of(photo: PhotoRow, alt: str) -> dict[str, str] | None:
    """The small copy, with what was drawn on it."""
    if photo.thumb is None:
        return None
    if not photo.drawn:
        return photograph(photo.thumb, alt)
    told = "; ".join(mark.told for mark in photo.drawn)
    return {"svg": marked_photo(photo.thumb, *photo.thumb_size, photo.drawn, alt), "alt": f"{alt}. Drawn on it: {told}"}
