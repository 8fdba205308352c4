"""The interface against its own OpenAPI document: whatever is sent, no error of ours, and answers as described."""

from __future__ import annotations

import io
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from django.core.signals import request_finished, request_started
from django.db import close_old_connections
from hypothesis import HealthCheck, settings
from PIL import Image
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi import checks
from tests.functional.accounts import person

from bolewright.job.syntax import tables_of
from bolewright.store.keys import make_key
from bolewright.store.photos import add_photo
from bolewright.store.pictures import looked_at
from bolewright.web import runs
from bolewright.web.api import api
from bolewright.web.wsgi import application

pytestmark = pytest.mark.django_db
SMALL = Path(__file__).parent / "data" / "small-stem.toml"
EXAMPLES = 6
CHECKS = [
    not_a_server_error, checks.status_code_conformance, checks.content_type_conformance,
    checks.response_headers_conformance, checks.response_schema_conformance,
    checks.missing_required_header, checks.unsupported_method,
]  # fmt: skip
schema = schemathesis.openapi.from_wsgi("/api/1/openapi.json", application, headers={"Host": "localhost"})


@pytest.fixture
def own_connection() -> Iterator[None]:
    """The server runs in this thread and would close the connection the test's data are on."""
    for signal in (request_started, request_finished):
        signal.disconnect(close_old_connections)
    yield
    for signal in (request_started, request_finished):
        signal.connect(close_old_connections)


@pytest.fixture
def office(
    own_connection: None, settings: Any, data: Path, kept: Any, monkeypatch: pytest.MonkeyPatch
) -> tuple[str, str]:
    """The key of somebody in the office, and the address of a job with a photograph; no order is really worked out."""
    settings.BOLEWRIGHT_ALONE = False
    settings.ALLOWED_HOSTS = ["localhost"]
    monkeypatch.setattr(runs, "start", lambda job, text: None)
    job = kept(tables_of(SMALL.read_text(encoding="utf-8")))
    _, token = make_key(person("office"), "test", "Office Field")
    out = io.BytesIO()
    Image.new("RGB", (400, 300), "peru").save(out, "JPEG")
    add_photo(job, data, looked_at(io.BytesIO(out.getvalue())), "butt.jpg", "butt", "before", "Ann")
    return token, job.key


@schema.parametrize()
@settings(max_examples=EXAMPLES, suppress_health_check=list(HealthCheck), deadline=None)
def test_made_up_requests(case: Any, office: tuple[str, str]) -> None:
    """Half of them about a job that is there."""
    token, key = office
    there = case.path_parameters or {}
    if len(str(there.get("key", ""))) % 2:
        there.update({"key": key, **({"number": 1} if str(there.get("number", "")).isdigit() else {})})
    case.call_and_validate(headers={"Authorization": f"Bearer {token}", "Host": "localhost"}, checks=CHECKS)


def test_the_document_is_whole() -> None:
    """Valid itself, every address of the interface in it, and nothing of another server."""
    schema.validate()
    document = api.get_openapi_schema()
    text = json.dumps(document)
    assert document["openapi"].startswith("3.")
    assert {place.removeprefix("/api/1") for place in document["paths"]} >= {
        "/jobs", "/jobs/{key}", "/jobs/{key}/document", "/jobs/{key}/revisions", "/jobs/{key}/photos",
        *(f"/jobs/{{key}}/{name}" for name in ("check", "weigh", "hold", "cuts", "out", "stand")),
    }  # fmt: skip
    assert "://" not in text
    for operations in document["paths"].values():
        for method, operation in operations.items():
            told = set(map(str, operation["responses"]))
            assert {"401", "403", "422"} <= told or operation["operationId"].endswith("schema"), (method, operation)
