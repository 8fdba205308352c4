"""People with accounts, and clients signed in as them."""

from __future__ import annotations

from typing import Any

from django.test import Client

from bolewright.store.models import Person

PASSWORD = "oak on the garage 7"


def person(role: str = "crew", login: str = "", **more: Any) -> Person:
    """Somebody with an account."""
    login = login or role
    made = Person(login=login, name=more.pop("name", f"{login.capitalize()} Field"), role=role, **more)
    made.set_password(PASSWORD)
    made.save()
    return made


def signed_in(role: str = "crew", login: str = "") -> Client:
    """A client of somebody of this role."""
    client = Client()
    client.force_login(person(role, login))
    return client
