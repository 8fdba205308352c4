"""The JSON interface: jobs, photographs, results, revisions, for programs with a key."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest
from ninja import NinjaAPI
from ninja.security import HttpBearer

from bolewright.web.actor import actor_of
from bolewright.web.api import answers, jobs, photos
from bolewright.web.api.faults import answer_faults


class ByKey(HttpBearer):
    """Says in the OpenAPI document how to send a key. Who may do what is decided in `web.access`, before this."""

    def authenticate(self, request: HttpRequest, token: str) -> Any:
        """The actor of the key."""
        actor = actor_of(request)
        return actor if actor.how == "key" else None


def made() -> NinjaAPI:
    """The interface with all its addresses."""
    api = NinjaAPI(
        title="Bolewright",
        version="1",
        description=(
            "Jobs as documents with revisions, photographs, and the answers of the commands with the same keys. "
            "Numbers are SI. It advises; the qualified person on site decides."
        ),
        docs_url=None,  # its page would load scripts from elsewhere
        openapi_url="/openapi.json",
        urls_namespace="api",
        auth=ByKey(),
    )
    for part in (jobs, photos, answers):
        api.add_router("", part.router)
    answer_faults(api)
    return api


api = made()
