"""A standing tree page by page: its size, what was seen, tests, wind and targets, judgement, the look back."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from bolewright.drawings.standing_chart import fragility_chart
from bolewright.drawings.standing_fall import fall_circle
from bolewright.drawings.standing_lookback import needed_against_recorded
from bolewright.drawings.standing_section import section_from_above
from bolewright.drawings.standing_trace import resistance_trace
from bolewright.job.guards import LARGEST_FILE, text_of
from bolewright.planning.standing.fallen import fallen
from bolewright.reference.cautions import cautions_for
from bolewright.reference.ratings import MEANINGS
from bolewright.reference.species import all_species
from bolewright.store.models import KeptJob
from bolewright.store.revisions import new_job, revision_of, save, tables
from bolewright.web.cited import named_on
from bolewright.web.everywhere import is_night, who
from bolewright.web.look import draft_of
from bolewright.web.looked import groups_of, item_of, marked, tests_of, with_test
from bolewright.web.pages.common import facts, job_of, page, units_of, whole_number
from bolewright.web.pages.entry import PAGES, sections_of
from bolewright.web.refusals import refusal
from bolewright.web.rows import filled
from bolewright.web.standing_fields import seen_sections, tests_sections
from bolewright.web.stood import Stood, stood, stood_all_year


def _given(key: str, here: str) -> tuple[KeptJob, dict[str, Any], Stood]:
    """What every page of a standing tree is given."""
    job = job_of(key)
    given = facts(job, here)
    found = stood(given["revision"].text)
    given.update(found=found, result=found.result, sections=sections_of(job, PAGES[here]()))
    given["named"] = named_on(here, found.job, job)
    return job, given, found


@require_GET
def size(request: HttpRequest, key: str) -> HttpResponse:
    """The tape, the clinometer, pacing."""
    _, given, _ = _given(key, "size")
    given["species"] = [species.common_name for species in all_species()]
    return page(request, "standing/size", given)


@require_GET
def seen(request: HttpRequest, key: str) -> HttpResponse:
    """What was looked for: seen, not seen, could not see, one tap each."""
    job, given, _ = _given(key, "seen")
    given["groups"] = _groups(job, given)
    given["sections"], given["unions"] = given["sections"][:1], given["sections"][2:]
    return page(request, "standing/seen", given)


def _groups(job: KeptJob, given: dict[str, Any]) -> Any:
    document = tables(given["revision"])
    rows = filled(seen_sections()[1:2], document, given["draft"], units_of(job))[0].rows
    return groups_of(document, rows)


@require_POST
def mark(request: HttpRequest, key: str) -> HttpResponse:
    """One tap: this was seen, was not seen, could not be seen."""
    job = job_of(key)
    base, tap = whole_number(request.POST.get("base")), request.POST.get("mark", "").split("|")
    if len(tap) == 1:  # something in one's own words: group and words are typed
        tap = [request.POST.get("group", ""), request.POST.get("what", "").replace("|", "/").strip()[:300], tap[0]]
    seen_at = revision_of(job, base) if base is not None else job.latest
    edits = marked(tables(seen_at), *tap) if len(tap) == 3 else []
    if not edits:
        return refusal(request, 422, "Nothing was marked", ["Say what was looked for, and tap what came of it."])
    saved = save(job, seen_at.number, edits, who(request), f"{tap[1]}: {tap[2]}")
    if not request.htmx:  # type: ignore[attr-defined]
        return redirect(reverse("seen", args=[job.key]) + f"#g-{tap[0]}")
    if saved.merged or saved.aside is not None:
        answer = HttpResponse(status=204)
        answer["HX-Refresh"] = "true"
        return answer
    given = facts(job, "seen", saved.revision)
    given["saved"] = saved
    given["group"], given["item"] = item_of(_groups(job, given), tap[0], tap[1])
    return render(request, "bolewright/standing/marked.html", given)


@require_GET
def tests(request: HttpRequest, key: str) -> HttpResponse:
    """Tests with their readings by height and side, what each said, and the sections they add up to."""
    job, given, found = _given(key, "tests")
    document = tables(given["revision"])
    rows = filled(tests_sections(), document, given["draft"], units_of(job))[0].rows
    given["tests"] = tests_of(document, rows, found.result)
    if found.result is not None:
        measured = [section for section in found.result.sections if section.measured]
        worst, units, night = found.result.worst_towards_deg, units_of(job), is_night(request)
        given["drawn"] = [section_from_above(section, worst, units, night) for section in measured]
        given["traced"] = [
            resistance_trace(test, units, night) for test in found.result.tests if test.trace is not None
        ]
    return page(request, "standing/tests", given)


@require_POST
def add_test(request: HttpRequest, key: str) -> HttpResponse:
    """Begin a test of a kind."""
    job = job_of(key)
    latest = job.latest
    edits = with_test(tables(latest), request.POST.get("kind", ""))
    if edits:
        save(job, latest.number, edits, who(request), f"began a test: {request.POST['kind']}")
    return redirect(reverse("tests", args=[job.key]) + "#tests")


@require_POST
def take_trace(request: HttpRequest, key: str) -> HttpResponse:
    """A drilling-resistance trace from a file, with height and side."""
    job = job_of(key)
    file = request.FILES.get("file")
    if file is None:
        said = "Choose the trace: plain text, a first line depth_mm,resistance, then a point a line."
        return refusal(request, 422, "No file came", [said])
    if (file.size or 0) > LARGEST_FILE:
        return refusal(request, 413, "This file is too large", ["A trace has some kB: choose the right file."])
    latest = job.latest
    more = {name: request.POST.get(name, "") for name in ("height", "side")}
    edits = with_test(tables(latest), "drilling", text_of(file.read()), more, units_of(job))
    save(job, latest.number, edits, who(request), f"took in a trace from {str(file.name)[-80:]}")
    return redirect(reverse("tests", args=[job.key]) + "#tests")


@require_GET
def wind(request: HttpRequest, key: str) -> HttpResponse:
    """The wind it is held against, how it stands that, and what it could hit."""
    job, given, found = _given(key, "wind")
    if found.result is not None:
        units, night = units_of(job), is_night(request)
        given["seasons"] = stood_all_year(given["revision"].text).result.seasons  # type: ignore[union-attr]
        given["chart"] = fragility_chart(found.result, units, night)
        given["fall"] = fall_circle(found.result, "", units, night)
    return page(request, "standing/wind", given)


@require_GET
def judge(request: HttpRequest, key: str) -> HttpResponse:
    """The assessor's words, and beside them what was worked out."""
    _, given, _ = _given(key, "judge")
    given["cautions"] = cautions_for("standing")
    given["meanings"] = list(MEANINGS.items())
    return page(request, "standing/judge", given)


@require_GET
def lookback(request: HttpRequest, key: str) -> HttpResponse:
    """After a failure: as found, and what follows."""
    job, given, found = _given(key, "lookback")
    back = found.result.look_back if found.result is not None else None
    if back is not None and (back.kind in ("stem", "roots") or back.limb):
        given["chart"] = needed_against_recorded(back, units_of(job), is_night(request))
    given["back"] = back
    return page(request, "standing/lookback", given)


@require_POST
def lie(request: HttpRequest, key: str) -> HttpResponse:
    """A job of the tree as it lies, from the record of the one that stood; what it asks for stands on its pages."""
    job = job_of(key)
    latest = job.latest
    whole = draft_of(latest.text).job
    if whole is None:
        return refusal(request, 422, "Not enough is known", ["Nothing in this job can be used yet."])
    found = fallen(whole)
    said = f"from the record of the standing tree, revision {latest.number}: {'; '.join(found.carried)}"
    lying = new_job(found.tables, who(request), said[:200], units_of(job))
    return redirect("measure", lying.key)
