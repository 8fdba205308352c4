"""Whatever goes wrong leaves as a page with plain sentences: what is the matter, what to do, what was kept."""

from __future__ import annotations

import logging
from collections.abc import Callable

from django.core.exceptions import RequestDataTooBig, TooManyFieldsSent, TooManyFilesSent
from django.db import DatabaseError, OperationalError
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.http.multipartparser import MultiPartParserError
from django.http.request import UnreadablePostError
from django.shortcuts import render

from bolewright.core.base.errors import BolewrightError
from bolewright.job.faults import JobFaults
from bolewright.store.models import KeptJob
from bolewright.web.actor import actor_of
from bolewright.web.carried import Carried, carried_of, facts_of, from_here
from bolewright.web.pages.common import is_standing
from bolewright.web.plainly import plainly

log = logging.getLogger(__name__)
POLICY = (
    "default-src 'self'; img-src 'self' data: blob:; style-src 'self' 'unsafe-inline'; object-src 'none'; "
    "base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
)


def refusal(
    request: HttpRequest, status: int, head: str, sentences: list[str], carried: Carried | None = None
) -> HttpResponse:
    """A page that says why not; with a form that may be sent once more."""
    facts = {"head": head, "sentences": sentences, "job": lying_job(request), **facts_of(carried)}
    answer = render(request, "bolewright/refusal.html", facts, status=status)
    answer.said = sentences  # type: ignore[attr-defined]  # for a program that sent an entry
    return answer


def lying_job(request: HttpRequest) -> KeptJob | None:
    """The job a refused address belongs to, so that its work can be stopped from there too; for whoever may stop it."""
    match = request.resolver_match
    key = match.kwargs.get("key", "") if match else ""
    try:
        if not key or not actor_of(request).may("stop"):
            return None
        job = KeptJob.objects.filter(key=key).first()
        return job if job is not None and not is_standing(job.latest) else None
    except DatabaseError:
        return None


def stale_form(request: HttpRequest, reason: str = "") -> HttpResponse:
    """The page was opened before the server was started again, or its cookie is gone."""
    carried = carried_of(request) if from_here(request) else None
    after = (
        "Go back: what you typed still stands in the page. Copy it, load the page again, and enter it there."
        if carried is None
        else "What you typed is kept in this page: look at it, and send it once more."
    )
    why = "Its page is from before somebody signed in here, or its cookie was cleared, so the change was not taken in."
    return refusal(request, 403, "This form is stale", [why, after], carried)


def no_such_address(request: HttpRequest, exception: Exception) -> HttpResponse:
    """An address nobody answers: a page for a person, a fault for a program."""
    if request.path.startswith("/api/"):
        said = "There is no such address here: /api/1/openapi.json lists them all."
        return JsonResponse({"faults": [{"path": request.path, "sentence": said}]}, status=404)
    return refusal(request, 404, "Not here", ["There is no such page: go back to the jobs."])


class PlainRefusals:
    """Errors a person can act on, in words; errors of ours in one sentence, with the details in the server's log."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Pass on; only what comes from here may run in the page."""
        answer = self.get_response(request)
        answer.headers.setdefault("Content-Security-Policy", POLICY)
        return answer

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        """The page for an error raised in a view."""
        if isinstance(error, Http404):
            return refusal(request, 404, "Not here", [str(error) or "There is no such page: go back to the jobs."])
        if isinstance(error, JobFaults):
            return refusal(
                request, 422, "This job cannot be used as it is", [str(fault) for fault in error.faults[:40]]
            )
        if isinstance(error, BolewrightError):
            return refusal(request, 422, "Not enough is known", [plainly(error.sentence)])
        if isinstance(error, RequestDataTooBig | TooManyFieldsSent | TooManyFilesSent):
            return refusal(request, 413, "Too much at once", ["Nothing of it was kept: send it in smaller parts."])
        if isinstance(error, UnreadablePostError | MultiPartParserError):
            return refusal(
                request,
                400,
                "The line broke",
                ["What you sent did not arrive whole, so nothing of it was kept: send it again."],
            )
        if isinstance(error, OperationalError):
            log.error("database", exc_info=error)
            return refusal(
                request, 503, "The database does not answer", ["Nothing was changed. Wait a moment and send it again."]
            )
        log.error("error in %s", request.path, exc_info=error)
        return refusal(
            request,
            500,
            "Something went wrong inside",
            ["It is written down in the server's log. What was saved before stands."],
        )
