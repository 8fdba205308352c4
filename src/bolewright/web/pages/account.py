"""Signing in and out, the first owner account, taking an invitation, and one's own password and keys."""

from __future__ import annotations

import secrets

from django.conf import settings
from django.contrib.auth import login as begin_session
from django.contrib.auth import logout as end_session
from django.contrib.auth import update_session_auth_hash
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from bolewright.store.folder import first_code, forget_alone, forget_first_code, keep_alone
from bolewright.store.keys import make_key
from bolewright.store.models import Key, Person
from bolewright.store.models.people import write_down
from bolewright.store.people import GONE, Refused, accept, any_people, first_owner, invitation_of, set_password
from bolewright.store.rights import MAY, RIGHTS
from bolewright.store.signin import TooMany, signed_in
from bolewright.web.actor import actor_of, alone
from bolewright.web.carried import carried_in, facts_of
from bolewright.web.pages.common import data_folder, page

BACKEND = "django.contrib.auth.backends.ModelBackend"
AGAIN = "You are signed in again. What you typed before was not sent: it goes out under your name now."
SECRETS = ("password", "again", "old", "code")


def private(answer: HttpResponse) -> HttpResponse:
    """An answer whose address is a secret: not told to other sites, not listed by search engines."""
    answer["Referrer-Policy"] = "same-origin"  # no-referrer makes a browser send forms as from nowhere
    answer["X-Robots-Tag"] = "noindex, nofollow"
    return answer


def _typed(request: HttpRequest) -> dict[str, str]:
    return {name: request.POST.get(name, "") for name in ("login", "name", "password", "again")}


@sensitive_post_parameters(*SECRETS)
@require_http_methods(["GET", "POST"])
def sign_in(request: HttpRequest) -> HttpResponse:
    """Name and password; with too many tries a pause."""
    place = request.POST.get("next") or request.GET.get("next") or "/"
    place = place if url_has_allowed_host_and_scheme(place, allowed_hosts={request.get_host()}) else "/"
    if alone() or actor_of(request).person is not None:
        return HttpResponseRedirect(place)
    if not any_people():
        return redirect("first")
    carried = carried_in(request.POST.get("carried", ""))
    given = {"next": place, "sentences": (), "typed": request.POST.get("login", "")[:60], "carried": carried}
    if request.method == "GET":
        return page(request, "sign_in", given)
    address = str(request.META.get("REMOTE_ADDR", ""))
    try:
        person = signed_in(request, request.POST.get("login", ""), request.POST.get("password", ""), address)
    except Refused as fault:
        return page(request, "sign_in", {**given, "sentences": fault.sentences}, _status(fault))
    begin_session(request, person, backend=BACKEND)
    if carried is not None:
        return page(request, "again", {"head": "Not sent yet", "sentences": (AGAIN,), **facts_of(carried)})
    return HttpResponseRedirect(place)


def _status(fault: Refused) -> int:
    return 429 if isinstance(fault, TooMany) else 422


@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """End the session on this device."""
    end_session(request)
    return redirect("sign-in")


@sensitive_post_parameters(*SECRETS)
@require_http_methods(["GET", "POST"])
def first(request: HttpRequest) -> HttpResponse:
    """Who works here, once: the first owner account, or one person without signing in; for whoever has the code."""
    if alone() or any_people():
        return redirect("jobs")
    typed, sentences = _typed(request), tuple[str, ...]()
    code = (request.POST.get("code") or request.GET.get("code") or "").strip()
    known = first_code(data_folder())
    right = bool(known) and secrets.compare_digest(code.encode(), known.encode())
    if request.method == "POST":
        try:
            if not right:
                raise Refused("The code is not right: it stands in the terminal and in first-code in the data folder.")
            if "alone" in request.POST and settings.BOLEWRIGHT_MAY_BE_ALONE:
                return _nobody_signs_in()
            person = first_owner(**typed)
            forget_first_code(data_folder())
            forget_alone(data_folder())
            begin_session(request, person, backend=BACKEND)
            return redirect("people")
        except Refused as fault:
            sentences = fault.sentences
    given = {"typed": typed, "code": code, "right": right, "may_be_alone": settings.BOLEWRIGHT_MAY_BE_ALONE}
    given["sentences"] = sentences
    return private(page(request, "first", given, _shown(sentences)))


def _nobody_signs_in() -> HttpResponse:
    """One person on this machine: kept in the data folder, and so from now on in this process."""
    keep_alone(data_folder())
    settings.BOLEWRIGHT_ALONE = True
    return redirect("jobs")


def _shown(sentences: tuple[str, ...]) -> int:
    return 422 if sentences else 200


@sensitive_post_parameters(*SECRETS)
@require_http_methods(["GET", "POST"])
def invited(request: HttpRequest, token: str) -> HttpResponse:
    """Make the account an invitation is for, or set the new password. Looking at the link does not use it up."""
    found = invitation_of(token)
    if found is None:
        return private(page(request, "refusal", {"head": "This link does not stand", "sentences": [GONE]}, 410))
    typed, sentences = _typed(request), tuple[str, ...]()
    if request.method == "POST":
        try:
            person = accept(token, **typed)
            begin_session(request, person, backend=BACKEND)
            return private(redirect("jobs"))
        except Refused as fault:
            sentences = fault.sentences
    given = {"invitation": found, "typed": typed, "sentences": sentences, "rights": _rights(found.role)}
    return private(page(request, "invited", given, _shown(sentences)))


def _rights(role: str) -> list[str]:
    held = MAY.get(role, frozenset())  # type: ignore[call-overload]
    return [words for right, words in RIGHTS.items() if right in held]


@require_GET
def account(request: HttpRequest) -> HttpResponse:
    """Who one is, what one may do, password and keys."""
    return _account(request)


def _account(request: HttpRequest, sentences: tuple[str, ...] = (), **more: object) -> HttpResponse:
    actor = actor_of(request)
    keys = Key.objects.filter(person=actor.person)
    given = {"keys": keys, "sentences": sentences, "rights": _rights(actor.role), "alone": alone(), **more}
    return page(request, "account", given, _shown(sentences))


@sensitive_post_parameters(*SECRETS)
@require_POST
def password(request: HttpRequest) -> HttpResponse:
    """Another password; this session goes on, every other one of this person ends."""
    person = _person(request)
    if not person.check_password(request.POST.get("old", "")):
        return _account(request, ("The password you have now is not right: nothing was changed.",))
    try:
        set_password(person, request.POST.get("password", ""), request.POST.get("again", ""))
    except Refused as fault:
        return _account(request, fault.sentences)
    update_session_auth_hash(request, person)
    return _account(request, done="The password is changed. Other devices are signed out.")


def _person(request: HttpRequest) -> Person:
    person = actor_of(request).person
    if person is None:
        raise Http404("Nobody signs in on this machine: there is no password to change.")
    return person


@require_POST
def new_key(request: HttpRequest) -> HttpResponse:
    """A key for a program, shown this once."""
    actor = actor_of(request)
    key, token = make_key(actor.person, request.POST.get("label", ""), actor.name)
    return private(_account(request, key=key, token=token))


@require_POST
def revoke_key(request: HttpRequest, number: int) -> HttpResponse:
    """End a key at once."""
    actor = actor_of(request)
    key = Key.objects.filter(pk=number, person=actor.person).first()
    if key is None:
        raise Http404("There is no such key of yours.")
    key.revoke(actor.name)
    write_down(actor.name, f"revoked the key {key.start} ({key.label})")
    return redirect("account")


@require_GET
def robots(request: HttpRequest) -> HttpResponse:
    """Nothing here is for search engines."""
    return HttpResponse("User-agent: *\nDisallow: /\n", content_type="text/plain")
