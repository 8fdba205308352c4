"""The day of work: the next cut in large type, ticks, what was seen, and the stop."""

from __future__ import annotations

from typing import Any, BinaryIO, cast

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_POST

from bolewright import drawings
from bolewright.planning.results import CutStep, Plan
from bolewright.reference.cautions import cautions_for
from bolewright.store import day
from bolewright.store.models import Answer, KeptJob
from bolewright.store.photos import DURING, add_photo
from bolewright.store.pictures import NotAPhoto, looked_at
from bolewright.store.results import fingerprint, read
from bolewright.web.everywhere import is_night, who
from bolewright.web.pages.common import data_folder, facts, is_stopped, job_of, page, units_of
from bolewright.web.refusals import refusal

SEEN = (
    ("feel", "How hard it bears"),
    ("settled", "Settled or rose"),
    ("gauge", "Jack, line or crane reading"),
    ("weighed", "Weighed piece"),
    ("other", "Anything else"),
)


@require_GET
def work(request: HttpRequest, key: str) -> HttpResponse:
    """The next step of the plan in use and nothing else that is not needed."""
    job = job_of(key)
    given = facts(job, "work")
    given["log"] = job.log.order_by("-at", "-pk")[:40]
    given["seen"] = SEEN
    used = day.plan_in_use(job)
    if used is not None:
        given.update(_step(request, job, *used, given["revision"].text))
    return page(request, "work", given)


def _step(request: HttpRequest, job: KeptJob, answer: Answer, title: str, text: str) -> dict[str, Any]:
    worked = read(answer.text)
    plan = worked.plan(title)
    done = day.ticks(answer)
    number = done.next_of([step.n for step in plan.steps])
    step = next((s for s in plan.steps if s.n == number), None)
    found: dict[str, Any] = {
        "answer": answer, "plan": plan, "step": step, "done": done.done, "last": max(done.done, default=None),
        "supports": [s.id for s in worked.hold.supports], "pieces": [p.id for p in worked.weigh.pieces],
        "outdated": answer.document != fingerprint(text), "cautions": cautions_for(*_hazards(step)) if step else (),
    }  # fmt: skip
    if step is not None:
        found["strip"] = drawings.step_strip(worked.scene, plan, step.n, worked.hold, units_of(job), is_night(request))
    return found


def _hazards(step: CutStep) -> tuple[str, ...]:
    """Where the cautions of a step stand."""
    if step.action != "cut":
        return ("prop",)
    return ("stored energy", "cut") if step.bind is not None and step.bind.spring_pole else ("cut",)


def _in_use(job: KeptJob) -> tuple[Answer, Plan] | None:
    used = day.plan_in_use(job)
    return (used[0], read(used[0].text).plan(used[1])) if used else None


@require_POST
def tick(request: HttpRequest, key: str) -> HttpResponse:
    """A step is done, or was ticked by mistake. Not while the work is stopped; a second tap changes nothing."""
    job = job_of(key)
    used, number = _in_use(job), request.POST.get("step", "")
    if used is None or is_stopped(job) or not number.isdigit():
        return redirect("work", job.key)
    answer, plan = used
    step = next((s for s in plan.steps if s.n == int(number)), None)
    done = day.ticks(answer).done
    if step is not None and "undo" in request.POST and step.n in done:
        day.write(job, "unticked", who(request), _words(step), step.piece, answer, step.n)
    elif step is not None and "undo" not in request.POST and step.n not in done:
        day.write(job, "ticked", who(request), _words(step), step.piece, answer, step.n)
        return _with_photos(request, job, step)
    return redirect("work", job.key)


def _with_photos(request: HttpRequest, job: KeptJob, step: CutStep) -> HttpResponse:
    """Photographs sent with a tick. The tick stands whatever becomes of them; a refusal is told."""
    refused = []
    for file in request.FILES.getlist("file"):
        try:
            picture = looked_at(cast(BinaryIO, file.file), file.size)
            add_photo(job, data_folder(), picture, str(file.name), "", DURING, who(request), note=_words(step))
        except NotAPhoto as fault:
            refused.append(f"{str(file.name)[-60:]}: {fault}")
    if refused:
        return refusal(request, 422, "Step ticked, photograph not kept", refused)
    return redirect("work", job.key)


def _words(step: CutStep) -> str:
    return f"step {step.n}: {step.action} {step.piece}" + (f", {step.method}" if step.method else "")


@require_POST
def observe(request: HttpRequest, key: str) -> HttpResponse:
    """Write down what was seen, as said."""
    job = job_of(key)
    kinds = dict(SEEN)
    kind = kinds.get(request.POST.get("kind", ""), kinds["other"])
    said = request.POST.get("said", "").strip()
    about = request.POST.get("about", "").strip()
    if said:
        used = _in_use(job)
        day.write(job, "observed", who(request), f"{kind}: {said}", about, used[0] if used else None)
    return redirect("work", job.key)


@require_POST
def stop(request: HttpRequest, key: str) -> HttpResponse:
    """Stop work: one tap, nothing asked."""
    job = job_of(key)
    if is_stopped(job) is None:
        day.write(job, "stopped", who(request))
    return redirect("stopped", job.key)


@require_GET
def stopped(request: HttpRequest, key: str) -> HttpResponse:
    """The stop, in the largest type there is."""
    return page(request, "stopped", facts(job_of(key), "stopped"))


@require_POST
def go_on(request: HttpRequest, key: str) -> HttpResponse:
    """Work goes on: who says so and what was changed is written down."""
    job = job_of(key)
    said = request.POST.get("said", "").strip()
    if is_stopped(job) is not None:
        day.write(job, "went on", who(request), said)
    return redirect("work", job.key)
