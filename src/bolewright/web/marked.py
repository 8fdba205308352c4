"""What is drawn on the copy of a photograph, as drawings and papers take it."""

from __future__ import annotations

from pathlib import Path
from typing import cast

from bolewright.core.base.range import Range
from bolewright.drawings.photo_marks import PhotoMark
from bolewright.drawings.units import Units, measured
from bolewright.job.quantity import Dimension, quantity
from bolewright.planning.picture import Ends, length_read
from bolewright.store.marks import standing
from bolewright.store.models import Mark, Photo
from bolewright.store.pictures import copy_place, size_of

NAMES = {"arrow": "arrow", "text": "words", "scale": "scale", "length": "length"}


def marks_of(photo: Photo, size: tuple[int, int], units: Units) -> list[PhotoMark]:
    """The marks that stand; `size` is width and height of the upright copy in pixels."""
    return [photo_mark(mark, size, units) for mark in standing(photo)]


def marks_drawn(photo: Photo, folder: Path) -> tuple[PhotoMark, ...]:
    """The marks that stand, in the units of the job; none where the copy they are drawn on is gone."""
    place = copy_place(folder, photo.sha256)
    if not photo.marks.exists() or not place.is_file():
        return ()
    return tuple(marks_of(photo, size_of(place), cast(Units, photo.job.units)))


def photo_mark(mark: Mark, size: tuple[int, int], units: Units) -> PhotoMark:
    """One mark with its label, and the same in a sentence with who and when."""
    label = _label(mark, size, units)
    said = f"{NAMES[mark.kind]}: {label}" if label and mark.kind != "scale" else label or NAMES[mark.kind]
    when = f"{mark.drawn_at or mark.made_at:%Y-%m-%d %H:%M} UTC{' by the tablet' if mark.drawn_at else ''}"
    told = f"{said}, {mark.by + ', ' if mark.by else ''}{when}"
    end = (mark.x2, mark.y2) if mark.x2 is not None and mark.y2 is not None else None
    return PhotoMark(mark.kind, (mark.x1 or 0.0, mark.y1 or 0.0), end, label, told)


def _label(mark: Mark, size: tuple[int, int], units: Units) -> str:
    if mark.kind == "scale":
        return f"scale {mark.measure}" + (f", {mark.words}" if mark.words else "")
    if mark.kind == "length" and mark.of is not None:
        said = measured(read_off(mark, mark.of, size), units)
        return f"{mark.words}: {said}" if mark.words else said
    return mark.words


def read_off(mark: Mark, scale: Mark, size: tuple[int, int]) -> Range:
    """What a length comes to by its scale [m]."""
    known = quantity(scale.measure, Dimension.LENGTH)
    longer = max(size)
    return length_read(
        Range(known.low, known.likely, known.high), ends_of(scale, size), ends_of(mark, size), mark.tap * longer,
        scale.tap * longer,
    )  # fmt: skip


def ends_of(mark: Mark, size: tuple[int, int]) -> Ends:
    """Both points in pixels."""
    x1, y1, x2, y2 = (value or 0.0 for value in (mark.x1, mark.y1, mark.x2, mark.y2))
    return x1 * size[0], y1 * size[1], x2 * size[0], y2 * size[1]
