"""A form that could not be taken in goes through signing in: what is carried, and what never is."""

from __future__ import annotations

import json
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import RequestFactory

from bolewright.web.carried import MOST, carried_in, carried_of, from_here

POSTS = RequestFactory()


def test_what_was_typed_comes_back_in_its_order() -> None:
    """Every value of every field, without the old token; files by name only."""
    file = SimpleUploadedFile("butt.jpg", b"x")
    posted = {"csrfmiddlewaretoken": "old", "note": 'torn "here" <b>', "kind": ["a", "b"], "file": file}
    found = carried_of(POSTS.post("/job/k/photos/add", posted))
    assert found is not None
    assert found.typed == (("note", 'torn "here" <b>'), ("kind", "a"), ("kind", "b"))
    assert found.files == ("butt.jpg",)
    assert carried_in(found.text) == found
    assert not found.is_stop


def test_a_stop_is_known_as_one() -> None:
    """The page then says to call it out."""
    found = carried_of(POSTS.post("/job/k/stop"))
    assert found is not None
    assert found.is_stop


@pytest.mark.parametrize(
    ("place", "posted"),
    [
        ("/account/password", {"old": "secret"}),
        ("/job/k/save/measure", {"password": "secret"}),
        ("/job/k/save/measure", {"note": "x" * MOST}),
        ("/people/invite", {"role": "owner"}),
        ("/nowhere", {"note": "x"}),
    ],
)
def test_what_is_not_carried(place: str, posted: dict[str, str]) -> None:
    """Secrets, very long forms, addresses that belong to no job."""
    assert carried_of(POSTS.post(place, posted)) is None


@pytest.mark.parametrize(
    "text", ["", "x", "[]", "[1]", json.dumps(["https://example.org/", [], []]), json.dumps(["/new", [["a"]], []])]
)
def test_a_hidden_field_that_is_not_ours(text: str) -> None:
    """Nothing is made of it."""
    assert carried_in(text) is None


@pytest.mark.parametrize(
    ("headers", "ours"),
    [
        ({"HTTP_ORIGIN": "http://testserver"}, True),
        ({"HTTP_REFERER": "http://testserver/job/k/measure"}, True),
        ({"HTTP_ORIGIN": "https://elsewhere.example", "HTTP_REFERER": "http://testserver/"}, False),
        ({"HTTP_ORIGIN": "null"}, False),
        ({}, False),
    ],
)
def test_only_a_form_of_this_server_is_given_back(headers: dict[str, Any], ours: bool) -> None:
    """Another site cannot have its own words offered for sending."""
    assert from_here(POSTS.post("/job/k/stop", **headers)) is ours
