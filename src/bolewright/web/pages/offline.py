"""What a device needs to go on without signal: the manifest, the service worker, and what to keep of a job."""

from __future__ import annotations

import hashlib
from functools import lru_cache
from pathlib import Path
from urllib.parse import quote

from django.contrib.staticfiles import finders
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.templatetags.static import static
from django.urls import reverse
from django.views.decorators.http import require_GET, require_safe

from bolewright.store import day
from bolewright.store.answers import kept_answer
from bolewright.store.marks import standing
from bolewright.store.models import KeptJob, Photo
from bolewright.store.results import fingerprint, read
from bolewright.store.written import written_about
from bolewright.web.everywhere import is_night
from bolewright.web.pages import solid
from bolewright.web.pages.common import job_of, page
from bolewright.web.pages.papers import SHEETS
from bolewright.web.stages import STAGES

SCRIPTS = ("main", "store", "send", "forms", "cells", "shown", "marked", "stop", "line", "list")
SHELL = (
    *(f"bolewright/{name}" for name in ("sheet.css", "sheet.js", "print.css", "mark.svg")),
    *(f"bolewright/{name}" for name in ("whatif.css", "whatif.js", "solid.css", "sign.js", "taps.js")),
    "django_htmx/htmx-2.min.js",
    *(f"bolewright/offline/{name}.js" for name in SCRIPTS),
)
BUNDLE = "bolewright/solid/solid.js"  # of the 3D view; kept with the first job, not with the sheet itself
PAPER = "#faf8f2"


@require_GET
def manifest(request: HttpRequest) -> HttpResponse:
    """What a device shows when the sheet is installed."""
    icons = [(f"bolewright/mark-{size}.png", f"{size}x{size}", "any") for size in (192, 512)]
    icons.append(("bolewright/mark-whole-512.png", "512x512", "maskable"))
    facts = {
        "id": "/", "name": "Bolewright", "short_name": "Bolewright", "start_url": "/", "scope": "/",
        "display": "standalone", "background_color": PAPER, "theme_color": PAPER, "lang": "en",
        "description": "What holds up a tree lying on a building, and in what order to cut it.",
        "icons": [{"src": static(place), "sizes": sizes, "type": "image/png", "purpose": purpose}
                  for place, sizes, purpose in icons],
    }  # fmt: skip
    return JsonResponse(facts, content_type="application/manifest+json")


@require_safe
def worker(request: HttpRequest) -> HttpResponse:
    """The service worker, from the root so that it serves every page; another version when any file of ours changes."""
    kept = [static(name) for name in SHELL]
    lines = f"const VERSION = {_version()!r};\nconst SHELL = {[*kept, reverse('kept')]!r};\n"
    lines += f"const LATER = {[static(BUNDLE)]!r};\n"
    answer = HttpResponse(lines + _file("bolewright/worker.js").read_text("utf-8"), content_type="text/javascript")
    answer["Cache-Control"] = "no-cache"
    return answer


@lru_cache(maxsize=1)
def _version() -> str:
    digest = hashlib.sha256()
    for name in (*SHELL, "bolewright/worker.js", *((BUNDLE,) if solid.BUNDLE.exists() else ())):
        digest.update(_file(name).read_bytes())
    return digest.hexdigest()[:16]


def _file(name: str) -> Path:
    found = finders.find(name)
    assert isinstance(found, str)  # it comes with the package
    return Path(found)


@require_GET
def kept(request: HttpRequest) -> HttpResponse:
    """The entries kept on this device; the page itself fills the list in."""
    return page(request, "kept", {"here": "kept", "title": "Kept on this tablet"})


@require_GET
def to_keep(request: HttpRequest, key: str) -> HttpResponse:
    """Every page of a job that has to open without signal. `mark` changes when any of them may have changed; a tablet
    that has kept those of this very mark is told no pages."""
    job = job_of(key)
    mark = fingerprint(f"{_version()} {written_about(job)} {job.units} {is_night(request)}")[:16]
    pages = _pages(job, job.latest.text) if request.GET.get("mark") != mark else []
    answer = JsonResponse({"mark": mark, "pages": pages})
    answer["Cache-Control"] = "no-store"
    return answer


def _pages(job: KeptJob, text: str) -> list[str]:
    names = [reverse(stage.name, args=[job.key]) for stage in STAGES]
    work = reverse("work", args=[job.key])
    used = day.plan_in_use(job)
    steps = read(used[0].text).plan(used[1]).steps if used else ()
    return [
        *names,
        *(f"{work}?step={step.n}" for step in steps),
        *_looks(job, text),
        *_papers(job, text),
        *(place for photo in job.photos.all() for place in _photograph(photo)),
    ]


def _photograph(photo: Photo) -> list[str]:
    """What is known of it, the page to draw on it, its copy, and the copy with marks where there are any."""
    here = [photo.job.key, photo.number]
    found = [reverse(name, args=here) for name in ("photo", "marks")]
    drawn = [reverse("marked", args=here)] if standing(photo) else []
    return [*found, reverse("picture", args=[*here, "copy"]), *drawn]


def _looks(job: KeptJob, text: str) -> list[str]:
    """What if, to be read; the 3D view with its file, under the address its page asks for, and its script."""
    answer = kept_answer(job, text)
    plan = f"?plan={quote(read(answer.text).cuts.chosen.title)}" if answer is not None else ""
    found = [reverse("what-if", args=[job.key]), reverse("solid", args=[job.key])]
    if not solid.BUNDLE.exists():
        return found
    return [*found, f"{reverse('model', args=[job.key])}{plan}", static(BUNDLE)]


def _papers(job: KeptJob, text: str) -> list[str]:
    """The measuring sheets and the drawing; briefing and drawings of the plan where there is one."""
    found = [reverse("measuring-sheet", args=[job.key, what]) for what in ("blank", "filled")]
    found += [
        reverse("history", args=[job.key]),
        reverse("drawing", args=[job.key]),
        reverse("stopped", args=[job.key]),
    ]
    if kept_answer(job, text) is not None:
        found.append(reverse("briefing", args=[job.key]))
        found += [reverse("paper-drawing", args=[job.key, name]) for name in SHEETS]
    return found
