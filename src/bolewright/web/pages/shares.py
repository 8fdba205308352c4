"""The links that show this job to somebody outside: making, listing, revoking."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from bolewright.store.models import Share
from bolewright.store.people import Refused
from bolewright.store.shares import DAYS, PARTS, make_share
from bolewright.web.actor import alone
from bolewright.web.everywhere import who
from bolewright.web.offers import GROUPS, Offer, offers, on_show
from bolewright.web.pages.account import private
from bolewright.web.pages.common import facts, is_standing, job_of, page, whole_number


@require_GET
def shares(request: HttpRequest, key: str) -> HttpResponse:
    """Every link to this job, with when it was opened."""
    return _shares(request, key)


def _shares(request: HttpRequest, key: str, sentences: tuple[str, ...] = (), **more: object) -> HttpResponse:
    job = job_of(key)
    given = facts(job, "shares")
    known = offers(given["standing"])
    ready = {found.offer.name: found for found in on_show(job, [offer.name for offer in known])}
    chosen = _chosen(request, known) if sentences else Chosen(papers=tuple(o.name for o in known if o.usual))
    rows = [(offer, ready.get(offer.name), offer.name in chosen.papers) for offer in known]
    given["groups"] = [(words, [row for row in rows if row[0].group == group]) for group, words in GROUPS]
    titles = {offer.name: offer.title for offer in (*offers(False), *offers(True))}
    given["links"] = [_link(share, titles) for share in job.shares.all()]
    given.update(days=DAYS, sentences=sentences, alone=alone(), chosen=chosen, **more)
    return page(request, "shares", given, 422 if sentences else 200)


def _link(share: Share, titles: Mapping[str, str]) -> dict[str, Any]:
    openings = share.openings.all()
    return {"share": share, "openings": openings[:30], "last": openings.first(), "count": openings.count(),
            "papers": [titles.get(name, name) for name in share.paper_names]}  # fmt: skip


@dataclass(frozen=True)
class Chosen:
    """The form as it stands."""

    label: str = ""
    days: int = DAYS[0]
    parts: tuple[str, ...] = ("numbers",)
    papers: tuple[str, ...] = ()


def _chosen(request: HttpRequest, known: Sequence[Offer]) -> Chosen:
    """The form as it was sent; papers nobody offers are left out."""
    wanted = request.POST.getlist("paper")
    return Chosen(
        label=request.POST.get("label", "")[:80],
        days=whole_number(request.POST.get("days")) or DAYS[0],
        parts=tuple(part for part in PARTS if part in request.POST),
        papers=tuple(offer.name for offer in known if offer.name in wanted),
    )


@require_POST
def make(request: HttpRequest, key: str) -> HttpResponse:
    """A link, shown this once."""
    job = job_of(key)
    asked = _chosen(request, offers(is_standing(job.latest)))
    try:
        made, token = make_share(job, asked.label, set(asked.parts), asked.papers, asked.days, who(request))
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
