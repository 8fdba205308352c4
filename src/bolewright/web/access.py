"""The one place that decides what a request may do: every address by name, with the right it takes."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render

from bolewright.store.people import any_people
from bolewright.store.rights import RIGHTS, Right
from bolewright.web.actor import Actor, actor_of, alone
from bolewright.web.carried import carried_of
from bolewright.web.refusals import refusal

READS = ("GET", "HEAD", "OPTIONS")
SIGNED_OUT = (
    "You are signed out, so what you sent was not kept. Go back: it still stands in the page. Copy it, then sign in."
)
CARRIED = (
    "You are signed out, so what you sent was not kept. It comes with this page: sign in, and it is sent by one button."
)
STOP_CARRIED = (
    "You are signed out, so THE STOP IS NOT WRITTEN DOWN. Call it out loud now; sign in, and it is one button."
)
OPEN = "open"  # everybody, signed in or not
# Address names, by what looking at one and what sending to one takes. Whoever adds an address adds it here: one that is
# in no line is the owner's alone, and a test walks them all.
TABLE: tuple[tuple[str, str, str], ...] = (
    (OPEN, OPEN, "sign-in sign-out first invited robots night shared shared-photo shared-marked "
     "shared-paper manifest worker kept"),
    ("look", "work", "jobs who units give-out call measure drawing photos photo picture holding cuts progress work "
     "out to-keep papers briefing measuring-sheet paper-drawing history conflict size seen tests wind judge lookback "
     "stand-paper stand-drawing stand-against solid model making made-paper paper-page paper-now sign signed "
     "signed-pdf what-if record"),
    ("work", "work", "new take-in save undo upload waive work-out choose tick observe onward go-on go-back mark "
     "photo-note photo-shows add-test take-trace take-chart make-papers "
     "go-on-unsigned lie take-record leave-out"),
    ("look", "work", "marks marked mark-back"),
    ("look", "stop", "stop stopped"),
    ("self", "self", "account password make-key revoke-key"),
    (OPEN, OPEN, "api:openapi-json api:job-schema api:api-root"),
    ("look", "work", "api:jobs api:job api:document api:revisions api:old-document api:photos api:photo api:picture "
     "api:views api:check api:weigh api:hold api:stand api:out api:record api:cuts"),
    ("share", "share", "shares make-share revoke-share"),
    ("people", "people", "people invite revoke-invitation role disable renew"),
)  # fmt: skip
NEEDS: dict[str, tuple[str, str]] = {name: (reads, writes) for reads, writes, names in TABLE for name in names.split()}


def needed(name: str, method: str) -> str:
    """What a request takes: "open" or a right. An address nobody wrote down takes what only an owner has."""
    return NEEDS.get(name, ("people", "people"))[method not in READS]


class Access:
    """Asks, before any page or interface is called, who it is and whether they may."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Pass on."""
        return self.get_response(request)

    def process_view(self, request: HttpRequest, view: Any, args: Any, kwargs: Any) -> HttpResponse | None:
        """The refusal, or None when they may."""
        match = request.resolver_match
        need = needed(match.view_name if match else "", str(request.method))
        if need == OPEN:
            return None
        actor = actor_of(request)
        if actor.may(need):  # type: ignore[arg-type]
            return None
        return _refused(request, actor, need)  # type: ignore[arg-type]


def _refused(request: HttpRequest, actor: Actor, need: Right) -> HttpResponse:
    if request.path.startswith("/api/"):
        return _refused_as_json(actor, need)
    if actor.how != "nobody":
        head, role = "Not for this account", actor.role
        said = f"An account with the role {role} may not do this: it takes somebody who may {RIGHTS[need]}."
        return refusal(request, 403, head, [said, "Nothing was changed. Ask the owner of this installation."])
    if not alone() and not any_people() and request.method in READS:
        return redirect("first")
    return _sign_in_first(request)


def _sign_in_first(request: HttpRequest) -> HttpResponse:
    """The sign-in page in place of the one asked for: with a status that no browser keeps for a job's page."""
    sent = request.method not in READS
    carried = carried_of(request) if sent else None
    words = SIGNED_OUT if carried is None else STOP_CARRIED if carried.is_stop else CARRIED
    given = {
        "next": "/" if sent else request.get_full_path(), "sentences": [words] if sent else [], "typed": "",
        "carried": carried,
    }  # fmt: skip
    answer = render(request, "bolewright/sign_in.html", given, status=401)
    answer["Cache-Control"] = "no-store"
    return answer


def _refused_as_json(actor: Actor, need: Right) -> HttpResponse:
    if actor.how == "nobody":
        said = "Send a key that stands: Authorization: Bearer KEY. Keys are made on the page Account."
        answer = JsonResponse({"faults": [{"path": "Authorization", "sentence": said}]}, status=401)
        answer["WWW-Authenticate"] = "Bearer"
        return answer
    said = f"A key of the role {actor.role} may not do this: it takes somebody who may {RIGHTS[need]}."
    return JsonResponse({"faults": [{"path": "Authorization", "sentence": said}]}, status=403)
