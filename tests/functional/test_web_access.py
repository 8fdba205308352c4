"""Every address and every role: who may look, who may send, and that nothing is forgotten."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from django.http import HttpResponse
from django.test import Client, RequestFactory
from django.urls import URLPattern, URLResolver, get_resolver, resolve
from tests.functional.accounts import person, signed_in

from bolewright.store.keys import make_key
from bolewright.store.models import KeptJob
from bolewright.store.rights import MAY, RIGHTS, ROLES
from bolewright.web import access

pytestmark = pytest.mark.django_db
METHODS = ("get", "post", "put", "patch", "delete")


@pytest.fixture(autouse=True)
def _accounts(settings: Any) -> None:
    settings.BOLEWRIGHT_ALONE = False


def addresses() -> Iterator[tuple[str, str]]:
    """Name and a made-up address of every pattern there is."""
    yield from _below(get_resolver(), "", "")


def _below(part: URLResolver, start: str, space: str) -> Iterator[tuple[str, str]]:
    for pattern in part.url_patterns:
        if isinstance(pattern, URLResolver):
            inner = f"{space}{pattern.namespace}:" if pattern.namespace else space
            yield from _below(pattern, start + _filled(pattern.pattern), inner)
        else:
            assert isinstance(pattern, URLPattern)
            yield f"{space}{pattern.name}", "/" + start + _filled(pattern.pattern)


def _filled(pattern: Any) -> str:
    route = str(pattern)
    for name, converter in pattern.converters.items():
        kind = type(converter).__name__.removesuffix("Converter").lower().replace("string", "str")
        route = route.replace(f"<{kind}:{name}>", "1" if kind == "int" else "x").replace(f"<{name}>", "x")
    assert "<" not in route, route
    return route


ALL = sorted(set(addresses()))


def test_every_address_is_written_down_once_and_nothing_else_is() -> None:
    """A new page has to be put into the table; an old one out of it."""
    names = [name for _, _, part in access.TABLE for name in part.split()]
    assert sorted(names) == sorted(set(names))
    assert sorted({name for name, _ in ALL}) == sorted(names)
    assert {need for pair in access.NEEDS.values() for need in pair} <= {*RIGHTS, access.OPEN}


def test_made_up_addresses_reach_their_pages() -> None:
    """The walk walks what it says."""
    for name, place in ALL:
        assert resolve(place).view_name == name
    assert len(ALL) > 40


@pytest.mark.parametrize(("name", "place"), ALL)
def test_nobody_gets_in_without_signing_in(name: str, place: str, settings: Any, tmp_path: Any) -> None:
    """Whatever is asked, by whatever method: 401, and no page of a job; only what is written down as open answers."""
    settings.BOLEWRIGHT_DATA = tmp_path
    person("owner")
    for method in METHODS:
        answer = getattr(Client(), method)(place)
        is_open = access.needed(name, method.upper()) == access.OPEN
        assert (answer.status_code == 401) is not is_open, (method, answer.status_code)


@pytest.mark.parametrize("role", ROLES)
def test_every_role_at_every_address(role: str, settings: Any, tmp_path: Any) -> None:
    """Refused with 403 exactly where the role lacks the right, by the whole server; let through elsewhere."""
    settings.BOLEWRIGHT_DATA = tmp_path
    who = person(role)
    client, held = Client(), MAY[role]  # type: ignore[index]
    client.force_login(who)
    _, token = make_key(who, "test", who.name)
    door = access.Access(lambda request: HttpResponse())
    for name, place in ALL:
        sent = {"headers": {"Authorization": f"Bearer {token}"}} if place.startswith("/api/") else {}
        for method in METHODS:
            need = access.needed(name, method.upper())
            if need != access.OPEN and need not in held:
                assert getattr(client, method)(place, **sent).status_code == 403, (name, method)
                continue
            request: Any = getattr(RequestFactory(), method)(place, **sent)
            request.user, request.resolver_match = who, resolve(place)
            assert door.process_view(request, None, (), {}) is None, (name, method)


def test_an_address_nobody_wrote_down_is_the_owners() -> None:
    """Forgetting shuts people out, never in."""
    assert access.needed("a-new-page", "GET") == access.needed("a-new-page", "POST") == "people"
    assert [role for role in ROLES if "people" in MAY[role]] == ["owner"]


def test_viewer_looks_and_stops_and_no_more(kept: Any) -> None:
    """The stop is everybody's; the sheet is shown but cannot be filled in."""
    job: KeptJob = kept()
    viewer = signed_in("viewer")
    text = viewer.get(f"/job/{job.key}/call").content.decode()
    assert 'fieldset class="bare" disabled' in text
    assert "STOP WORK" in text
    assert viewer.post(f"/job/{job.key}/save/call", {"base": 1, "job/site": "x"}).status_code == 403
    assert job.revisions.count() == 1
    assert viewer.post(f"/job/{job.key}/stop").status_code == 302
    assert [entry.by for entry in job.log.all()] == ["Viewer Field"]
    assert viewer.post(f"/job/{job.key}/go-on").status_code == 403
    assert viewer.get("/new").status_code == 403


def test_what_is_sent_signed_out_is_refused_in_words(kept: Any) -> None:
    """Never sent on to another page: a program that follows would take its entry for saved."""
    job = kept()
    person("owner")
    for headers in ({}, {"HX-Request": "true"}):
        answer = Client().post(f"/job/{job.key}/save/call", {"base": 1, "job/site": "x"}, headers=headers)
        assert answer.status_code == 401
        assert b"was not kept" in answer.content
        assert b"job/site" in answer.content  # it comes with the page, to be sent after signing in
    answer = Client().get(f"/job/{job.key}/call")
    assert answer.status_code == 401
    assert f'value="/job/{job.key}/call"'.encode() in answer.content
    assert job.latest.text.encode()[:20] not in answer.content
