"""What was typed into a form that could not be taken in, carried to where it can be sent once more by one button."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlsplit

from django.http import HttpRequest
from django.urls import Resolver404, resolve

MOST = 200_000  # characters: a whole measuring sheet has some 20,000
SECRET = {"password", "again", "old", "code", "login"}  # never written into a page
NOT_TYPED = {"csrfmiddlewaretoken"}
STOPS = ("stop", "stopped")


@dataclass(frozen=True)
class Carried:
    """Where a form was to go and what stood in it; files cannot be carried, only their names."""

    to: str
    typed: tuple[tuple[str, str], ...]
    files: tuple[str, ...] = ()

    @property
    def text(self) -> str:
        """For a hidden field."""
        return json.dumps([self.to, self.typed, self.files])

    @property
    def is_stop(self) -> bool:
        """Whether it was the stop."""
        return resolve(self.to).url_name in STOPS


def carried_of(request: HttpRequest) -> Carried | None:
    """The form that was sent; None when it is not to be carried: too large, with a secret in it, or nothing in it."""
    typed = [(name, str(value)) for name, values in request.POST.lists() for value in values]
    files = [str(file.name)[-100:] for name in request.FILES for file in request.FILES.getlist(name)]
    return _whole(request.path, typed, files)


def carried_in(text: str) -> Carried | None:
    """What a hidden field carries; None when it is nothing of ours."""
    try:
        to, typed, files = json.loads(text[: 2 * MOST])
        return _whole(str(to), [(str(name), str(value)) for name, value in typed], [str(name) for name in files])
    except (ValueError, TypeError):
        return None


def _whole(to: str, typed: Iterable[tuple[str, str]], files: Iterable[str]) -> Carried | None:
    found = Carried(to, tuple(pair for pair in typed if pair[0] not in NOT_TYPED), tuple(files))
    secret = any(name in SECRET for name, _ in found.typed)
    return None if secret or len(found.text) > MOST or not _is_ours(to) else found


def _is_ours(to: str) -> bool:
    """Whether it is the address of a form of a job or of a new one."""
    try:
        match = resolve(to)
    except Resolver404:
        return False
    return "key" in match.kwargs or match.url_name == "new"


def from_here(request: HttpRequest) -> bool:
    """Whether the browser says that the form stood on a page of this very server."""
    said = request.headers.get("Origin") or request.headers.get("Referer") or ""
    return urlsplit(said).netloc == request.get_host()


def facts_of(carried: Carried | None) -> dict[str, Any]:
    """For a template: the form to send once more, and in words what is in it."""
    if carried is None:
        return {}
    told = [(name.replace("/", ", ").replace("_", " "), value) for name, value in carried.typed if value.strip()]
    return {"carried": carried, "told": told}
