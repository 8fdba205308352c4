"""Pages that are filled in: the call and the measuring. Every entry is saved at once and answered with the drawing."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from bolewright.reference.species import all_species
from bolewright.store.edits import Edit, Tables, at, same_rows
from bolewright.store.entries import edits_before
from bolewright.store.models import KeptJob, Revision
from bolewright.store.revisions import Saved, as_seen, revision_of, save, tables, undo
from bolewright.web.cells import Section
from bolewright.web.entries import entry_of
from bolewright.web.everywhere import is_night, who
from bolewright.web.fields import (
    all_sections,
    call_sections,
    measure_sections,
    out_sections,
    paper_sections,
    work_sections,
)
from bolewright.web.look import draft_of, live
from bolewright.web.pages.common import facts, job_of, page, units_of, whole_number
from bolewright.web.refusals import refusal
from bolewright.web.rows import filled
from bolewright.web.standing_fields import standing_pages
from bolewright.web.typed import edits_of, field_of, name_of, path_of, shown


def _papers() -> tuple[Section, ...]:
    """The page Papers asks for other things of a lying tree and of a standing one; both are saved under its name."""
    return (*paper_sections(), *standing_pages()["papers"]())


PAGES: dict[str, Callable[[], tuple[Section, ...]]] = {
    "call": call_sections, "measure": measure_sections, "cuts": work_sections, "out": out_sections,
    **standing_pages(), "papers": _papers,
}  # fmt: skip


@require_GET
def call(request: HttpRequest, key: str) -> HttpResponse:
    """Who called, and what is dangerous there."""
    return _entry_page(request, key, "call")


@require_GET
def measure(request: HttpRequest, key: str) -> HttpResponse:
    """The tape."""
    return _entry_page(request, key, "measure")


def _entry_page(request: HttpRequest, key: str, here: str) -> HttpResponse:
    job = job_of(key)
    given = facts(job, here)
    given["sections"] = sections_of(job, PAGES[here]())
    given["species"] = [species.common_name for species in all_species()] if here == "measure" else []
    if here == "measure":
        given["live"] = live(given["revision"].text, units_of(job), is_night(request))
    return page(request, here, given)


def sections_of(job: KeptJob, sections: tuple[Section, ...]) -> Any:
    """The sections of a page with what is saved in them."""
    revision = job.latest
    return filled(sections, tables(revision), draft_of(revision.text), units_of(job))


@require_POST
def save_page(request: HttpRequest, key: str, here: str) -> HttpResponse:
    """Save what was typed on a page: one cell with scripting, the whole form without."""
    start = time.perf_counter()
    job = job_of(key)
    base = whole_number(request.POST.get("base"))
    if base is None or here not in PAGES:
        return refusal(request, 400, "This form is not whole", ["Load the page again and enter it there."])
    seen = revision_of(job, base)
    entry = entry_of(request)
    own = edits_before(job, entry.sheet, base) if entry else []
    document = as_seen(seen, own)
    posted = {name: str(value) for name, value in request.POST.items()}
    edits = edits_of(posted, document, units_of(job))
    gone = [Edit(path_of(name)) for name in request.POST.getlist("remove") if _is_row(name, document)]
    saved = save(job, base, [*edits, *gone], who(request), _what([*edits, *gone], document), own)
    if entry:
        entry.base, entry.edits = base, [*edits, *gone]
    if request.htmx:  # type: ignore[attr-defined]
        return _cell_answer(request, job, saved, edits, here, start, seen)
    return _page_answer(job, saved, here)


def _is_row(name: str, document: Any) -> bool:
    path = path_of(name)
    return isinstance(path[-1], int) and at(document, path) is not None


def _what(edits: list[Edit], document: Any) -> str:
    """The change in words, for the list of revisions."""
    said = []
    for edit in edits[:4]:
        known = field_of(edit.path)
        if known is None:
            row = at(document, edit.path)
            said.append(f"took away {row.get('id', 'a row') if isinstance(row, dict) else 'a row'}")
            continue
        row = at(document, edit.path[:-1])
        name = row.get("id", "") if isinstance(row, dict) else ""
        place = str(name or known[0].one or known[0].title).lower() if not name else str(name)
        said.append(f"{place} {known[1].label.lower()}: {shown(edit.value) or 'taken out'}")
    more = f" and {len(edits) - 4} more" if len(edits) > 4 else ""
    return "; ".join(said) + more


def _page_answer(job: KeptJob, saved: Saved, here: str) -> HttpResponse:
    if saved.aside is not None:
        return redirect("conflict", job.key, saved.aside.pk)
    return HttpResponseRedirect(reverse(here, args=[job.key]) + ("?merged=1" if saved.merged else ""))


def _cell_answer(
    request: HttpRequest, job: KeptJob, saved: Saved, edits: list[Edit], here: str, start: float, seen: Revision
) -> HttpResponse:
    """The touched cells as saved, a fresh row where one was begun, the drawing, and what met another's change."""
    if saved.merged and _rows_moved(tables(seen), tables(saved.revision), edits):
        answer = HttpResponse(status=204)
        answer["HX-Trigger"] = "rows-moved"  # the page's rows are no longer those of the job: it has to be renewed
        return answer
    given = facts(job, here, saved.revision)
    sections = sections_of(job, PAGES[here]())
    touched = {name_of(edit.path) for edit in edits} if not saved.merged else None
    given["cells"] = [c for f in sections for r in f.rows for c in r.cells if touched is None or c.name in touched]
    given["fresh"] = [
        (f, row) for f in sections if f.section.many for row in f.rows[_rows(tables(seen), f.section) + 1 :]
    ]
    given["sections"], given["saved"] = sections, saved
    if here == "measure":
        given["live"] = live(saved.revision.text, units_of(job), is_night(request))
        if saved.revision.number != seen.number:
            given["before"] = live(seen.text, units_of(job), is_night(request))
    answer = render(request, "bolewright/parts/saved.html", given)
    answer["Server-Timing"] = f"sheet;dur={(time.perf_counter() - start) * 1000:.0f}"
    return answer


def _rows(document: Tables, section: Section) -> int:
    found = at(document, section.path)
    return len(found) if isinstance(found, list) else 0


def _rows_moved(seen: Tables, saved: Tables, edits: list[Edit]) -> bool:
    """Whether the rows of the page are other rows now: somebody else added or took away some, or both did."""
    for part in all_sections():
        before, now = at(seen, part.path) or [], at(saved, part.path) or []
        if not part.many or before == now:
            continue
        begun = any(edit.path[: len(part.path)] == part.path and at(seen, edit.path[:-1]) is None for edit in edits)
        pairs = same_rows(before, now)
        if len(now) != len(before) + begun or any(i != pairs.get(i) for i in range(len(before))):
            return True
    return False


@require_POST
def take_back(request: HttpRequest, key: str) -> HttpResponse:
    """Undo: one change back, as a new revision."""
    job = job_of(key)
    undo(job, who(request))
    here = request.POST.get("here", "measure")
    return redirect(here if here in PAGES else "measure", job.key)


@require_http_methods(["GET"])
def drawing(request: HttpRequest, key: str) -> HttpResponse:
    """The quick drawing alone, to look at large."""
    job = job_of(key)
    svg = live(job.latest.text, units_of(job), is_night(request)).drawing
    return HttpResponse(svg or "<svg xmlns='http://www.w3.org/2000/svg'/>", content_type="image/svg+xml")
