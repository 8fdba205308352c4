"""What somebody outside sees by a link: one job, the parts chosen when the link was made, nothing else."""

from __future__ import annotations

from typing import Any

from django.http import FileResponse, HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from bolewright import drawings
from bolewright.planning.picture import HOLDS
from bolewright.planning.scene import scene
from bolewright.store.answers import kept_answer
from bolewright.store.models import KeptJob, Photo, Share
from bolewright.store.pictures import copy_place
from bolewright.store.results import read
from bolewright.store.shares import note_opening, share_of
from bolewright.web.look import held
from bolewright.web.offers import file_of, on_show
from bolewright.web.pages.account import private
from bolewright.web.pages.common import data_folder, is_standing, page, title_of, units_of
from bolewright.web.pages.marks import drawn_copy
from bolewright.web.pages.standing_papers import drawings_of
from bolewright.web.records import photos_on_paper
from bolewright.web.stood import stood


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
    given: dict[str, Any] = {
        "share": share, "token": token, "outside": job, "revision": revision, "title": title_of(revision),
        "units": units_of(job), "standing": is_standing(revision),
    }  # fmt: skip
    if share.numbers:
        given.update(_stood(job, revision.text) if given["standing"] else _numbers(job, revision.text))
    if share.photos:
        given["photos"] = photos_on_paper(job, data_folder(), ())
        given["holds"] = HOLDS if any(m.kind == "length" for row in given["photos"] for m in row.drawn) else ""
    if share.paper_names:
        given["papers"] = on_show(job, share.paper_names)
    return _outside(page(request, "shared", given))


def _numbers(job: KeptJob, text: str) -> dict[str, Any]:
    """What a lying tree weighs, what holds it, and the order of work once there is one."""
    found, answer = held(text), kept_answer(job, text)
    given: dict[str, Any] = {"found": found, "worked": read(answer.text) if answer else None}
    if found.hold is not None and found.job is not None:
        shape, units = scene(found.job, None, found.model), units_of(job)
        given["elevation"] = drawings.elevation(shape, found.hold, None, units)
        given["above"] = drawings.plan_view(shape, None, None, found.hold, units)
    return given


def _stood(job: KeptJob, text: str) -> dict[str, Any]:
    """How a standing tree stands, with its drawings."""
    result = stood(text).result
    return {"result": result, "drawn": drawings_of(result, units_of(job)) if result is not None else []}


@require_GET
def photo(request: HttpRequest, token: str, number: int) -> HttpResponse | FileResponse:
    """The copy of a photograph, without what the camera wrote into it."""
    found = _photo(token, number)
    if found is None:
        return _no(request)
    answer = FileResponse(copy_place(data_folder(), found.sha256).open("rb"), content_type="image/jpeg")
    return _outside(answer)  # type: ignore[arg-type]


@require_GET
def marked(request: HttpRequest, token: str, number: int) -> HttpResponse:
    """That copy with what was drawn on it."""
    found = _photo(token, number)
    return _no(request) if found is None else _outside(drawn_copy(found))


def _photo(token: str, number: int) -> Photo | None:
    """A photograph the link shows and whose copy is there."""
    share = share_of(token)
    found = share.job.photos.filter(number=number).first() if share is not None and share.photos else None
    return found if found is not None and copy_place(data_folder(), found.sha256).is_file() else None


@require_GET
def paper(request: HttpRequest, token: str, name: str) -> HttpResponse:
    """One paper of those chosen: as signed, or as the job stands."""
    share = share_of(token)
    found = file_of(request, share.job, name) if share is not None and name in share.paper_names else None
    if share is None or found is None:
        return _no(request)
    _note(request, share, f"paper: {name}")
    return _outside(found)


def _note(request: HttpRequest, share: Share, what: str) -> None:
    note_opening(share, what, str(request.META.get("REMOTE_ADDR", "")), request.headers.get("User-Agent", ""))
