"""The list of jobs, a new job, a job file taken in or given out, and who holds the tablet."""

from __future__ import annotations

from typing import Any
from urllib.parse import quote

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.text import slugify
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from bolewright.job.guards import LARGEST_FILE, text_of
from bolewright.job.syntax import tables_of
from bolewright.reference.species import all_species
from bolewright.store.models import KeptJob
from bolewright.store.revisions import new_job, tables
from bolewright.web.everywhere import NIGHT, WHO, is_night, who
from bolewright.web.pages.common import is_standing, job_of, page, title_of
from bolewright.web.refusals import refusal

YEAR = 365 * 24 * 3600


@require_GET
def jobs(request: HttpRequest) -> HttpResponse:
    """Every job here."""
    return page(request, "jobs", {"rows": [_row(job) for job in KeptJob.objects.all()], "here": "jobs"})


def _row(job: KeptJob) -> dict[str, Any]:
    latest = job.latest
    standing = is_standing(latest)
    failed = standing and "failure" in tables(latest)
    kind = "tree that failed" if failed else "standing tree" if standing else "tree down"
    return {"job": job, "title": title_of(latest), "latest": latest, "kind": kind}


@require_http_methods(["GET", "POST"])
def new(request: HttpRequest) -> HttpResponse:
    """A new job needs a title; everything else can wait."""
    names = [species.common_name for species in all_species()]
    typed = {key: request.POST.get(key, "").strip() for key in ("title", "species", "attached", "units")}
    if request.method == "GET" or not typed["title"]:
        said = "Give the job a title: the address will do." if request.method == "POST" else ""
        return page(request, "new", {"typed": typed, "said": said, "species": names, "here": "jobs"})
    tree = {key: typed[key] for key in ("species", "attached") if typed[key]}
    units = "metric" if typed["units"] == "metric" else "us"
    document: dict[str, Any] = {"schema": 1, "job": {"title": typed["title"][:200]}, "tree": tree}
    job = new_job(document, who(request), "opened the job", units)
    return redirect("call", job.key)


@require_POST
def take_in(request: HttpRequest) -> HttpResponse:
    """A job from a job file, kept as it is even when something in it cannot be used."""
    file = request.FILES.get("file")
    if file is None:
        return refusal(request, 422, "No file came", ["Choose a job file (TOML or JSON) and send it again."])
    if (file.size or 0) > LARGEST_FILE:
        return refusal(request, 413, "This file is too large", ["A job file has a few kB: choose the right file."])
    document = tables_of(text_of(file.read()))
    job = new_job(document, who(request), f"taken in from {str(file.name)[-100:]}", units_in(document))
    return redirect("call", job.key)


def units_in(document: Any) -> str:
    """Metric when the stem was measured in it."""
    tree = document.get("tree")
    stem = tree.get("stem") if isinstance(tree, dict) else None
    first = stem[0] if isinstance(stem, list) and stem and isinstance(stem[0], dict) else {}
    return "metric" if str(first.get("diameter", "")).rstrip().endswith("m") else "us"


@require_GET
def give_out(request: HttpRequest, key: str) -> HttpResponse:
    """The job file as it stands."""
    job = job_of(key)
    revision = job.latest
    answer = HttpResponse(revision.text, content_type="application/toml; charset=utf-8")
    name = slugify(title_of(revision))[:60] or "job"
    answer["Content-Disposition"] = f'attachment; filename="{name}-{revision.number}.toml"'
    return answer


@require_POST
def set_who(request: HttpRequest) -> HttpResponse:
    """Who holds this tablet; goes with every change, photograph and tick."""
    answer = _back(request)
    answer.set_cookie(WHO, quote(request.POST.get("who", "").strip()[:80]), max_age=YEAR, samesite="Lax")
    return answer


@require_POST
def set_night(request: HttpRequest) -> HttpResponse:
    """Day or night sheet on this device."""
    answer = _back(request)
    answer.set_cookie(NIGHT, "0" if is_night(request) else "1", max_age=YEAR, samesite="Lax")
    return answer


@require_POST
def set_units(request: HttpRequest, key: str) -> HttpResponse:
    """Feet and pounds, or metric, for what this job shows; what was typed stays as typed."""
    job = job_of(key)
    job.units = "us" if job.units == "metric" else "metric"
    job.save(update_fields=["units"])
    return _back(request)


def _back(request: HttpRequest) -> HttpResponseRedirect:
    place = request.POST.get("next", "/")
    here = url_has_allowed_host_and_scheme(place, allowed_hosts={request.get_host()})
    return HttpResponseRedirect(place if here else "/")
