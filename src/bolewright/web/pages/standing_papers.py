"""Papers and drawings of a standing tree, made from the job as saved now."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache

from django.http import Http404, HttpRequest, HttpResponse
from django.urls import reverse
from django.utils.text import slugify
from django.views.decorators.http import require_GET

from bolewright import documents
from bolewright.documents.given import PhotoRow
from bolewright.drawings.standing_chart import fragility_chart
from bolewright.drawings.standing_fall import fall_circle
from bolewright.drawings.standing_lookback import needed_against_recorded
from bolewright.drawings.standing_section import section_from_above
from bolewright.drawings.standing_trace import resistance_trace
from bolewright.drawings.units import Units
from bolewright.job.cited import citations
from bolewright.planning.standing.compare import compare
from bolewright.planning.standing.results import StandResult
from bolewright.store.models import KeptJob, Revision
from bolewright.store.revisions import tables
from bolewright.web.pages.common import data_folder, facts, is_standing, job_of, page, title_of, units_of
from bolewright.web.pages.entry import PAGES, sections_of
from bolewright.web.records import photos_on_paper
from bolewright.web.stood import stood, stood_all_year

MOST_LOOKED, MOST_OTHERS = 400, 20
PAPERS = {
    "inspection": "Inspection report",
    "notice": "Letter to the owner of the tree",
    "delivery-log": "Delivery log of the letter",
    "cause": "Cause-of-failure record",
}


def papers(request: HttpRequest, key: str) -> HttpResponse:
    """What can be printed now, and the letter to fill in."""
    job = job_of(key)
    given = facts(job, "papers")
    found = stood(given["revision"].text)
    given.update(found=found, result=found.result, sections=sections_of(job, PAGES["papers"]()))
    if found.result is not None:
        failed = found.result.look_back is not None
        given["papers"] = [(name, words) for name, words in PAPERS.items() if name != "cause" or failed]
        given["others"] = _others(job)
        given["drawn"] = [(name, words) for name, words, _ in drawings_of(found.result, units_of(job))]
    return page(request, "standing/papers", given)


def _others(job: KeptJob) -> list[tuple[str, str]]:
    """Other records of a tree of the same kind, by key and words: this one may be laid beside them."""
    kind = _species(job.latest)
    found = []
    for other in KeptJob.objects.exclude(pk=job.pk)[:MOST_LOOKED]:
        latest = other.latest
        if is_standing(latest) and _species(latest) == kind:
            found.append((other.key, f"{title_of(latest)}, revision {latest.number}"))
    return found[:MOST_OTHERS]


def _species(revision: Revision) -> str:
    tree = tables(revision).get("tree")
    return str(tree.get("species", "")).strip().lower() if isinstance(tree, dict) else ""


@require_GET
def against(request: HttpRequest, key: str, other: str) -> HttpResponse:
    """This record beside an earlier one of the same tree, as PDF."""
    job = job_of(key)
    then, now = stood(job_of(other).latest.text), stood(job.latest.text)
    if then.job is None or now.job is None or then.result is None or now.result is None:
        raise Http404("One of the two records cannot be worked out yet: its page Papers says what is needed.")
    units = units_of(job)
    pdf = documents.comparison(then.job, now.job, compare(then.job, now.job), units)
    answer = HttpResponse(pdf, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{slugify(title_of(job.latest))[:60] or "job"}-beside.pdf"'
    return answer


def _result(job: KeptJob) -> StandResult:
    found = stood(job.latest.text).result
    if found is None:
        raise Http404("There is no answer for the job as it is saved now: the page Papers says what is needed.")
    return found


@require_GET
def paper(request: HttpRequest, key: str, name: str) -> HttpResponse:
    """One paper as PDF."""
    job = job_of(key)
    result = _result(job)
    if name not in PAPERS or (name == "cause" and result.look_back is None):
        raise Http404("There is no such paper for this job.")
    pdf = pdf_of(job, name, lambda number: request.build_absolute_uri(reverse("photo", args=[job.key, number])))
    answer = HttpResponse(pdf, content_type="application/pdf")
    title = slugify(title_of(job.latest))[:60] or "job"
    answer["Content-Disposition"] = f'inline; filename="{title}-{name}.pdf"'
    return answer


def pdf_of(job: KeptJob, name: str, address: Callable[[int], str] | None = None) -> bytes:
    """A paper of a tree that has an answer; with the addresses of its photographs where they are asked for."""
    text = job.latest.text
    return _printed(text, name, units_of(job), photo_rows(job, text, address))


@lru_cache(maxsize=8)
def _printed(text: str, name: str, units: Units, photos: tuple[PhotoRow, ...]) -> bytes:
    found = stood_all_year(text) if name == "inspection" else stood(text)
    assert found.job is not None
    assert found.result is not None
    if name == "inspection":
        return documents.inspection(found.job, found.result, units, photos=photos)
    if name == "cause":
        return documents.cause(found.job, found.result, units, photos=photos)
    made = documents.notice if name == "notice" else documents.delivery_log
    return made(found.job, found.result, units)


def photo_rows(job: KeptJob, text: str, address: Callable[[int], str] | None = None) -> tuple[PhotoRow, ...]:
    """The job's photographs as a paper shows them: small copies of those the record names, the address of each."""
    found = stood(text)
    cited = citations(found.job) if found.job is not None else ()
    named = {p.number for p in job.photos.all() if any(c.names(p.number, p.name) for c in cited)}
    rows = photos_on_paper(job, data_folder(), named)
    return rows if address is None else tuple(replace(row, link=address(row.number)) for row in rows)


@require_GET
def drawing(request: HttpRequest, key: str, name: str) -> HttpResponse:
    """One drawing as SVG, on paper colours."""
    job = job_of(key)
    for known, _, svg in drawings_of(_result(job), units_of(job)):
        if known == name:
            return HttpResponse(svg, content_type="image/svg+xml")
    raise Http404("There is no such drawing.")


def drawings_of(result: StandResult, units: Units) -> list[tuple[str, str, str]]:
    """Every drawing: its name, what it shows, the SVG."""
    tested = [section for section in result.sections if section.measured]
    found = [
        (f"section-{n:02d}", f"section {n}", section_from_above(section, result.worst_towards_deg, units))
        for n, section in enumerate(tested, 1)
    ]
    traced = [test for test in result.tests if test.trace is not None]
    found += [
        (f"trace-{n:02d}", f"trace of {test.id}", resistance_trace(test, units)) for n, test in enumerate(traced, 1)
    ]
    found.append(("gusts", "how many samples fail in what gust", fragility_chart(result, units)))
    found.append(("fall-circle", "where it could fall", fall_circle(result, "", units)))
    if result.look_back is not None:
        bars = needed_against_recorded(result.look_back, units)
        found.append(("look-back", "gust needed against gust recorded", bars))
    return found
