"""What earlier jobs took against what was planned, and what this one learns from it."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_POST

from bolewright.store.models import KeptJob
from bolewright.store.record import leave_out, record_for, take
from bolewright.web.everywhere import who
from bolewright.web.look import whole_job
from bolewright.web.pages.common import facts, job_of, page

NO_WORD = "Say in a word why its hours are left out: then it can be judged later."
NOT_WHOLE = "Something in this job cannot be read: mend or take away what its pages name, then it can learn."
NONE_COUNTS = "No earlier job counts yet, so there is nothing to take in."
LONGEST_WORD = 200  # characters


@require_GET
def record(request: HttpRequest, key: str) -> HttpResponse:
    """The record beside what the job counts with now."""
    return _page(request, job_of(key))


def _page(request: HttpRequest, kept: KeptJob, sentences: tuple[str, ...] = (), **more: Any) -> HttpResponse:
    given = {**facts(kept, "out"), "sentences": sentences, **more}
    job = whole_job(given["revision"].text)
    if job is None:
        given["sentences"] = (*sentences, NOT_WHOLE)
    else:
        given["record"] = record_for(kept, job)
    return page(request, "record", given, 422 if sentences else 200)


@require_POST
def take_record(request: HttpRequest, key: str) -> HttpResponse:
    """Bring the record into the job: its rates, hours and price count with it from then on."""
    kept = job_of(key)
    latest = kept.latest
    job = whole_job(latest.text)
    if job is None:
        return _page(request, kept)
    found = record_for(kept, job)
    if not found.rows and found.taken:
        return _page(request, kept, (NONE_COUNTS,))
    take(kept, latest, found, who(request))
    return redirect("record", key)


@require_POST
def leave_job_out(request: HttpRequest, key: str) -> HttpResponse:
    """Keep a job's hours out of the record with a word, or let them count again."""
    kept, other = job_of(key), job_of(request.POST.get("of", ""))
    why = "".join(c for c in request.POST.get("why", "") if c.isprintable()).strip()[:LONGEST_WORD]
    if "again" in request.POST:
        why = ""
    elif not why:
        return _page(request, kept, (NO_WORD,), asked=other.key)
    leave_out(other, why, who(request))
    return redirect("record", key)
