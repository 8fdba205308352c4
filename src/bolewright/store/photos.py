"""Photographs of a job, and the views each stage asks for: filled, waived with a reason, or missing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from django.db import transaction

from bolewright.store.models import KeptJob, Photo, PhotoNote, Waiver
from bolewright.store.pictures import NotAPhoto, Picture, keep


@dataclass(frozen=True)
class View:
    """A view somebody will ask for afterwards."""

    id: str
    stage: str
    words: str


BEFORE, DURING, AFTER = "before", "during", "after"
VIEWS = (
    View("whole-near", BEFORE, "The whole tree and building from the butt end"),
    View("whole-far", BEFORE, "The whole tree and building from the tip end"),
    View("whole-side", BEFORE, "The whole tree and building from one side"),
    View("butt", BEFORE, "Roots, break or stump at the butt, close, with a tape in the picture"),
    View("bearing", BEFORE, "Each place where the tree bears on the building, close"),
    View("lines", BEFORE, "Wires, meters and service lines, from well away"),
    View("damage", BEFORE, "Roof, gutter, walls and windows as the tree left them"),
    View("way-out", BEFORE, "Lawn, drive, gate and fence along the way out"),
    View("secured", DURING, "Props, chocks and lines in place, before the first cut"),
    View("section", DURING, "The cut face or break that shows decay or the cause, with a tape"),
    View("same-places", AFTER, "The building again, from the places of the first pictures"),
    View("opening", AFTER, "The opening before and after it was covered"),
    View("ground-after", AFTER, "Lawn, drive, gate and fence again"),
)


@dataclass(frozen=True)
class ViewState:
    """A required view with what fills it."""

    view: View
    photos: tuple[Photo, ...]
    waiver: Waiver | None

    @property
    def state(self) -> str:
        """filled | waived | missing"""
        return "filled" if self.photos else "waived" if self.waiver else "missing"


def view_states(job: KeptJob) -> list[ViewState]:
    """Every required view in the order of the day."""
    photos, waivers = list(job.photos.all()), {w.view: w for w in job.waivers.all()}
    return [ViewState(v, tuple(p for p in photos if p.view == v.id), waivers.get(v.id)) for v in VIEWS]


def missing_before_cutting(job: KeptJob) -> list[View]:
    """Views of the first stage that are neither filled nor waived."""
    return [s.view for s in view_states(job) if s.view.stage == BEFORE and s.state == "missing"]


def add_photo(job: KeptJob, folder: Path, picture: Picture, name: str, view: str, stage: str, by: str,
              facing: str = "", note: str = "", made_at: datetime | None = None) -> tuple[Photo, bool]:  # fmt: skip
    """Keep a photograph; sent a second time for the same view it is not kept twice. The row, and whether it is new."""
    if view and view not in {v.id for v in VIEWS}:
        raise NotAPhoto("There is no such view: choose one of the list.")
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


def waive(job: KeptJob, view: str, reason: str, by: str) -> Waiver:
    """Do without a view. Raises ValueError with a sentence when no reason or name is given."""
    if view not in {v.id for v in VIEWS}:
        raise ValueError("There is no such view: choose one of the list.")
    if len(reason.strip()) < 3:
        raise ValueError("Write down why this view is done without: somebody will ask.")
    if not by.strip():
        raise ValueError("Write down who decides to do without this view.")
    return Waiver.objects.create(job=job, view=view, reason=reason.strip()[:500], by=by.strip()[:80])
