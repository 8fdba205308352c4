"""Papers: what can be made and what the others lack, making them, the drawings, the measuring sheet, the job file."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Any

from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.text import slugify
from django.views.decorators.http import require_GET, require_POST

from bolewright import documents, drawings
from bolewright.documents.given import Given
from bolewright.documents.paper import Paper, contents, fingerprint
from bolewright.documents.papers import PAPERS
from bolewright.drawings.units import Units
from bolewright.planning.results import Plan
from bolewright.store.answers import kept_answer
from bolewright.store.models import KeptJob
from bolewright.store.results import Worked, read
from bolewright.store.signed import newest
from bolewright.web import printing, runs
from bolewright.web.fields import call_sections, measure_sections, out_sections, paper_sections, work_sections
from bolewright.web.look import draft_of, whole_job
from bolewright.web.pages import standing_papers
from bolewright.web.pages.common import data_folder, facts, is_standing, job_of, page, title_of, units_of
from bolewright.web.pages.entry import sections_of
from bolewright.web.records import NOT_WHOLE, Records, records_of
from bolewright.web.records import given as given_of

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
    revision = given["revision"]
    given["run"] = runs.look(job, revision, revision.text)
    given["sheets"] = list(SHEETS)
    answer = given["run"].answer
    if answer is not None:
        given["worked"] = read(answer.text)
    records = records_of(job, revision, answer, data_folder())
    text = answer.text if answer else ""
    given["press"] = printing.look(job, revision.text, text, records)
    given["papers"] = _rows(job, given_of(revision.text, text, records), given["press"].titles)
    given["sections"] = sections_of(job, paper_sections())
    given["pack"] = "insurer-pack.zip" in given["press"].titles
    if given["pack"]:
        given["pack_size"] = (given["press"].folder / "insurer-pack.zip").stat().st_size
    return page(request, "papers", given)


def _rows(job: KeptJob, found: Given | None, titles: dict[str, str]) -> list[dict[str, Any]]:
    """Every paper: what it is for, what it lacks, whether it was made, who signed it and whether that still stands."""
    signed = newest(job)
    rows = []
    for paper in PAPERS:
        reasons = paper.lacking(found) if found is not None else [NOT_WHOLE]
        row = signed.get(paper.name)
        stands = row is not None and found is not None and not reasons and _stands(paper, found, row.shown)
        rows.append({"paper": paper, "reasons": reasons, "made": f"{paper.name}.pdf" in titles, "signed": row,
                     "stands": stands})  # fmt: skip
    return rows


def _stands(paper: Paper, found: Given, shown: str) -> bool:
    return fingerprint(contents(paper, found)) == shown


def _state(key: str) -> tuple[KeptJob, str, str, Records]:
    """Job, document, answer and records as they are saved now."""
    job = job_of(key)
    revision = job.latest
    answer = kept_answer(job, revision.text)
    return job, revision.text, answer.text if answer else "", records_of(job, revision, answer, data_folder())


@require_POST
def make(request: HttpRequest, key: str) -> HttpResponse:
    """Begin, or stop, making the papers."""
    state = _state(key)
    if "cancel" in request.POST:
        printing.cancel(*state)
    else:
        printing.start(*state)
    return redirect("papers", key)


@require_GET
def making(request: HttpRequest, key: str) -> HttpResponse:
    """How far the papers are; when they are done the page is loaded anew."""
    state = _state(key)
    press = printing.look(*state)
    answer = page(request, "parts/making", {"job": state[0], "press": press})
    if press.state != "running":
        answer["HX-Refresh"] = "true"
    return answer


@require_GET
def made(request: HttpRequest, key: str, name: str) -> HttpResponse | FileResponse:
    """A paper or the pack as made for the job as it is saved now."""
    press = printing.look(*_state(key))
    if press.folder is None or name not in press.titles:
        raise Http404("This paper was not made for the job as it is saved now: make the papers again.")
    kind = "application/zip" if name.endswith(".zip") else "application/pdf"
    file = (press.folder / name).open("rb")
    answer = FileResponse(file, content_type=kind, filename=name, as_attachment=name.endswith(".zip"))
    answer["Cache-Control"] = "no-store"
    return answer


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


FRONT = (*call_sections(), *measure_sections()[:4])  # the first page: what a first answer needs
BLANK_ROWS = {
    "tree-stem": 7, "tree-limb": 11, "support": 6, "job-utilities": 2, "access-leg": 2,
    "building": 2, "protect": 2, "access-no-go": 2, "access-gate": 2, "tree-decay": 2, "truck": 2,
}  # fmt: skip
MORE_ROWS = 2  # empty ones under those filled in
# Decided on the sheet, or known to the office: no room for them on a blank leaf.
NOT_MEASURED = ("crane", "rigging", "limits", "prop", "leave", "cut", "day", "rates")


@require_GET
def measuring_sheet(request: HttpRequest, key: str, what: str) -> HttpResponse:
    """The measuring sheet for paper, blank on two sides or filled, in the order of the pages."""
    job = job_of(key)
    given = facts(job, "papers")
    back = [*measure_sections()[4:], *work_sections(), *out_sections()]
    if what == "blank":
        back = [section for section in back if section.path[0] not in NOT_MEASURED]
    given["pages"] = [sections_of(job, FRONT), sections_of(job, tuple(back))]
    given["blank"], given["lines"], given["more"] = what == "blank", BLANK_ROWS, MORE_ROWS
    given["draft"] = draft_of(given["revision"].text)
    return page(request, "sheet", given)
