"""Whatever goes wrong leaves the JSON interface as a list of faults with a status that says whose it is."""

from __future__ import annotations

import logging
from collections.abc import Iterable
from typing import Any

from django.core.exceptions import RequestDataTooBig, TooManyFieldsSent, TooManyFilesSent
from django.db import OperationalError
from django.http import Http404, HttpRequest, HttpResponse
from django.http.multipartparser import MultiPartParserError
from django.http.request import UnreadablePostError
from ninja import NinjaAPI
from ninja.errors import HttpError, ValidationError

from bolewright.core.base.errors import BolewrightError
from bolewright.job.faults import JobFaults, printable
from bolewright.store.photos import NoSuchView
from bolewright.store.pictures import NotAPhoto
from bolewright.store.revisions import Stale, tables
from bolewright.web.api.documents import as_json
from bolewright.web.api.shapes import Faults

log = logging.getLogger(__name__)
OFTEN = frozenset({401, 403, 422})  # of every address: the key, the role, the parameters
OF_A_JOB = frozenset({401, 403, 404, 422})
FAULTS: dict[frozenset[int], Any] = {OFTEN: Faults}
JOB_FAULTS: dict[frozenset[int], Any] = {OF_A_JOB: Faults}


class Refusal(Exception):
    """A refusal with its status."""

    def __init__(self, status: int, path: str, sentence: str) -> None:
        super().__init__(sentence)
        self.status, self.path, self.sentence = status, path, sentence


def rows(faults: Iterable[tuple[str, str]]) -> dict[str, Any]:
    """The answer that lists them."""
    return {"faults": [{"path": path, "sentence": sentence} for path, sentence in faults]}


def found_in(error: Exception) -> tuple[int, dict[str, Any]]:
    """Status and answer for an error; 500 for one of ours, with the details in the server's log only."""
    match error:
        case JobFaults():
            return 422, rows((fault.path, fault.sentence) for fault in error.faults)
        case Stale():
            sentence = f"The job is at revision {error.latest.number} by now: put your change on that one."
            current = {"revision": error.latest.number, "document": as_json(tables(error.latest))}
            return 409, {**rows([("If-Match", sentence)]), **current}
        case Refusal():
            return error.status, rows([(error.path, error.sentence)])
        case NoSuchView():
            return 422, rows([("view", str(error))])
        case NotAPhoto():
            return 422, rows([("file", str(error))])
        case BolewrightError():
            return 422, rows([(error.path, error.sentence)])
        case ValidationError():
            return 422, rows((_path(row), _sentence(row)) for row in error.errors)
        case Http404():
            return 404, rows([("", str(error) or "There is nothing here.")])
        case RequestDataTooBig() | TooManyFieldsSent() | TooManyFilesSent():
            return 413, rows([("", "This is too much at once, and nothing of it was kept: send it in smaller parts.")])
        case UnreadablePostError() | MultiPartParserError():
            return 400, rows([("", "What you sent did not arrive whole, so nothing of it was kept: send it again.")])
        case HttpError():
            return error.status_code, rows([("", "What you sent cannot be read: see openapi.json for its form.")])
        case OperationalError():
            log.error("database", exc_info=error)
            return 503, rows([("", "The database does not answer. Nothing was changed: send it again in a moment.")])
    log.error("error in the JSON interface", exc_info=error)
    return 500, rows([("", "Something went wrong inside; it is in the server's log. What was saved before stands.")])


def _path(row: dict[str, Any]) -> str:
    return printable(".".join(str(part) for part in row.get("loc", ())))[:200]


def _sentence(row: dict[str, Any]) -> str:
    if row.get("type") == "missing":
        return "This is needed, and it did not come."
    return printable(f"This cannot be used: {row.get('msg', 'wrong form')}.")[:300]


def answer_faults(api: NinjaAPI) -> None:
    """Have every error answered this way."""

    def answered(request: HttpRequest, error: Any) -> HttpResponse:
        status, content = found_in(error)
        return api.create_response(request, content, status=status)

    for kind in (Exception, HttpError, ValidationError, Http404):
        api.add_exception_handler(kind, answered)
