"""What is drawn on copies of photographs: kept as data, never on the file; taken back by a further row."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from bolewright.core.base.errors import BadInput
from bolewright.job.quantity import BadQuantity, Dimension, quantity
from bolewright.planning.picture import Ends, apart, check_scale
from bolewright.store.models import Mark, Photo

KINDS = ("arrow", "text", "scale", "length")
LEAST_TAP, MOST_TAP = 0.002, 0.05
MOST_MARKS = 60  # standing on one photograph
NEAREST = 0.004  # two ends nearer to each other are one tap twice


class NotDrawn(ValueError):
    """Why nothing was drawn, in one plain sentence."""


@dataclass(frozen=True)
class Wanted:
    """A mark as asked for: places as shares of width and height, None where not tapped."""

    kind: str
    start: tuple[float, float] | None
    end: tuple[float, float] | None
    words: str = ""
    measure: str = ""
    tap: float = 0.01
    scale: str = ""  # which one a length is read by: its number, or the key of the entry it came as; else the newest


def standing(photo: Photo) -> list[Mark]:
    """The marks that were not taken back, in the order they were drawn."""
    rows = list(photo.marks.all())
    gone = {row.of_id for row in rows if row.kind == "taken back"}
    return [row for row in rows if row.kind in KINDS and row.pk not in gone]


def newest_scale(marks: Sequence[Mark]) -> Mark | None:
    """The scale that lengths are read by."""
    return next((m for m in reversed(marks) if m.kind == "scale"), None)


def draw(photo: Photo, wanted: Wanted, size: tuple[int, int], by: str, drawn_at: datetime | None = None,
         key: str = "") -> Mark:  # fmt: skip
    """Keep a mark; `size` is that of the upright copy [pixels], `drawn_at` and `key` come with an entry of a tablet.
    Raises NotDrawn with what is missing."""
    if wanted.kind not in KINDS:
        raise NotDrawn("Choose what to draw: an arrow, words, a scale or a length.")
    marks = standing(photo)
    if len(marks) >= MOST_MARKS:
        raise NotDrawn(f"There are {MOST_MARKS} marks on this copy: take some back first.")
    (x1, y1), (x2, y2) = _points(wanted)
    tap = min(max(wanted.tap, LEAST_TAP), MOST_TAP)
    if wanted.kind == "scale" and x2 is not None and y2 is not None:
        _check_scale((x1 * size[0], y1 * size[1], x2 * size[0], y2 * size[1]), tap * max(size))
    return Mark.objects.create(
        photo=photo, kind=wanted.kind, x1=x1, y1=y1, x2=x2, y2=y2, words=_words(wanted), measure=_measure(wanted),
        of=_scale(marks, wanted.scale) if wanted.kind == "length" else None, by=by[:80], tap=tap, drawn_at=drawn_at,
        key=key[:64],
    )  # fmt: skip


def _points(wanted: Wanted) -> tuple[tuple[float, float], tuple[float, float] | tuple[None, None]]:
    if wanted.start is None:
        raise NotDrawn("Tap the place on the picture, or type it as shares of width and height.")
    if wanted.kind == "text":
        _check(wanted.start)
        return wanted.start, (None, None)
    if wanted.end is None:
        raise NotDrawn("Tap where it ends, too, or type it as shares of width and height.")
    _check(wanted.start)
    _check(wanted.end)
    if max(abs(a - b) for a, b in zip(wanted.start, wanted.end, strict=True)) < NEAREST:
        raise NotDrawn("Both points are the same: tap where it begins and where it ends.")
    return wanted.start, wanted.end


def _check_scale(ends: Ends, off: float) -> None:
    try:
        check_scale(apart(ends), off)
    except BadInput as fault:
        raise NotDrawn(fault.sentence) from None


def _check(point: tuple[float, float]) -> None:
    if not all(0.0 <= share <= 1.0 for share in point):
        raise NotDrawn("A point lies outside the picture: from 0 to 100 % across and down.")


def _words(wanted: Wanted) -> str:
    words = " ".join("".join(c if c.isprintable() else " " for c in wanted.words).split())[:120]
    if wanted.kind == "text" and not words:
        raise NotDrawn("Write the words that are to stand there.")
    return words


def _measure(wanted: Wanted) -> str:
    """The length of a scale, readable and more than nothing."""
    if wanted.kind != "scale":
        return ""
    try:
        found = quantity(wanted.measure, Dimension.LENGTH)
    except BadQuantity as fault:
        raise NotDrawn(f"How long is the scale? {fault}") from None
    if found.low <= 0.0:
        raise NotDrawn("The scale has to be longer than nothing, its spread counted.")
    return found.text


def _scale(marks: Sequence[Mark], asked: str) -> Mark:
    """The scale the page of a length showed, so that one drawn meanwhile by somebody else does not take its place."""
    if asked:
        shown = next((m for m in marks if m.kind == "scale" and asked in (str(m.pk), m.key)), None)
        if shown is None:
            raise NotDrawn("The scale this length was to be read by was taken back meanwhile: draw both again.")
        return shown
    found = newest_scale(marks)
    if found is None:
        raise NotDrawn("Draw a scale first: two points on something whose length you know.")
    return found


def take_back(photo: Photo, number: int, by: str) -> list[Mark]:
    """Take a mark back, and the lengths read by it; the rows stay. Raises NotDrawn when there is no such mark."""
    marks = standing(photo)
    found = next((m for m in marks if m.pk == number), None)
    if found is None:
        raise NotDrawn("There is no such mark any more.")
    gone = [found, *(m for m in marks if m.of_id == found.pk)]
    return [Mark.objects.create(photo=photo, kind="taken back", of=mark, by=by[:80]) for mark in gone]
