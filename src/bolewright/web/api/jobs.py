"""Jobs, their documents and their revisions."""

from __future__ import annotations

from typing import Any, Literal

from django.http import Http404, HttpRequest, HttpResponse
from django.urls import reverse
from ninja import Router, Status
from ninja.params.functions import Header, Query

from bolewright.job.schema import job_schema
from bolewright.store.models import KeptJob, Revision
from bolewright.store.revisions import new_job, replace, tables
from bolewright.web.api.documents import as_json, document_in
from bolewright.web.api.faults import FAULTS, JOB_FAULTS, Refusal
from bolewright.web.api.shapes import Faults, JobList, JobRow, RevisionList, RevisionRow, StaleFaults
from bolewright.web.everywhere import who
from bolewright.web.pages.common import is_stopped, job_of, title_of

router = Router(tags=["jobs"])
Document = dict[str, Any]
TAG = {"ETag": {"description": "The revision, in quotes, for If-Match.", "schema": {"type": "string"}}}
SENT = {
    "requestBody": {
        "required": True,
        "content": {
            "application/json": {
                "schema": {
                    "type": "object",
                    "description": "A job document as `bolewright check` takes it; its schema is at job-schema.json.",
                    "required": ["schema", "job", "tree"],
                    "properties": {
                        "schema": {"const": 1}, "job": {"type": "object"}, "tree": {"type": "object"},
                    },
                },
            }
        },
    }
}  # fmt: skip


def row_of(job: KeptJob) -> JobRow:
    """A job as the list has it."""
    latest, first = job.latest, job.made_at
    return JobRow(
        key=job.key, title=title_of(latest), revision=latest.number, made_at=first, changed_at=latest.made_at,
        changed_by=latest.by, example=bool(job.example), units="metric" if job.units == "metric" else "us",
        stopped=is_stopped(job) is not None,
    )  # fmt: skip


def _tagged(answer: HttpResponse, revision: Revision) -> None:
    answer["ETag"] = f'"{revision.number}"'
    answer["Cache-Control"] = "no-store"


@router.get("/jobs", url_name="jobs", response={200: JobList, **FAULTS}, summary="The list of jobs, newest first")
def jobs(request: HttpRequest, offset: int = Query(0, ge=0, le=10**6), limit: int = Query(50, ge=1, le=200)) -> JobList:
    found = KeptJob.objects.all()
    return JobList(count=found.count(), jobs=[row_of(job) for job in found[offset : offset + limit]])


@router.post(
    "/jobs", url_name="jobs", response={201: JobRow, 413: Faults, **FAULTS}, openapi_extra=SENT, summary="A new job"
)
def make(
    request: HttpRequest, response: HttpResponse, units: Literal["us", "metric"] = "us", draft: bool = False
) -> Status[JobRow]:
    """Keeps the document sent as revision 1. Every fault in it is told at once; with `draft` it is kept with its
    faults, as the field sheet keeps a job that is half filled in."""
    job = new_job(document_in(request.body, draft), who(request), "opened by a program", units)
    response["Location"] = reverse("api:job", args=[job.key])
    _tagged(response, job.latest)
    return Status(201, row_of(job))


@router.get("/jobs/{key}", url_name="job", response={200: JobRow, **JOB_FAULTS}, summary="One job")
def job(request: HttpRequest, key: str) -> JobRow:
    return row_of(job_of(key))


@router.get(
    "/jobs/{key}/document", url_name="document", response={200: Document, **JOB_FAULTS}, summary="The job document"
)
def document(request: HttpRequest, response: HttpResponse, key: str) -> Any:
    """As saved now, drafts included; the ETag is its revision."""
    latest = job_of(key).latest
    _tagged(response, latest)
    return as_json(tables(latest))


@router.put(
    "/jobs/{key}/document",
    url_name="document",
    response={200: RevisionRow, 409: StaleFaults, 413: Faults, 428: Faults, **JOB_FAULTS},
    openapi_extra=SENT,
    summary="Save the job document",
)
def save_document(
    request: HttpRequest,
    response: HttpResponse,
    key: str,
    if_match: str | None = Header(None, alias="If-Match", description='The revision the change was made on: "7".'),
    revision: int | None = Query(None, ge=1, le=10**9, description="The same, for programs that cannot set a header."),
    draft: bool = False,
) -> RevisionRow:
    """Adds a revision with the document sent, if nobody saved one since the revision named; else 409 with the current
    one, and nothing is changed. Sending again what is saved already adds none."""
    job = job_of(key)
    base = _base(if_match, revision)
    saved = replace(job, base, document_in(request.body, draft), who(request), "saved by a program")
    _tagged(response, saved)
    return revision_row(saved)


def _base(if_match: str | None, revision: int | None) -> int:
    named = (if_match or "").strip().removeprefix("W/").strip('"')
    if named.isascii() and named.isdigit() and len(named) < 10:
        return int(named)
    if if_match is not None:
        raise Refusal(422, "If-Match", 'This is no revision: write it as the ETag had it, "7".')
    if revision is None:
        raise Refusal(
            428, "If-Match", "Say which revision the change was made on: If-Match, or the parameter revision."
        )
    return revision


def revision_row(revision: Revision) -> RevisionRow:
    """A revision as the list has it."""
    return RevisionRow(number=revision.number, made_at=revision.made_at, by=revision.by, what=revision.what)


@router.get(
    "/jobs/{key}/revisions",
    url_name="revisions",
    response={200: RevisionList, **JOB_FAULTS},
    summary="The line of revisions, newest first",
)
def revisions(
    request: HttpRequest, key: str, offset: int = Query(0, ge=0, le=10**6), limit: int = Query(50, ge=1, le=200)
) -> RevisionList:
    line = job_of(key).revisions.filter(aside=False).order_by("-number")
    return RevisionList(count=line.count(), revisions=[revision_row(r) for r in line[offset : offset + limit]])


@router.get(
    "/jobs/{key}/revisions/{number}/document",
    url_name="old-document",
    response={200: Document, **JOB_FAULTS},
    summary="The job document of an earlier revision",
)
def old_document(request: HttpRequest, response: HttpResponse, key: str, number: int) -> Any:
    found = revision_numbered(job_of(key), number)
    _tagged(response, found)
    return as_json(tables(found))


def revision_numbered(job: KeptJob, number: int) -> Revision:
    """A revision in the line, or 404."""
    found = job.revisions.filter(aside=False, number=number).first() if 0 < number < 10**9 else None
    if found is None:
        raise Http404("There is no revision of that number.")
    return found


@router.get("/job-schema.json", url_name="job-schema", auth=None, response={200: Document}, summary="The job's schema")
def schema(request: HttpRequest) -> Any:
    """JSON Schema, Draft 2020-12, of the job document."""
    return job_schema()
