"""Going on from here: the plan worked out again from what is done, read, felt and weighed."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from bolewright.planning.results import CutStep, Plan
from bolewright.store import day
from bolewright.store.models import KeptJob
from bolewright.store.results import Worked, read
from bolewright.store.revisions import revision_of, save, tables
from bolewright.web import runs
from bolewright.web.everywhere import who
from bolewright.web.look import whole_job
from bolewright.web.onward import Onward, edits_of, onward
from bolewright.web.pages.common import job_of
from bolewright.web.refusals import refusal


def found_so_far(job: KeptJob) -> Onward | None:
    """What is done and read under the plan in use; None without one."""
    used = day.plan_in_use(job)
    if used is None:
        return None
    answer, title = used
    worked = read(answer.text)
    places = tuple(s.id for s in worked.hold.supports if s.kind != "possible")
    before = len(tables(revision_of(job, answer.revision)).get("done", ()))
    return onward(answer, worked.plan(title), worked.weigh, places, before)


@require_POST
def go_on_from_here(request: HttpRequest, key: str) -> HttpResponse:
    """Write what is done and read into the job as a new revision, and begin working the order out from there."""
    job = job_of(key)
    used, found = day.plan_in_use(job), found_so_far(job)
    if used is None or found is None or not found.anything:
        return refusal(request, 409, "Nothing to go on from", ["No step is ticked and nothing was read that counts."])
    latest, worked = job.latest, read(used[0].text)
    edits = edits_of(found, worked.weigh, tables(revision_of(job, used[0].revision)))
    what = f"as it stands after {len(found.done)} more steps, {len(found.readings)} more readings"
    revision = save(job, latest.number, edits, who(request), what).revision
    if whole_job(revision.text) is not None:
        runs.start(job, revision.text)
    return redirect("cuts", job.key)


def before_and_now(job: KeptJob, worked: Worked) -> dict[str, Any]:
    """The rest of the plan in use beside the plan from here, and what was learnt; empty while they are one answer."""
    used = day.plan_in_use(job)
    if used is None or not (worked.hold.learnt or worked.hold.gone):
        return {}
    old = read(used[0].text).plan(used[1])
    ticked = day.ticks(used[0]).done
    rest = [s for s in old.steps if s.n not in ticked]
    if not rest or read(used[0].text) == worked:
        return {"learnt": worked.hold.learnt}
    new = worked.cuts.chosen
    return {"learnt": worked.hold.learnt, "was": _row(old, rest), "now": _row(new, list(new.steps))}


def _row(plan: Plan, steps: list[CutStep]) -> dict[str, Any]:
    peaks = [s.building_peak_N for s in steps]
    return {
        "title": plan.title,
        "order": ", ".join(s.piece for s in steps),
        "peak": max(peaks, key=lambda r: r.likely, default=None),
        "count": len(steps),
    }
