"""Photographs: required views, uploads, waivers, and the pictures themselves."""

from __future__ import annotations

from typing import Any, BinaryIO, cast

from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_POST

from bolewright.planning.order.views import AFTER, BEFORE, DURING
from bolewright.planning.picture import HOLDS
from bolewright.store.models import KeptJob, Photo
from bolewright.store.photos import NOTED, add_photo, note_about
from bolewright.store.pictures import NotAPhoto, copy_place, is_untouched, looked_at, original_place
from bolewright.store.views import say_shows, shown_by, view_states, views_of_job, waive
from bolewright.web.entries import made_at, with_words
from bolewright.web.everywhere import who
from bolewright.web.marked import marks_drawn
from bolewright.web.pages.common import data_folder, facts, job_of, page, there, whole_number

STAGES = ((BEFORE, "Before anything moves"), (DURING, "During the work"), (AFTER, "When the tree is out"))


@require_GET
def photos(request: HttpRequest, key: str) -> HttpResponse:
    """The views in the order of the day, then everything else."""
    return _photos_page(request, key)


def _photos_page(request: HttpRequest, key: str, refused: tuple[str, ...] = (), status: int = 200) -> HttpResponse:
    job = job_of(key)
    given = facts(job, "photos")
    states = view_states(job)
    given["groups"] = [(words, [s for s in states if s.view.stage == stage]) for stage, words in STAGES]
    shown = {p.pk for s in states for p in s.photos}
    given["others"] = [p for p in job.photos.all() if p.pk not in shown]
    given["open"] = sum(s.state == "missing" and s.view.stage == BEFORE for s in states)
    given["waiting"] = sum(s.state == "missing" and s.view.step is not None for s in states)
    given["refused"] = refused
    return page(request, "photos", given, status)


@require_POST
def upload(request: HttpRequest, key: str) -> HttpResponse:
    """Take in photographs; each is let in or refused by itself, and refusals say which and why."""
    job = job_of(key)
    view, stage = _asked(request, job)
    refused = []
    files = request.FILES.getlist("file")
    for file in files:
        try:
            picture = looked_at(cast(BinaryIO, file.file), file.size)
            facing, note = request.POST.get("facing", ""), request.POST.get("note", "")
            add_photo(
                job, data_folder(), picture, str(file.name), view, who(request), facing, note, made_at(request), stage
            )
        except NotAPhoto as fault:
            refused.append(f"{str(file.name)[-60:]}: {fault}")
    if not files:
        refused.append("No photograph came: choose one and send it again.")
    if refused:
        return with_words(_photos_page(request, key, tuple(refused), 422), refused)
    return _back(request, job)


def _asked(request: HttpRequest, job: KeptJob) -> tuple[str, str]:
    """The view a photograph is for; one kept without signal for a view nobody asks for any more is kept without it."""
    view = request.POST.get("view", "")
    if made_at(request) is not None and view not in {v.id for v in views_of_job(job)}:
        return "", DURING if view else BEFORE
    return view, BEFORE


def _back(request: HttpRequest, job: KeptJob) -> HttpResponse:
    """To the page the form stood on."""
    return redirect("work" if request.POST.get("from") == "work" else "photos", job.key)


@require_POST
def waive_view(request: HttpRequest, key: str) -> HttpResponse:
    """Do without a view, with a reason and a name."""
    job = job_of(key)
    by = who(request) or request.POST.get("by", "").strip()
    try:
        waive(job, request.POST.get("view", ""), request.POST.get("reason", ""), by)
    except ValueError as fault:
        return with_words(_photos_page(request, key, (str(fault),), 422), [str(fault)])
    return _back(request, job)


@require_GET
def picture(request: HttpRequest, key: str, number: int, size: str) -> FileResponse:
    """The copy for the page, or the original as it came."""
    photo = photo_of(key, number)
    folder = data_folder()
    if size == "original":
        place = there(original_place(folder, photo.sha256, photo.kind))
        answer = FileResponse(place.open("rb"), as_attachment=True, filename=photo.name or place.name)
    else:
        answer = FileResponse(there(copy_place(folder, photo.sha256)).open("rb"), content_type="image/jpeg")
    answer["Cache-Control"] = "private, max-age=86400"
    return answer


@require_GET
def about(request: HttpRequest, key: str, number: int) -> HttpResponse:
    """One photograph with everything known about it, and whether the original is still as it came."""
    photo, job = photo_of(key, number), job_of(key)
    given = facts(job, "photos")
    last = photo.notes.last()
    noted = [(name, words, getattr(last, name, "") if last else "") for name, words in NOTED]
    shows = shown_by(photo)
    views = [] if given["standing"] else views_of_job(job)
    words = {v.id: v.words for v in views}
    given.update(_drawn(photo))
    given.update(
        photo=photo, noted=noted, notes=photo.notes.order_by("-pk"),
        shows=[v for v in views if v.id in shows], others=[v for v in views if v.id not in shows],
        said=[(row, words.get(row.view, row.view)) for row in photo.shown.order_by("-pk")],
        untouched=is_untouched(data_folder(), photo.sha256, photo.kind),
    )  # fmt: skip
    return page(request, "photo", given)


def _drawn(photo: Photo) -> dict[str, Any]:
    """What was drawn on a copy, in words."""
    marks = marks_drawn(photo, data_folder())
    holds = HOLDS if any(m.kind == "length" for m in marks) else ""
    return {"marks": [m.told for m in marks], "marks_count": photo.marks.count(), "holds": holds}


@require_POST
def show(request: HttpRequest, key: str) -> HttpResponse:
    """Say that a photograph fills a view, or does not after all; back to the page the form stood on."""
    job, number = job_of(key), whole_number(request.POST.get("number", "").strip())
    photo = job.photos.filter(number=number).first() if number is not None else None
    try:
        if photo is None:
            raise ValueError("There is no photograph of this number: look at the job's photographs.")
        say_shows(photo, request.POST.get("view", ""), "not" not in request.POST, who(request))
    except ValueError as fault:
        return _photos_page(request, key, (str(fault),), 422)
    return _back(request, job) if "from" in request.POST else redirect("photo", key, photo.number)


@require_POST
def note(request: HttpRequest, key: str, number: int) -> HttpResponse:
    """Write down what is known about a photograph; the file and what the camera wrote stay as they came."""
    note_about(photo_of(key, number), request.POST, who(request))
    return redirect("photo", key, number)


def photo_of(key: str, number: int) -> Photo:
    photo = job_of(key).photos.filter(number=number).first()
    if photo is None:
        raise Http404("There is no such photograph: go back to the job's photographs.")
    return photo
