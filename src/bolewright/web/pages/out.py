"""The way out over the lawn: not there yet, and the page says so."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from bolewright.web.pages.common import facts, job_of, page


@require_GET
def out(request: HttpRequest, key: str) -> HttpResponse:
    """Says that nothing is worked out here yet."""
    return page(request, "out", facts(job_of(key), "out"))
