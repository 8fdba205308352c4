"""Every revision of a job, going back to one, and two versions side by side."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from bolewright.store.edits import Conflict
from bolewright.store.models import KeptJob, Revision
from bolewright.store.revisions import conflicts_of, restore, settle
from bolewright.web.everywhere import who
from bolewright.web.pages.common import facts, job_of, page, whole_number
from bolewright.web.typed import field_of, shown


@require_GET
def history(request: HttpRequest, key: str) -> HttpResponse:
    """The revisions, newest first."""
    job = job_of(key)
    given = facts(job, "history")
    given["line"] = job.revisions.filter(aside=False).order_by("-number")[:200]
    return page(request, "history", given)


@require_POST
def go_back(request: HttpRequest, key: str) -> HttpResponse:
    """Bring an earlier revision back as a new one."""
    job = job_of(key)
    number = whole_number(request.POST.get("number"))
    if number is not None and job.revisions.filter(aside=False, number=number).exists():
        restore(job, number, who(request))
    return redirect("history", job.key)


@require_http_methods(["GET", "POST"])
def conflict(request: HttpRequest, key: str, aside: int) -> HttpResponse:
    """Both versions of what two people changed at once; choose for each place."""
    job = job_of(key)
    kept = _aside(job, aside)
    found = conflicts_of(job, kept)
    given = facts(job, "conflict")
    given["kept"], given["places"] = kept, [_place(n, c) for n, c in enumerate(found)]
    given["moved"] = request.method == "POST" and request.POST.get("base") != str(given["revision"].number)
    if request.method == "POST" and not given["moved"]:
        mine = [n for n in range(len(found)) if request.POST.get(f"place-{n}") == "mine"]
        settle(job, kept, mine, who(request))
        return redirect("measure", job.key)
    return page(request, "conflict", given)


def _aside(job: KeptJob, pk: int) -> Revision:
    kept = job.revisions.filter(aside=True, pk=pk).first()
    if kept is None:
        raise Http404("There is no such version: go back to the job.")
    return kept


def _place(n: int, conflict: Conflict) -> dict[str, object]:
    """One place in words."""
    known = field_of(conflict.path)
    words = f"{known[0].title}: {known[1].label}" if known else ", ".join(str(part) for part in conflict.path)
    rows = [part for part in conflict.path if isinstance(part, int)]
    if known and rows:
        words = f"{known[0].one} {rows[0] + 1}: {known[1].label}"
    return {"n": n, "words": words, "before": _said(conflict.before), "saved": _said(conflict.saved),
            "wanted": _said(conflict.wanted)}  # fmt: skip


def _said(value: object) -> str:
    if isinstance(value, dict):
        return ", ".join(f"{key} {shown(item)}" for key, item in value.items())
    return shown(value) or "taken out"
