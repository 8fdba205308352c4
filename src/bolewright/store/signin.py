"""Signing in, with a limit on tries kept in the database."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from django.contrib.auth import authenticate
from django.http import HttpRequest
from django.utils import timezone

from bolewright.store.models.people import Person, SignInTry
from bolewright.store.people import Refused

WINDOW = timedelta(minutes=15)
MOST_HERE, MOST_OF_NAME, MOST_OF_ADDRESS = 5, 30, 60  # tries within the window: name at an address, name, address
WRONG = "Sign-in name and password do not go together, or the account is disabled."


class TooMany(Refused):
    """Too many tries; it can be tried again later."""


def signed_in(request: HttpRequest, login: str, password: str, address: str) -> Person:
    """The person these belong to. Raises Refused with the same words whatever of them is wrong, or TooMany."""
    login, address = login.strip().lower()[:60], address[:45]
    now = timezone.now()
    SignInTry.objects.filter(at__lt=now - timedelta(days=1)).delete()
    this = SignInTry.objects.create(login=login, address=address)  # first, so that tries at once count each other
    _within(now, login, address)
    person: Any = authenticate(request, username=login, password=password)
    if not isinstance(person, Person):
        raise Refused(WRONG)
    SignInTry.objects.filter(login=login, address=address, pk__lte=this.pk).delete()
    return person


def _within(now: Any, login: str, address: str) -> None:
    recent = SignInTry.objects.filter(at__gte=now - WINDOW)
    of_name, of_address = recent.filter(login=login), recent.filter(address=address)
    if (
        of_name.filter(address=address).count() > MOST_HERE
        or of_name.count() > MOST_OF_NAME
        or of_address.count() > MOST_OF_ADDRESS
    ):
        raise TooMany("Too many tries: wait a quarter of an hour, or ask the owner for a link to a new password.")
