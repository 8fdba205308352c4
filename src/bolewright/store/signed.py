"""Signed papers of a job: kept once with the hash of the file, looked up, checked."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import transaction

from bolewright.store.models import KeptJob, LogEntry, SignedPaper

MOST_STROKES = 20_000  # characters
_STROKES = re.compile(r"M[0-9]{1,3} [0-9]{1,3}(?: L[0-9]{1,3} [0-9]{1,3}){1,4000}")
_MOVES = re.compile(r"(?=M)")
CHANGE_ORDER = "change-order"


class NotSigned(ValueError):
    """Why a signature is not taken, in one plain sentence."""


@dataclass(frozen=True)
class Written:
    """What goes beside the file."""

    paper: str
    revision: int
    shown: str
    lines: list[str]
    about: Any
    price: str
    by: str
    role: str
    statement: str
    signed_at: Any
    where: str
    device: str
    handed_by: str
    strokes: str


def strokes_of(text: str) -> str:
    """The lines drawn on the screen as one SVG path, "" for none. Raises NotSigned for what is no drawing."""
    typed = text.strip()
    if not typed:
        return ""
    parts = [part.strip() for part in _MOVES.split(typed) if part.strip()]
    if len(typed) > MOST_STROKES or not all(_STROKES.fullmatch(part) for part in parts):
        raise NotSigned("The signature did not come whole: clear it and sign again.")
    return " ".join(parts)


def keep_signed(job: KeptJob, version: int, written: Written, pdf: bytes) -> SignedPaper:
    """Keep it under the version it was printed with. Raises NotSigned when another took that version meanwhile."""
    with transaction.atomic():
        KeptJob.objects.select_for_update().get(pk=job.pk)
        if next_version(job, written.paper) != version:
            raise NotSigned("Somebody signed this paper in the same moment: look at it again.")
        return SignedPaper.objects.create(
            job=job, paper=written.paper, version=version, revision=written.revision, shown=written.shown,
            lines=json.dumps(written.lines, ensure_ascii=False), about=as_text(written.about), price=written.price,
            by=written.by[:80], role=written.role[:80], statement=written.statement[:600],
            signed_at=written.signed_at, where=written.where[:200], device=written.device[:200],
            handed_by=written.handed_by[:80], strokes=written.strokes, pdf=pdf,
            pdf_sha256=hashlib.sha256(pdf).hexdigest(),
        )  # fmt: skip


def next_version(job: KeptJob, paper: str) -> int:
    """The number the next signature on a paper gets."""
    last = job.signed.filter(paper=paper).last()
    return last.version + 1 if last is not None else 1


def newest(job: KeptJob) -> dict[str, SignedPaper]:
    """The newest signature on each paper, without their files."""
    return {row.paper: row for row in job.signed.defer("pdf").order_by("version")}


def is_as_signed(row: SignedPaper) -> bool:
    """Whether the file still has the hash it was kept with."""
    return hashlib.sha256(bytes(row.pdf)).hexdigest() == row.pdf_sha256


def as_text(value: Any) -> str:
    """Plain data as text that is the same for the same data."""
    return json.dumps(value, sort_keys=True, ensure_ascii=False, default=str)


def open_changes(job: KeptJob, changes: Any) -> list[str]:
    """Why changed work does not go on yet, one sentence each; empty when nothing is open or somebody let it go on."""
    rows = [row for row in changes if isinstance(row, dict)] if isinstance(changes, list) else []
    if not rows or _let_on(job, rows):
        return []
    kept = {str(number) for number in job.photos.values_list("number", flat=True)}
    kept |= set(job.photos.values_list("name", flat=True))
    found = [
        f"Change {row.get('id', '')} has no photograph: take one and write its number into the change."
        for row in rows
        if str(row.get("photo", "")) not in kept
    ]
    last = job.signed.defer("pdf").filter(paper=CHANGE_ORDER).last()
    if last is None:
        found.append("The change order is not signed.")
    elif last.about != as_text(rows):
        found.append("The changes are not those that were signed: the change order is to be signed anew.")
    return found


def was_open(job: KeptJob, then: datetime, changes_of: Callable[[str], Any]) -> bool:
    """Whether changed work waited at a time; `changes_of` reads the changes in a document."""
    revision = job.revisions.filter(aside=False, made_at__lte=then).last()
    changes = changes_of(revision.text) if revision is not None else None
    rows = [row for row in changes if isinstance(row, dict)] if isinstance(changes, list) else []
    if not rows or job.log.filter(kind="unsigned", about=mark_of(rows), at__lte=then).exists():
        return False
    signed = job.signed.defer("pdf").filter(paper=CHANGE_ORDER, signed_at__lte=then).last()
    return signed is None or signed.about != as_text(rows)


def _let_on(job: KeptJob, rows: Any) -> bool:
    return job.log.filter(kind="unsigned", about=mark_of(rows)).exists()


def mark_of(rows: Any) -> str:
    """What a log entry names these very changes by."""
    return "changes " + hashlib.sha256(as_text(rows).encode("utf-8")).hexdigest()[:20]


def let_on(job: KeptJob, rows: Any, by: str, why: str, made_at: datetime | None = None) -> LogEntry:
    """Go on without the signature, with the reason and who decides. Raises NotSigned without them."""
    if len(why.strip()) < 3:
        raise NotSigned("Write down why the work goes on unsigned: somebody will ask.")
    if not by.strip():
        raise NotSigned("Write down who decides that the work goes on unsigned.")
    said = f"went on without a signed change order: {why.strip()}"
    return LogEntry.objects.create(
        job=job, kind="unsigned", by=by.strip()[:80], said=said[:500], about=mark_of(rows), made_at=made_at
    )
