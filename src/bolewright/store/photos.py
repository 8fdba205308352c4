"""Photographs of a job: kept once, with what is known about them beside what the camera wrote."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from pathlib import Path

from django.db import transaction

from bolewright.planning.order.views import BEFORE, GENERAL, View
from bolewright.store.models import KeptJob, Photo, PhotoNote
from bolewright.store.pictures import NotAPhoto, Picture, keep
from bolewright.store.views import view_of

VIEWS = GENERAL  # of every job, whatever its plan


class NoSuchView(NotAPhoto):
    """The view a photograph was sent for is none the job asks for."""


def add_photo(job: KeptJob, folder: Path, picture: Picture, name: str, view: str, by: str, facing: str = "",
              note: str = "", made_at: datetime | None = None, stage: str = BEFORE) -> tuple[Photo, bool]:  # fmt: skip
    """Keep a photograph; sent a second time for the same view it is not kept twice. The row, and whether it is new.

    `stage` counts for one without a view. Raises NoSuchView when the job asks for no such view.
    """
    asked = _view(job, view) if view else None
    stage, note = (asked.stage, note or _own_words(asked)) if asked is not None else (stage, note)
    keep(folder, picture)
    with transaction.atomic():
        KeptJob.objects.select_for_update().get(pk=job.pk)
        known = job.photos.filter(sha256=picture.sha256, view=view).first()
        if known is not None:
            return known, False
        last = job.photos.order_by("-number").first()
        photo = Photo.objects.create(
            job=job, number=(last.number if last else 0) + 1, stage=stage, view=view, sha256=picture.sha256,
            name=name[-200:], kind=picture.kind, size=picture.size, width=picture.width, height=picture.height,
            taken=picture.taken, place=picture.place, by=by[:80], facing=facing[:80], note=note[:500],
            made_at=made_at,
        )  # fmt: skip
    return photo, True


def _view(job: KeptJob, name: str) -> View:
    try:
        return view_of(job, name)
    except ValueError as fault:
        raise NoSuchView(str(fault)) from None


def _own_words(view: View) -> str:
    """What a view of the plan shows stays with the photograph: the next plan may ask for others."""
    return "" if view in GENERAL else view.words


LONGEST = {"shows": 500, "facing": 80, "taken": 40, "place": 60, "photographer": 80}  # characters, as in the table
NOTED = (
    ("shows", "What it shows"),
    ("facing", "Facing"),
    ("taken", "Taken, when the camera's clock was wrong or silent"),
    ("place", "Place"),
    ("photographer", "Taken by"),
)


def note_about(photo: Photo, said: Mapping[str, str], by: str) -> PhotoNote | None:
    """What somebody says about a photograph, as a new row beside what the camera wrote; None when nothing is new."""
    fields = {name: said.get(name, "").strip()[: LONGEST[name]] for name, _ in NOTED}
    last = photo.notes.last()
    if fields == ({name: getattr(last, name) for name, _ in NOTED} if last else dict.fromkeys(fields, "")):
        return None
    return PhotoNote.objects.create(photo=photo, by=by[:80], **fields)
