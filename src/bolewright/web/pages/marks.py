"""Drawing on a copy of a photograph: two taps or two pairs of numbers, with scripting and without."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from bolewright.drawings.photo_marks import marked_photo
from bolewright.planning.picture import HOLDS
from bolewright.store.marks import NotDrawn, Wanted, draw, newest_scale, standing
from bolewright.store.marks import take_back as taken_back
from bolewright.store.models import Photo
from bolewright.store.pictures import copy_place, size_of
from bolewright.web.entries import entry_of, made_at, with_words
from bolewright.web.everywhere import who
from bolewright.web.marked import marks_of, photo_mark
from bolewright.web.pages.common import data_folder, facts, page, there, units_of, whole_number
from bolewright.web.pages.photos import photo_of

KINDS = (("arrow", "Arrow"), ("text", "Words"), ("scale", "Scale"), ("length", "Length by the scale"))
SHOWN = (("360", "Small"), ("", "Middle"), ("1500", "Large"))  # longer side on the screen [CSS pixels]
MIDDLE, LEAST_SHOWN, MOST_SHOWN = 640, 200, 2000  # with scripting the middle size is what fits the screen
OFF = 8.0  # CSS pixels a tap may be off once its cross was looked at, some 2 mm: our own assumption
NUMBERS = ("x1", "y1", "x2", "y2")


@dataclass(frozen=True)
class Typed:
    """The form as it stands: numbers in percent of width and height, "" where nothing was tapped."""

    kind: str = "arrow"
    words: str = ""
    measure: str = ""
    shown: str = ""  # longer side on the screen [CSS pixels], "" for the middle size
    x1: str = ""
    y1: str = ""
    x2: str = ""
    y2: str = ""

    @property
    def start(self) -> tuple[float, float] | None:
        """Where it begins, as shares."""
        return _point(self.x1, self.y1)

    @property
    def end(self) -> tuple[float, float] | None:
        """Where it ends, as shares."""
        return _point(self.x2, self.y2)

    @property
    def longer(self) -> int:
        """Longer side on the screen [CSS pixels]."""
        return int(self.shown or MIDDLE)

    @property
    def wanted(self) -> Wanted:
        """What is to be drawn."""
        return Wanted(self.kind, self.start, self.end, self.words, self.measure, OFF / self.longer)


def _point(x: str, y: str) -> tuple[float, float] | None:
    across, down = _number(x), _number(y)
    return (across / 100.0, down / 100.0) if across is not None and down is not None else None


def _number(text: str) -> float | None:
    try:
        found = float(text.replace(",", ".").replace("%", ""))
    except ValueError:
        return None
    return found if abs(found) < 1e4 else None


def typed_of(posted: Mapping[str, str]) -> Typed:
    """The form as it was sent."""
    kind = posted.get("kind", "")
    return Typed(
        kind=kind if kind in dict(KINDS) else "arrow",
        words=posted.get("words", "")[:200],
        measure=posted.get("measure", "")[:80],
        shown=_shown(posted.get("shown", "")),
        **{name: posted.get(name, "").strip()[:12] for name in NUMBERS},
    )


def _shown(text: str) -> str:
    """A size the picture may have been shown at, "" for anything else."""
    return text if LEAST_SHOWN <= (whole_number(text) or 0) <= MOST_SHOWN else ""


def tapped(typed: Typed, x: float, y: float) -> Typed:
    """With one more tap (shares): the first sets the beginning, the second the end, a further one moves the nearer."""
    across, down = f"{100.0 * x:.2f}", f"{100.0 * y:.2f}"
    start, end = typed.start, typed.end
    if start is None or typed.kind == "text":
        return replace(typed, x1=across, y1=down)
    if end is None or _far(end, x, y) <= _far(start, x, y):
        return replace(typed, x2=across, y2=down)
    return replace(typed, x1=across, y1=down)


def _far(point: tuple[float, float], x: float, y: float) -> float:
    return (point[0] - x) ** 2 + (point[1] - y) ** 2


@require_http_methods(["GET", "HEAD", "POST"])
def marks(request: HttpRequest, key: str, number: int) -> HttpResponse:
    """The copy to draw on. A tap sent without scripting comes back with its cross; Draw it keeps the mark."""
    photo = photo_of(key, number)
    size = size_of(_copy(photo))
    if request.method != "POST":
        return _page(request, photo, size, typed_of(request.GET))
    typed = typed_of(request.POST)
    if "at.x" in request.POST:
        return _page(request, photo, size, _with_tap(request.POST, typed, size))
    if "draw" not in request.POST:
        return _page(request, photo, size, replace(typed, shown=_shown(request.POST.get("to", ""))))
    try:
        wanted = replace(typed.wanted, scale=request.POST.get("scale", "")[:64])
        entry = entry_of(request)
        draw(photo, wanted, size, who(request), made_at(request), entry.key if entry else "")
    except NotDrawn as fault:
        return with_words(_page(request, photo, size, typed, str(fault), 422), [str(fault)])
    answer = redirect("marks", key, number)
    answer["Location"] += f"?kind={typed.kind}&shown={typed.shown}"
    return answer


def _copy(photo: Photo) -> Path:
    return there(copy_place(data_folder(), photo.sha256))


def _with_tap(posted: Mapping[str, str], typed: Typed, size: tuple[int, int]) -> Typed:
    """Where the picture was tapped, from the pixels a browser sends by itself; a key pressed on it is no tap."""
    x, y = _number(posted.get("at.x", "")), _number(posted.get("at.y", ""))
    wide, high = _shown_size(typed, size)
    if x is None or y is None or (x == 0.0 and y == 0.0):
        return typed
    return tapped(typed, min(max(x / wide, 0.0), 1.0), min(max(y / high, 0.0), 1.0))


def _shown_size(typed: Typed, size: tuple[int, int]) -> tuple[int, int]:
    """Width and height on the screen [CSS pixels]."""
    scale = typed.longer / max(size)
    return round(size[0] * scale), round(size[1] * scale)


def _page(request: HttpRequest, photo: Photo, size: tuple[int, int], typed: Typed, refused: str = "",
          status: int = 200) -> HttpResponse:  # fmt: skip
    job = photo.job
    kept, units = standing(photo), units_of(job)
    wide, high = _shown_size(typed, size)
    points = [(p[0] * size[0], p[1] * size[1]) for p in (typed.start, typed.end) if p is not None]
    given: dict[str, Any] = {
        **facts(job, "photos"), "photo": photo, "typed": typed, "kinds": KINDS, "sizes": SHOWN, "refused": refused,
        "wide": wide, "high": high, "width": size[0], "height": size[1], "points": points, "cross": max(size) / 40,
        "kept": [(mark, photo_mark(mark, size, units).told) for mark in kept], "scale": newest_scale(kept),
        "holds": HOLDS if any(m.kind == "length" for m in kept) or typed.kind == "length" else "",
        "count": photo.marks.count(), "gone": photo.marks.filter(kind="taken back").select_related("of"),
    }  # fmt: skip
    return page(request, "marks", given, status)


@require_POST
def take_back(request: HttpRequest, key: str, number: int) -> HttpResponse:
    """Take a mark back; its row stays, with who took it back."""
    photo, mark = photo_of(key, number), whole_number(request.POST.get("mark"))
    try:
        taken_back(photo, mark or 0, who(request))
    except NotDrawn as fault:
        if entry_of(request) and photo.marks.filter(pk=mark or 0).exists():  # somebody else was first: it is gone
            return with_words(redirect("marks", key, number), ["It was taken back already."])
        return with_words(_page(request, photo, size_of(_copy(photo)), Typed(), str(fault), 422), [str(fault)])
    return redirect("marks", key, number)


@require_GET
def marked(request: HttpRequest, key: str, number: int) -> HttpResponse:
    """The copy with its marks, as a drawing with the picture in it."""
    return drawn_copy(photo_of(key, number))


def drawn_copy(photo: Photo) -> HttpResponse:
    """That drawing of a photograph, for whoever may see it."""
    place = _copy(photo)
    size = size_of(place)
    found = marks_of(photo, size, units_of(photo.job))
    drawing = marked_photo(place.read_bytes(), *size, found, f"Photograph {photo.number}, a copy that was drawn on")
    answer = HttpResponse(drawing, content_type="image/svg+xml")
    answer["Cache-Control"] = "private, no-cache"
    answer["Content-Security-Policy"] = "default-src 'none'; img-src data:; style-src 'unsafe-inline'"
    return answer
