"""Papers: the briefing to print, the drawings, the measuring sheet, the job file."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from django.http import Http404, HttpRequest, HttpResponse
from django.utils.text import slugify
from django.views.decorators.http import require_GET

from bolewright import documents, drawings
from bolewright.drawings.units import Units
from bolewright.planning.results import Plan
from bolewright.store.results import Worked, read
from bolewright.web import runs
from bolewright.web.fields import call_sections, measure_sections, out_sections, work_sections
from bolewright.web.look import draft_of, whole_job
from bolewright.web.pages import standing_papers
from bolewright.web.pages.common import facts, is_standing, job_of, page, title_of, units_of
from bolewright.web.pages.entry import sections_of

SHEETS: dict[str, Callable[[Worked, Units], str]] = {
    "elevation": lambda w, u: drawings.elevation(w.scene, w.hold, _plan(w), u),
    "holding": lambda w, u: drawings.elevation(w.scene, w.hold, None, u),
    "plan": lambda w, u: drawings.plan_view(w.scene, _plan(w), None, w.hold, u),
    "load": lambda w, u: drawings.load_chart(w.cuts.chosen, u) if w.cuts.chosen.steps else "",
}


def _plan(worked: Worked) -> Plan | None:
    return worked.cuts.chosen if worked.cuts.status == "plan" else None


@require_GET
def papers(request: HttpRequest, key: str) -> HttpResponse:
    """What can be printed now, and what is missing for the rest."""
    job = job_of(key)
    if is_standing(job.latest):
        return standing_papers.papers(request, key)
    given = facts(job, "papers")
    given["run"] = runs.look(job, given["revision"], given["revision"].text)
    given["sheets"] = list(SHEETS)
    if given["run"].answer is not None:
        given["worked"] = read(given["run"].answer.text)
    return page(request, "papers", given)


def _answer_text(key: str) -> tuple[str, str, Units, str]:
    """Answer, document, units and a file name; 404 while there is no answer for the job as saved."""
    job = job_of(key)
    revision = job.latest
    run = runs.look(job, revision, revision.text)
    if run.answer is None:
        raise Http404("There is no order of cuts for the job as it is saved now: work it out on the page Cuts first.")
    name = slugify(title_of(revision))[:60] or "job"
    return run.answer.text, revision.text, units_of(job), name


@require_GET
def briefing(request: HttpRequest, key: str) -> HttpResponse:
    """The briefing as PDF."""
    text, document, units, name = _answer_text(key)
    answer = HttpResponse(_briefing(text, document, units), content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{name}-briefing.pdf"'
    return answer


@lru_cache(maxsize=4)
def _briefing(text: str, document: str, units: Units) -> bytes:
    job = whole_job(document)
    assert job is not None  # it was worked out
    worked = read(text)
    return documents.briefing(job, worked.weigh, worked.hold, worked.cuts, worked.scene, units)


@require_GET
def sheet(request: HttpRequest, key: str, name: str) -> HttpResponse:
    """One drawing as SVG, on paper colours."""
    text, _, units, _ = _answer_text(key)
    if name not in SHEETS:
        raise Http404("There is no such drawing.")
    return HttpResponse(SHEETS[name](read(text), units), content_type="image/svg+xml")


@require_GET
def measuring_sheet(request: HttpRequest, key: str, what: str) -> HttpResponse:
    """The measuring sheet for paper, blank or filled, in the order of the pages."""
    job = job_of(key)
    given = facts(job, "papers")
    sections = (*call_sections(), *measure_sections(), *work_sections(), *out_sections())
    given["sections"], given["blank"] = sections_of(job, sections), what == "blank"
    given["lines"] = {"tree-stem": 8, "tree-limb": 14, "support": 8, "building": 2}
    given["draft"] = draft_of(given["revision"].text)
    return page(request, "sheet", given)
