"""Signing a paper: the whole of it is shown, then signed by finger or by typed name; what was signed stays as it is."""

from __future__ import annotations

import difflib
import json
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from bolewright.documents.given import Given, Signature
from bolewright.documents.paper import Paper, contents, fingerprint, pictured, printed, statement_of, text_lines
from bolewright.documents.papers import paper_named
from bolewright.store.answers import kept_answer
from bolewright.store.edits import at
from bolewright.store.models import KeptJob, SignedPaper
from bolewright.store.revisions import tables
from bolewright.store.signed import (
    NotSigned,
    Written,
    is_as_signed,
    keep_signed,
    let_on,
    mark_of,
    newest,
    next_version,
    strokes_of,
)
from bolewright.web.entries import made_at
from bolewright.web.everywhere import who
from bolewright.web.pages.common import data_folder, facts, job_of, page
from bolewright.web.plainly import plainly
from bolewright.web.records import given as given_of
from bolewright.web.records import price_text, records_of, when
from bolewright.web.refusals import refusal

FIELDS = ("by", "role", "where", "strokes")
ROLES = ("Customer", "Owner", "For the customer", "Company", "Lead")
OTHER = "This paper is another than the one you were shown, because the job was changed meanwhile: read it again."


@dataclass(frozen=True)
class Shown:
    """A paper as it stands now."""

    paper: Paper
    given: Given
    data: dict[str, Any]
    shown: str  # its fingerprint


def paper_of(job: KeptJob, name: str) -> Shown:
    """The paper as it stands for the job as saved; 404 with the reason when it cannot be made."""
    paper = paper_named(name)
    if paper is None or paper.prints is not None:
        raise Http404("There is no such paper to look at here: go back to the papers.")
    found = given_now(job)
    if found is None:
        raise Http404("The job has values that cannot be read, so no paper is made from it: mend them first.")
    reasons = paper.lacking(found)
    if reasons:
        raise Http404(plainly(f"This paper cannot be made yet. {' '.join(reasons)}"))
    data = contents(paper, found)
    return Shown(paper, found, data, fingerprint(data))


def given_now(job: KeptJob) -> Given | None:
    """What papers are made from now."""
    revision = job.latest
    answer = kept_answer(job, revision.text)
    return given_of(revision.text, answer.text if answer else "", records_of(job, revision, answer, data_folder()))


@lru_cache(maxsize=4)
def _pages(shown: str, made: _Once) -> tuple[bytes, ...]:
    return tuple(pictured(made.shown.paper, made.shown.given))


class _Once:
    """Carries a paper past the cache, which goes by its fingerprint alone."""

    def __init__(self, shown: Shown) -> None:
        self.shown = shown

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Once)

    def __hash__(self) -> int:
        return 0


def pages_of(shown: Shown) -> tuple[bytes, ...]:
    """The pages as pictures; printed once for all who look."""
    return _pages(f"{shown.paper.name} {shown.shown}", _Once(shown))


@require_GET
def paper_page(request: HttpRequest, key: str, name: str, shown: str, number: int) -> HttpResponse:
    """One page of a paper as a picture, while it is still the one asked for."""
    found = paper_of(job_of(key), name)
    pages = pages_of(found)
    if found.shown != shown or not 1 <= number <= len(pages):
        raise Http404(OTHER)
    answer = HttpResponse(pages[number - 1], content_type="image/png")
    answer["Cache-Control"] = "private, max-age=3600"
    return answer


@require_GET
def paper_now(request: HttpRequest, key: str, name: str) -> HttpResponse:
    """The paper as it stands now, as PDF."""
    found = paper_of(job_of(key), name)
    answer = HttpResponse(printed(found.paper, found.given).pdf, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    answer["Cache-Control"] = "no-store"
    return answer


@require_http_methods(["GET", "POST"])
def sign(request: HttpRequest, key: str, name: str) -> HttpResponse:
    """Show the whole paper with the place to sign under it; take the signature."""
    job = job_of(key)
    found = paper_of(job, name)
    if not found.paper.signs:
        raise Http404("This paper is signed on paper only: print it.")
    if request.method == "GET":
        return _sign_page(request, job, found)
    try:
        row = _taken(request, job, found)
    except NotSigned as why:
        return _sign_page(request, job, found, str(why))
    return redirect("signed", job.key, name, row.version)


def _sign_page(request: HttpRequest, job: KeptJob, found: Shown, said: str = "") -> HttpResponse:
    last = newest(job).get(found.paper.name)
    given = facts(job, "papers")
    terms, site = found.given.job.terms, found.given.job.job.site
    known = {"by": (terms.authorised_by if terms else "") or "", "where": site or ""}
    given.update(
        paper=found.paper, shown=found.shown, numbers=range(1, len(pages_of(found)) + 1), said=said, last=last,
        statement=statement_of(found.data), roles=ROLES, version=next_version(job, found.paper.name),
        differs=differences(last, found) if last is not None else [],
        is_signed=last is not None and last.shown == found.shown, lines=text_lines(found.data),
        typed={**known, **{field: request.POST[field] for field in FIELDS if field in request.POST}},
    )  # fmt: skip
    return page(request, "sign", given, 422 if said else 200)


def differences(last: SignedPaper, found: Shown) -> list[tuple[str, str]]:
    """Lines that were in the version signed and are no more, and those that are new: ("was" | "now", line)."""
    old, new = json.loads(last.lines), text_lines(found.data)
    marks = {"- ": "was", "+ ": "now"}
    return [(marks[line[:2]], line[2:]) for line in difflib.ndiff(old, new) if line[:2] in marks]


def _taken(request: HttpRequest, job: KeptJob, found: Shown) -> SignedPaper:
    posted = {field: request.POST.get(field, "").strip() for field in ("by", "role", "where", "shown")}
    if posted["shown"] != found.shown:
        raise NotSigned(OTHER)
    if len(posted["by"]) < 2:
        raise NotSigned("Write the name of the person who signs.")
    strokes = strokes_of(request.POST.get("strokes", ""))
    if not strokes and request.POST.get("typed") != "yes":
        raise NotSigned("Sign with a finger in the box, or say with a tick that the typed name is your signature.")
    if request.POST.get("read") != "yes":
        raise NotSigned("Say with a tick that you have read the whole paper.")
    name, now, version = found.paper.name, timezone.now(), next_version(job, found.paper.name)
    role = posted["role"] if posted["role"] in ROLES else ROLES[0]
    device = request.headers.get("User-Agent", "")[:200]
    statement = statement_of(found.data) + ("" if strokes else " My typed name is my signature.")
    signature = Signature(posted["by"][:80], role, statement, when(now), posted["where"][:200], device, version,
                          found.shown, strokes)  # fmt: skip
    given = Given(**{**vars(found.given), "signed": {**found.given.signed, name: signature}})
    about = at(tables(job.latest), ("change",)) or [] if name == "change-order" else ""
    row = Written(name, job.latest.number, found.shown, text_lines(found.data), about, price_text(found.given),
                  signature.by, role, statement, now, signature.where, device, who(request), strokes)  # fmt: skip
    return keep_signed(job, version, row, printed(found.paper, given).pdf)


@require_GET
def signed(request: HttpRequest, key: str, name: str, version: int) -> HttpResponse:
    """What was signed: who, when, where, on what; the file; whether it is still as it was kept."""
    row = _row(key, name, version)
    given = facts(job_of(key), "papers")
    given.update(row=row, as_signed=is_as_signed(row), paper=paper_named(name))
    return page(request, "signed", given)


@require_GET
def signed_pdf(request: HttpRequest, key: str, name: str, version: int) -> HttpResponse:
    """The file as signed; refused when it is not what was kept."""
    row = _row(key, name, version)
    if not is_as_signed(row):
        said = "The signed paper kept here no longer has the hash it was kept with, so it is not given out."
        return refusal(request, 409, "Not as signed", [said, "Look for it in a copy of the store."])
    answer = HttpResponse(bytes(row.pdf), content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{name}-signed-{version}.pdf"'
    answer["Cache-Control"] = "no-store"
    return answer


def _row(key: str, name: str, version: int) -> SignedPaper:
    row = job_of(key).signed.filter(paper=name, version=version).first()
    if row is None:
        raise Http404("There is no such signed paper: go back to the papers.")
    return row


@require_POST
def go_on_unsigned(request: HttpRequest, key: str) -> HttpResponse:
    """Changed work goes on without the signature: who decides and why is written down."""
    job = job_of(key)
    rows = at(tables(job.latest), ("change",)) or []
    by = request.POST.get("by", "").strip() or who(request)
    try:
        if request.POST.get("changes", mark_of(rows)) != mark_of(rows):
            raise NotSigned("The changes are others by now than those you were shown: look at them and decide again.")
        let_on(job, rows, by, request.POST.get("why", ""), made_at(request))
    except NotSigned as why:
        return refusal(request, 422, "Not written down", [str(why)])
    return redirect("work", job.key)
