"""Taking in each entry of a tablet once, however often it is sent, with an answer a program can read."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from datetime import datetime
from typing import Any

from django.db import IntegrityError, transaction
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.utils.dateparse import parse_datetime

from bolewright.store.entries import LONGEST_KEY, Entry, known_answer, take
from bolewright.store.models import KeptJob
from bolewright.web.everywhere import who

_KEY = re.compile(rf"[0-9A-Za-z-]{{16,{LONGEST_KEY}}}")
NOT_TAKEN = (401, 403)  # who sends it is not known, or the page is too old: it may be sent again


def entry_of(request: HttpRequest) -> Entry | None:
    """The entry a request carries; None for an ordinary form."""
    found = getattr(request, "entry", None)
    return found if isinstance(found, Entry) else None


def made_at(request: HttpRequest) -> datetime | None:
    """When an entry that was kept without signal was made, by the tablet's clock."""
    entry = entry_of(request)
    return entry.made_at if entry else None


def with_words(answer: HttpResponse, said: Iterable[str]) -> HttpResponse:
    """An answer that also carries its sentences for a program."""
    answer.said = list(said)  # type: ignore[attr-defined]
    return answer


class TakenOnce:
    """Posts with a key: done once, in one transaction with the note that they were."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Pass on; what is done and the note that it was stand or fall together."""
        entry = _carried(request) if request.method == "POST" else None
        if entry is None:
            return self.get_response(request)
        request.entry = entry  # type: ignore[attr-defined]
        try:
            return self._taken(request, entry)
        except IntegrityError:  # it came twice at the same moment: the other one stands
            known = _known(request, entry)
            if known is None:
                raise
            return known

    def _taken(self, request: HttpRequest, entry: Entry) -> HttpResponse:
        with transaction.atomic():
            response = self.get_response(request)
            if getattr(response, "known", False):
                return response
            answer = _digest(response)
            if response.status_code >= 500 or response.status_code in NOT_TAKEN:
                transaction.set_rollback(True)
            else:
                take(entry, _job(request), request.path, who(request), answer)
        if request.headers.get("HX-Request") or response.status_code >= 500:
            return response
        return JsonResponse(answer, status=response.status_code if response.status_code in NOT_TAKEN else 200)

    def process_view(self, request: HttpRequest, view: Any, args: Any, kwargs: Any) -> HttpResponse | None:
        """Once it is clear that they may: a key that is known is answered as it was the first time."""
        entry = entry_of(request)
        return _known(request, entry) if entry else None


def _known(request: HttpRequest, entry: Entry) -> HttpResponse | None:
    try:
        answer = known_answer(entry.key, request.path)
    except KeyError:
        answer = {"taken": False, "status": 409, "place": "", "said": ["This key belongs to another entry."]}
    if answer is None:
        return None
    response = JsonResponse(answer)
    response.known = True  # type: ignore[attr-defined]
    return response


def _carried(request: HttpRequest) -> Entry | None:
    key = request.headers.get("Entry-Key", "")
    if not _KEY.fullmatch(key):
        return None
    sheet = request.headers.get("Entry-Sheet", "")
    return Entry(key, sheet if _KEY.fullmatch(sheet) else "", _time(request.headers.get("Entry-Made", "")))


def _time(text: str) -> datetime | None:
    try:
        found = parse_datetime(text)
    except ValueError:
        return None
    return found if found is not None and found.tzinfo is not None else None


def _job(request: HttpRequest) -> KeptJob | None:
    parts = request.path.split("/")
    return KeptJob.objects.filter(key=parts[2]).first() if len(parts) > 3 and parts[1] == "job" else None


def _digest(response: HttpResponse) -> dict[str, Any]:
    """What became of it: taken or refused, where to go, what was said."""
    return {
        "taken": response.status_code < 400,
        "status": response.status_code,
        "place": response.headers.get("Location", ""),
        "said": list(getattr(response, "said", ())),
    }
