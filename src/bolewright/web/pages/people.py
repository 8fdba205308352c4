"""The owner's page: who has an account, invitations, roles, and what was changed."""

from __future__ import annotations

from collections.abc import Callable

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from bolewright.store.models import Invitation, PeopleEntry, Person
from bolewright.store.models.people import write_down
from bolewright.store.people import DAYS, Refused, change_role, renew, set_active
from bolewright.store.people import invite as make_invitation
from bolewright.store.rights import MAY, RIGHTS, ROLES
from bolewright.web.everywhere import who
from bolewright.web.pages.account import private
from bolewright.web.pages.common import page, whole_number


@require_GET
def people(request: HttpRequest) -> HttpResponse:
    """Everybody with an account, and the invitations given out."""
    return _people(request)


def _people(request: HttpRequest, sentences: tuple[str, ...] = (), **more: object) -> HttpResponse:
    table = [(words, [right in MAY[role] for role in ROLES]) for right, words in RIGHTS.items()]
    given = {
        "people": Person.objects.all(), "invitations": Invitation.objects.all()[:40], "roles": ROLES, "days": DAYS,
        "table": table, "log": PeopleEntry.objects.all()[:60], "sentences": sentences, "here": "people", **more,
    }  # fmt: skip
    return page(request, "people", given, 422 if sentences else 200)


@require_POST
def invite(request: HttpRequest) -> HttpResponse:
    """A link for one person, shown this once."""
    days = whole_number(request.POST.get("days"))
    try:
        made, token = make_invitation(
            request.POST.get("role", ""), request.POST.get("note", ""), 7 if days is None else days, who(request)
        )
    except Refused as fault:
        return _people(request, fault.sentences)
    return _with_link(request, made, token)


def _with_link(request: HttpRequest, made: Invitation, token: str) -> HttpResponse:
    link = request.build_absolute_uri(reverse("invited", args=[token]))
    return private(_people(request, made=made, link=link))


@require_POST
def revoke_invitation(request: HttpRequest, number: int) -> HttpResponse:
    """End an invitation that was not used."""
    found = Invitation.objects.filter(pk=number).first()
    if found is None:
        raise Http404("There is no such invitation.")
    if found.state == "open":
        found.revoke(who(request))
        write_down(who(request), f"revoked the invitation for {found.note or 'somebody'} as {found.role}")
    return redirect("people")


@require_POST
def renewal(request: HttpRequest, number: int) -> HttpResponse:
    """A link to a new password, for somebody who forgot theirs."""
    made, token = renew(_person(number), who(request))
    return _with_link(request, made, token)


@require_POST
def set_role(request: HttpRequest, number: int) -> HttpResponse:
    """Another role for a person."""
    role = request.POST.get("role", "")
    return _changed(request, lambda: change_role(_person(number), role, who(request)))


@require_POST
def disable(request: HttpRequest, number: int) -> HttpResponse:
    """Shut a person out, or let them in again."""
    active = "again" in request.POST
    return _changed(request, lambda: set_active(_person(number), active, who(request)))


def _changed(request: HttpRequest, change: Callable[[], None]) -> HttpResponse:
    try:
        change()
    except Refused as fault:
        return _people(request, fault.sentences)
    return redirect("people")


def _person(number: int) -> Person:
    found = Person.objects.filter(pk=number).first()
    if found is None:
        raise Http404("There is nobody of that number.")
    return found
