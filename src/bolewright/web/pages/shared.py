"""What somebody outside sees by a link: one job, the parts chosen when the link was made, nothing else."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.http import FileResponse, HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from bolewright import drawings
from bolewright.planning.scene import scene
from bolewright.store.answers import kept_answer
from bolewright.store.models import KeptJob, Share
from bolewright.store.photos import VIEWS
from bolewright.store.pictures import copy_place
from bolewright.store.results import read
from bolewright.store.shares import note_opening, share_of
from bolewright.web.look import held
from bolewright.web.pages import papers
from bolewright.web.pages.account import private
from bolewright.web.pages.common import data_folder, page, title_of, units_of

# What can be opened as a paper; each is the job's own page of it.
PAPERS: dict[str, tuple[str, Callable[[HttpRequest, str], HttpResponse]]] = {
    "briefing": ("Briefing, PDF", papers.briefing),
    "elevation": ("Drawing from the side, SVG", lambda request, key: papers.sheet(request, key, "elevation")),
    "plan": ("Drawing from above, SVG", lambda request, key: papers.sheet(request, key, "plan")),
    "load": ("What the building carries, step by step, SVG", lambda request, key: papers.sheet(request, key, "load")),
}


def _outside(answer: HttpResponse) -> HttpResponse:
    """Not kept, not listed, and the link in the address told to nobody."""
    answer["Cache-Control"] = "private, no-store"
    private(answer)
    answer["Referrer-Policy"] = "no-referrer"  # no form here
    return answer


def _no(request: HttpRequest) -> HttpResponse:
    """The one answer for a link that is revoked, expired or made up, and for what a link does not show."""
    return _outside(page(request, "shared", {"share": None}, 404))


@require_GET
def shared(request: HttpRequest, token: str) -> HttpResponse:
    """The job, as far as the link shows it."""
    share = share_of(token)
    if share is None:
        return _no(request)
    _note(request, share, "the page")
    job = share.job
    revision = job.latest
    answer = kept_answer(job, revision.text)
    given: dict[str, Any] = {
        "share": share, "token": token, "outside": job, "revision": revision, "title": title_of(revision),
        "units": units_of(job), "worked": read(answer.text) if answer and share.numbers else None,
    }  # fmt: skip
    if share.numbers:
        given.update(_numbers(job, revision.text))
    if share.photos:
        words = {view.id: view.words for view in VIEWS}
        given["photos"] = [{"photo": p, "words": words.get(p.view, p.note)} for p in job.photos.all()]
    if share.papers and answer is not None:
        given["papers"] = [(name, words) for name, (words, _) in PAPERS.items()]
    return _outside(page(request, "shared", given))


def _numbers(job: KeptJob, text: str) -> dict[str, Any]:
    found = held(text)
    given: dict[str, Any] = {"found": found}
    if found.hold is not None and found.job is not None:
        shape, units = scene(found.job, None, found.model), units_of(job)
        given["elevation"] = drawings.elevation(shape, found.hold, None, units)
        given["above"] = drawings.plan_view(shape, None, None, found.hold, units)
    return given


@require_GET
def photo(request: HttpRequest, token: str, number: int) -> HttpResponse | FileResponse:
    """The copy of a photograph, without what the camera wrote into it."""
    share = share_of(token)
    found = share.job.photos.filter(number=number).first() if share is not None and share.photos else None
    if found is None:
        return _no(request)
    answer = FileResponse(copy_place(data_folder(), found.sha256).open("rb"), content_type="image/jpeg")
    return _outside(answer)  # type: ignore[arg-type]


@require_GET
def paper(request: HttpRequest, token: str, name: str) -> HttpResponse:
    """One paper."""
    share = share_of(token)
    if share is None or not share.papers or name not in PAPERS:
        return _no(request)
    if kept_answer(share.job, share.job.latest.text) is None:
        return _no(request)
    _note(request, share, f"paper: {name}")
    return _outside(PAPERS[name][1](request, share.job.key))


def _note(request: HttpRequest, share: Share, what: str) -> None:
    note_opening(share, what, str(request.META.get("REMOTE_ADDR", "")), request.headers.get("User-Agent", ""))
