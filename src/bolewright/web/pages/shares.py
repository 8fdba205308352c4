"""The links that show this job to somebody outside: making, listing, revoking."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from bolewright.store.people import Refused
from bolewright.store.shares import DAYS, PARTS, make_share
from bolewright.web.actor import alone
from bolewright.web.everywhere import who
from bolewright.web.pages.account import private
from bolewright.web.pages.common import facts, job_of, page


@require_GET
def shares(request: HttpRequest, key: str) -> HttpResponse:
    """Every link to this job, with when it was opened."""
    return _shares(request, key)


def _shares(request: HttpRequest, key: str, sentences: tuple[str, ...] = (), **more: object) -> HttpResponse:
    job = job_of(key)
    links = [{"share": share, "openings": share.openings.all()[:30], "last": share.openings.first(),
              "count": share.openings.count()} for share in job.shares.all()]  # fmt: skip
    given = {**facts(job, "shares"), "links": links, "days": DAYS, "sentences": sentences, "alone": alone(), **more}
    return page(request, "shares", given, 422 if sentences else 200)


@require_POST
def make(request: HttpRequest, key: str) -> HttpResponse:
    """A link, shown this once."""
    job, days = job_of(key), request.POST.get("days", "")
    parts = {part for part in PARTS if part in request.POST}
    try:
        made, token = make_share(
            job, request.POST.get("label", ""), parts, int(days) if days.isdigit() else 0, who(request)
        )
    except Refused as fault:
        return _shares(request, key, fault.sentences)
    link = request.build_absolute_uri(reverse("shared", args=[token]))
    return private(_shares(request, key, made=made, link=link))


@require_POST
def revoke(request: HttpRequest, key: str, number: int) -> HttpResponse:
    """End a link at once."""
    share = job_of(key).shares.filter(pk=number).first()
    if share is None:
        raise Http404("There is no such link to this job.")
    share.revoke(who(request))
    return redirect("shares", key)
