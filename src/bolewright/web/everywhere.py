"""What every page is given: who holds the tablet, day or night sheet."""

from __future__ import annotations

from typing import Any
from urllib.parse import unquote

from django.http import HttpRequest

WHO, NIGHT = "bolewright-who", "bolewright-night"


def who(request: HttpRequest) -> str:
    """The name given on this device, "" when none was."""
    return unquote(request.COOKIES.get(WHO, ""))[:80].strip()


def is_night(request: HttpRequest) -> bool:
    """Whether this device shows the night sheet."""
    return request.COOKIES.get(NIGHT) == "1"


def everywhere(request: HttpRequest) -> dict[str, Any]:
    """For every template."""
    return {"who": who(request), "night": is_night(request)}
