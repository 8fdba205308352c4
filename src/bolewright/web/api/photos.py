"""Photographs of a job: the list, the pictures, and new ones with the same guards as the page has."""

from __future__ import annotations

from typing import Any, BinaryIO, Literal, cast

from django.http import FileResponse, Http404, HttpRequest
from ninja import Router, Status
from ninja.files import UploadedFile
from ninja.params.functions import File, Form

from bolewright.store.models import Photo
from bolewright.store.photos import add_photo
from bolewright.store.pictures import copy_place, looked_at, original_place
from bolewright.store.views import ViewState, shown_by, view_states
from bolewright.web.api.faults import JOB_FAULTS
from bolewright.web.api.shapes import Faults, PhotoList, PhotoRow, ViewList, ViewRow
from bolewright.web.everywhere import who
from bolewright.web.marked import marks_drawn
from bolewright.web.pages.common import data_folder, is_standing, job_of, there

router = Router(tags=["photographs"])
PICTURE_FILE: Any = File(..., description="JPEG, HEIC, PNG or WebP, at most 40 MB and 60 million pixels.")


def row_of(photo: Photo) -> PhotoRow:
    """A photograph as the list has it."""
    row: dict[str, Any] = {name: getattr(photo, name, None) for name in PhotoRow.model_fields}
    drawn = [mark.told for mark in marks_drawn(photo, data_folder())]
    return PhotoRow(**{**row, "shows": sorted(shown_by(photo)), "drawn": drawn})


@router.get(
    "/jobs/{key}/photos", url_name="photos", response={200: PhotoList, **JOB_FAULTS}, summary="All photographs of a job"
)
def photos(request: HttpRequest, key: str) -> PhotoList:
    return PhotoList(photos=[row_of(photo) for photo in job_of(key).photos.prefetch_related("shown")])


@router.post(
    "/jobs/{key}/photos",
    url_name="photos",
    response={200: PhotoRow, 201: PhotoRow, 400: Faults, 413: Faults, **JOB_FAULTS},
    summary="Add a photograph",
)
def add(
    request: HttpRequest,
    key: str,
    file: UploadedFile = PICTURE_FILE,
    view: str = Form("", max_length=40, description="The view it fills, one of `views`; empty for none."),
    facing: str = Form("", max_length=80),
    note: str = Form("", max_length=500),
) -> Status[PhotoRow]:
    """Kept byte for byte. Sent a second time for the same view it is not kept twice: 200 instead of 201."""
    job = job_of(key)
    picture = looked_at(cast(BinaryIO, file.file), file.size)
    photo, fresh = add_photo(job, data_folder(), picture, str(file.name), view, who(request), facing, note)
    return Status(201 if fresh else 200, row_of(photo))


@router.get(
    "/jobs/{key}/photos/{number}", url_name="photo", response={200: PhotoRow, **JOB_FAULTS}, summary="One photograph"
)
def photo(request: HttpRequest, key: str, number: int) -> PhotoRow:
    return row_of(_photo(key, number))


@router.get(
    "/jobs/{key}/views", url_name="views", response={200: ViewList, **JOB_FAULTS}, summary="Views the job asks for"
)
def views(request: HttpRequest, key: str) -> ViewList:
    """None for a standing tree."""
    job = job_of(key)
    states = [] if is_standing(job.latest) else view_states(job)
    return ViewList(views=[_view_row(state) for state in states])


def _view_row(state: ViewState) -> ViewRow:
    view, waiver = state.view, state.waiver
    return ViewRow(
        id=view.id, stage=view.stage, words=view.words, step=view.step, state=state.state,  # type: ignore[arg-type]
        photos=[photo.number for photo in state.photos], reason=waiver.reason if waiver else "",
        waived_by=waiver.by if waiver else "",
    )  # fmt: skip


PICTURE: Any = {
    "responses": {
        200: {
            "description": "The picture",
            "content": {"image/*": {"schema": {"type": "string", "format": "binary"}}},
        }
    }
}


@router.get(
    "/jobs/{key}/photos/{number}/{size}",
    url_name="picture",
    response={200: None, **JOB_FAULTS},
    openapi_extra=PICTURE,
    summary="The original as it came, or a smaller copy without the camera's data",
)
def picture(request: HttpRequest, key: str, number: int, size: Literal["original", "copy"]) -> FileResponse:
    found = _photo(key, number)
    if size == "copy":
        return FileResponse(there(copy_place(data_folder(), found.sha256)).open("rb"), content_type="image/jpeg")
    place = there(original_place(data_folder(), found.sha256, found.kind))
    return FileResponse(place.open("rb"), as_attachment=True, filename=found.name or place.name)


def _photo(key: str, number: int) -> Photo:
    found = job_of(key).photos.filter(number=number).first() if 0 < number < 10**9 else None
    if found is None:
        raise Http404("There is no such photograph.")
    return found
