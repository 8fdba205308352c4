"""Who is asking: a person who signed in, a program with a key, or whoever holds this machine alone."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal
from urllib.parse import unquote

from django.conf import settings
from django.http import HttpRequest

from bolewright.store.keys import key_of
from bolewright.store.models import Person
from bolewright.store.rights import Right, may

WHO = "bolewright-who"
BEARER = "bearer "


@dataclass(frozen=True)
class Actor:
    """`name` stands beside what they enter; `role` is "" for somebody who is not known."""

    name: str
    role: str
    how: Literal["nobody", "alone", "session", "key"]
    person: Person | None = None

    def may(self, right: Right) -> bool:
        """Whether they may do that."""
        return may(self.role, right)


NOBODY = Actor("", "", "nobody")


def alone() -> bool:
    """Whether one person works on this machine and nobody signs in. Set by `web.serve` on the loopback address only."""
    return bool(settings.BOLEWRIGHT_ALONE)


def actor_of(request: HttpRequest) -> Actor:
    """Who makes this request; found out once."""
    known = getattr(request, "bolewright_actor", None)
    if isinstance(known, Actor):
        return known
    found = _by_key(request) if request.path.startswith("/api/") else _by_session(request)
    request.bolewright_actor = found  # type: ignore[attr-defined]
    return found


def _by_session(request: HttpRequest) -> Actor:
    """A cookie a person signed in with. On a machine of one person everybody is its owner."""
    if alone():
        return Actor(unquote(request.COOKIES.get(WHO, ""))[:80].strip(), "owner", "alone")
    person: Any = getattr(request, "user", None)
    if isinstance(person, Person) and person.is_active:
        return Actor(person.name, person.role, "session", person)
    return NOBODY


def _by_key(request: HttpRequest) -> Actor:
    """Cookies are not looked at, so another site's page cannot use somebody's session here."""
    sent = request.headers.get("Authorization", "")
    if not sent.lower().startswith(BEARER):
        return NOBODY
    key = key_of(sent[len(BEARER) :].strip())
    if key is None:
        return NOBODY
    if key.person is not None:
        return Actor(key.person.name, key.person.role, "key", key.person)
    return Actor(key.label, "owner", "key") if alone() else NOBODY
