"""What papers are made from, put together from the store: answers, photographs, log, signatures."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Container
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter

from bolewright.documents.given import Before, Given, LogRow, PhotoRow, Signature, ViewRow
from bolewright.drawings.units import Units
from bolewright.job.model import Job
from bolewright.planning.answers import Answers, with_out
from bolewright.planning.haul.price import Price
from bolewright.store import day
from bolewright.store.models import Answer, KeptJob, Photo, Revision, SignedPaper
from bolewright.store.pictures import copy_place, original_place, small_copy
from bolewright.store.results import read
from bolewright.store.signed import newest
from bolewright.store.views import ViewState, shown_by, view_states
from bolewright.web.look import held, whole_job
from bolewright.web.marked import marks_drawn

NOT_WHOLE = "Something in the job cannot be read: mend or take away what the pages name."
NO_ORDER = "There is no order of cuts for the job as it is saved now: work it out on the page Cuts."
AGREED_ON = ("work-authorisation", "estimate")  # papers that carry the price agreed, the later one counts
THUMB_SIZE, DRAWN_SIZE = 520, 1100  # pixels of the longer side, on paper
PRICES: TypeAdapter[Price] = TypeAdapter(Price)


@dataclass(frozen=True)
class Records:
    """What stands beside the document: plain data that can be written to a file and read back."""

    units: Units
    revision: str
    plan: str  # title of the plan taken for the day, "" for the chosen one
    photos: tuple[PhotoRow, ...]
    files: tuple[tuple[str, str], ...]  # places of original and copy of each photograph, in their order
    views: tuple[ViewRow, ...]
    log: tuple[LogRow, ...]
    signed: dict[str, Signature]
    agreed: str  # words on the price agreed
    price: str  # that price as JSON, "" without one


RECORDS: TypeAdapter[Records] = TypeAdapter(Records)


def records_of(job: KeptJob, revision: Revision, answer: Answer | None, folder: Path) -> Records:
    """Everything kept beside the document."""
    signed = newest(job)
    agreed = max((signed[name] for name in AGREED_ON if name in signed and signed[name].price), default=None,
                 key=lambda row: row.signed_at)  # fmt: skip
    units: Units = job.units  # type: ignore[assignment]
    photos, states = list(job.photos.prefetch_related("shown")), view_states(job)
    used = day.plan_in_use(job)
    return Records(
        units=units,
        revision=f"revision {revision.number}",
        plan=used[1] if used is not None and answer is not None and used[0].pk == answer.pk else "",
        photos=tuple(_photo(photo, states, folder) for photo in photos),
        files=tuple((str(original_place(folder, p.sha256, p.kind)), str(copy_place(folder, p.sha256))) for p in photos),
        views=tuple(_views(states)),
        log=tuple(LogRow(f"{line.at:%Y-%m-%d %H:%M} UTC", line.kind, _said(line), line.by) for line in job.log.all()),
        signed={name: _signature(row) for name, row in signed.items()},
        agreed=f"Beside the {agreed.paper.replace('-', ' ')} signed on {agreed.signed_at:%Y-%m-%d}." if agreed else "",
        price=agreed.price if agreed else "",
    )


def _said(line: Any) -> str:
    return f"{line.about}: {line.said}" if line.kind == "observed" and line.about else line.said


def _photo(photo: Photo, states: list[ViewState], folder: Path) -> PhotoRow:
    """What is known about a photograph: the newest note before what came with it."""
    filled = [s.view for s in states if s.view.id in shown_by(photo)]
    note = photo.notes.last()
    shows = (note.shows if note else "") or "; ".join(view.words for view in filled) or photo.note
    return PhotoRow(
        photo.number, photo.name, photo.sha256, photo.size, shows, filled[0].stage if filled else photo.stage,
        (note.taken if note else "") or photo.taken, f"{photo.received_at:%Y-%m-%d %H:%M} UTC",
        (note.photographer if note else "") or photo.by, (note.facing if note else "") or photo.facing,
        (note.place if note else "") or photo.place, drawn=marks_drawn(photo, folder),
    )  # fmt: skip


def _views(states: list[ViewState]) -> list[ViewRow]:
    return [ViewRow(s.view.stage, s.view.words, s.state, f"{s.waiver.reason} ({s.waiver.by})" if s.waiver else "")
            for s in states]  # fmt: skip


def _signature(row: SignedPaper) -> Signature:
    said = (row.by, row.role, row.statement, when(row.signed_at), row.where, row.device)
    return Signature(*said, row.version, row.shown, row.strokes)


def when(moment: Any) -> str:
    """A moment as papers write it."""
    return f"{moment:%Y-%m-%d %H:%M:%S} UTC"


@lru_cache(maxsize=8)
def _answers(text: str, answer: str, plan: str) -> tuple[Job | None, Answers]:
    """The job with what it answers. What the pages have worked out already is used, not worked out again."""
    job = whole_job(text)
    if job is None:
        return None, Answers()
    if answer:
        worked = read(answer)
        cuts = worked.cuts
        if plan and plan != cuts.chosen.title:
            taken = worked.plan(plan)
            others = tuple(p for p in (cuts.chosen, *cuts.alternatives) if p.title != taken.title)
            cuts = replace(cuts, chosen=taken, alternatives=others)
        return job, with_out(job, Answers(worked.weigh, worked.hold, cuts))
    found = held(text)
    why = {"cuts": NO_ORDER, **({"hold": " ".join(found.why)} if found.why else {})}
    return job, with_out(job, Answers(found.weight, found.hold, why_not=why))


def given(text: str, answer: str, records: Records, pictures: bool = False) -> Given | None:
    """What papers are made from; None while the document cannot be read whole. Photographs only when asked for."""
    job, found = _answers(text, answer, records.plan)
    if job is None:
        return None
    photos = records.photos
    if pictures:
        photos = tuple(_looked_at(row, *map(Path, places)) for row, places in zip(photos, records.files, strict=True))
    before = Before(records.agreed, PRICES.validate_json(records.price)) if records.price else None
    return Given.of(job, found, units=records.units, day=job.job.date, revision=records.revision, photos=photos,
                    views=records.views, log=records.log, signed=records.signed, before=before)  # fmt: skip


def photos_on_paper(job: KeptJob, folder: Path, shown: Container[int]) -> tuple[PhotoRow, ...]:
    """Every photograph of a job; those of these numbers with a small copy, and whether the original is as it came."""
    states, rows = view_states(job), list[PhotoRow]()
    for photo in job.photos.prefetch_related("shown"):
        row = _photo(photo, states, folder)
        if photo.number in shown:
            places = original_place(folder, photo.sha256, photo.kind), copy_place(folder, photo.sha256)
            row = _looked_at(row, *places)
        rows.append(row)
    return tuple(rows)


def _looked_at(row: PhotoRow, original: Path, copy: Path) -> PhotoRow:
    """With a small copy for paper, and whether the original still has its hash."""
    untouched = original.is_file() and hashlib.sha256(original.read_bytes()).hexdigest() == row.sha256
    small = small_copy(copy, DRAWN_SIZE if row.drawn else THUMB_SIZE)
    if small is None:
        return replace(row, untouched=untouched, original=original if untouched else None)
    return replace(row, untouched=untouched, thumb=small[0], thumb_size=small[1],
                   original=original if untouched else None)  # fmt: skip


def price_text(found: Given) -> str:
    """The price as JSON, "" without one."""
    return PRICES.dump_json(found.price).decode("utf-8") if found.price is not None else ""


def written(records: Records) -> str:
    """The records as JSON."""
    return json.dumps(RECORDS.dump_python(records, mode="json"), sort_keys=True, ensure_ascii=False)


def read_back(text: str) -> Records:
    """The records in such JSON."""
    return RECORDS.validate_json(text)
