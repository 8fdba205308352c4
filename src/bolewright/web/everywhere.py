"""What every page is given: who is asking and what they may do, day or night sheet."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest

from bolewright.store.rights import RIGHTS
from bolewright.web.actor import WHO as WHO
from bolewright.web.actor import actor_of

NIGHT = "bolewright-night"


def who(request: HttpRequest) -> str:
    """The name that goes with a record: of the account, else the one given on this device, "" when none was."""
    return actor_of(request).name


def is_night(request: HttpRequest) -> bool:
    """Whether this device shows the night sheet."""
    return request.COOKIES.get(NIGHT) == "1"


def everywhere(request: HttpRequest) -> dict[str, Any]:
    """For every template."""
    actor = actor_of(request)
    may = {right: actor.may(right) for right in RIGHTS}
    return {"who": actor.name, "night": is_night(request), "actor": actor, "may": may}
