"""What every first cut would do, and the order of cuts, worked out beside the pages."""

from __future__ import annotations

from functools import lru_cache

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from bolewright import drawings
from bolewright.core.base.errors import BolewrightError
from bolewright.job.guards import LARGEST_FILE, text_of
from bolewright.planning.haul.chart import chart_words
from bolewright.planning.order.nextcuts import next_cuts
from bolewright.planning.results import NextCut
from bolewright.store import day
from bolewright.store.edits import Edit, at
from bolewright.store.models import Revision
from bolewright.store.results import read
from bolewright.store.revisions import save, tables
from bolewright.store.views import missing_before_cutting
from bolewright.web import runs
from bolewright.web.everywhere import is_night, who
from bolewright.web.fields import work_sections
from bolewright.web.look import held, missing_for, whole_job
from bolewright.web.pages.common import facts, job_of, page, units_of
from bolewright.web.pages.entry import sections_of
from bolewright.web.pages.onward import before_and_now
from bolewright.web.refusals import refusal

LONGEST_CHART = 10_000  # signs, as long as a text of a job may be


@lru_cache(maxsize=8)
def first_cuts(text: str) -> tuple[NextCut, ...]:
    """What each cut possible now would do; none when that cannot be said."""
    found = held(text)
    if found.model is None or found.hold is None or found.hold.status == "not held":
        return ()
    try:
        return next_cuts(found.model)
    except BolewrightError:
        return ()


@require_GET
def cuts(request: HttpRequest, key: str) -> HttpResponse:
    """The table of first cuts and the plans side by side."""
    job = job_of(key)
    given = facts(job, "cuts")
    text = given["revision"].text
    gaps = missing_for(text, "cuts")
    run = runs.look(job, given["revision"], text)
    given.update(
        sections=sections_of(job, work_sections()), found=held(text), first=first_cuts(text), run=run,
        needed=[g for g in gaps if g.needed], whole=whole_job(text) is not None,
        views=missing_before_cutting(job), in_use=day.plan_in_use(job), **_load_chart(given["revision"]),
    )  # fmt: skip
    if run.answer is not None:
        given.update(_plans(request, run.answer.text, units_of(job)))
        given.update(before_and_now(job, read(run.answer.text)))
    return page(request, "cuts", given)


def _load_chart(revision: Revision) -> dict[str, str]:
    """The crane's chart read back, or why it is not used."""
    text = at(tables(revision), ("crane", "chart"))
    if not isinstance(text, str):
        return {}
    try:
        return {"load_chart": chart_words(text)}
    except BolewrightError as error:
        return {"bad_chart": error.sentence}


@require_POST
def take_chart(request: HttpRequest, key: str) -> HttpResponse:
    """A crane's load chart from a file, kept even with holes: the page says which, to be mended there."""
    job = job_of(key)
    file = request.FILES.get("file")
    if file is None:
        return refusal(request, 422, "No file came", ["Choose the load chart: CSV with a line for each radius."])
    if (file.size or 0) > LARGEST_FILE:
        return refusal(request, 413, "This file is too large", ["A load chart has a few kB: choose the right file."])
    text = text_of(file.read()).replace("\r\n", "\n").strip()
    if len(text) > LONGEST_CHART:
        return refusal(request, 413, "This chart is too long", ["Keep the lines of the set-up used, and send them."])
    edits = [Edit(("crane", "chart"), text)]
    save(job, job.latest.number, edits, who(request), f"took in a load chart from {str(file.name)[-80:]}")
    return redirect(reverse("cuts", args=[job.key]) + "#load-chart")


def _plans(request: HttpRequest, text: str, units: str) -> dict[str, object]:
    worked = read(text)
    plans = [worked.cuts.chosen, *worked.cuts.alternatives]
    shown = worked.plan(request.GET.get("plan", ""))
    night = is_night(request)
    drawn = drawings.elevation(worked.scene, worked.hold, shown, units, night)  # type: ignore[arg-type]
    chart = drawings.load_chart(shown, units, night) if shown.steps else ""  # type: ignore[arg-type]
    return {"worked": worked, "plans": plans, "shown": shown, "drawn": drawn, "chart": chart}


@require_POST
def work_out(request: HttpRequest, key: str) -> HttpResponse:
    """Begin, or stop, working out an order."""
    job = job_of(key)
    text = job.latest.text
    if "cancel" in request.POST:
        runs.cancel(job, text)
    elif whole_job(text) is not None:
        runs.start(job, text)
    return redirect("cuts", job.key)


@require_GET
def progress(request: HttpRequest, key: str) -> HttpResponse:
    """How far it is; a finished answer loads the page anew."""
    job = job_of(key)
    revision = job.latest
    run = runs.look(job, revision, revision.text)
    answer = page(request, "parts/progress", {"job": job, "run": run})
    if run.state != "running":
        answer["HX-Refresh"] = "true"
    return answer


@require_POST
def choose(request: HttpRequest, key: str) -> HttpResponse:
    """Take a plan for the day of work; written into the log. Views neither filled nor waived come first."""
    job = job_of(key)
    revision = job.latest
    run = runs.look(job, revision, revision.text)
    title = request.POST.get("plan", "")
    if run.answer is None or missing_before_cutting(job):
        return redirect("cuts", job.key)
    plan = read(run.answer.text).plan(title)
    if plan.steps:
        said = f"took the plan {plan.title}, {len(plan.steps)} steps, revision {run.answer.revision}"
        day.write(job, "plan", who(request), said, plan.title, run.answer)
        return redirect("work", job.key)
    return redirect("cuts", job.key)
