"""The day of work: the next cut in large type, ticks, what was seen, and the stop."""

from __future__ import annotations

from datetime import datetime
from typing import Any, BinaryIO, cast

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_POST

from bolewright import drawings
from bolewright.planning.order.views import DURING, after_cut
from bolewright.planning.results import CutStep, Plan
from bolewright.reference.cautions import cautions_for
from bolewright.store import day
from bolewright.store.edits import at
from bolewright.store.models import Answer, KeptJob, Revision
from bolewright.store.photos import add_photo
from bolewright.store.pictures import NotAPhoto, looked_at
from bolewright.store.results import fingerprint, read
from bolewright.store.revisions import read_document, tables
from bolewright.store.signed import mark_of, open_changes, was_open
from bolewright.store.views import ViewState, missing_for, views_of_job
from bolewright.web.agreed import price_moved
from bolewright.web.entries import made_at, with_words
from bolewright.web.everywhere import is_night, who
from bolewright.web.onward import SEEN
from bolewright.web.pages.common import data_folder, facts, is_stopped, job_of, page, units_of, whole_number
from bolewright.web.pages.onward import found_so_far
from bolewright.web.refusals import refusal

KINDS = {kind: words for kind, words, _, _ in SEEN}


@require_GET
def work(request: HttpRequest, key: str) -> HttpResponse:
    """The next step of the plan in use and nothing else that is not needed."""
    job = job_of(key)
    given = facts(job, "work")
    given["log"] = job.log.order_by("-at", "-pk")[:40]
    given["seen"], given["so_far"] = KINDS.items(), found_so_far(job)
    given["unsigned"], given["moved"] = _unsigned(given["revision"], job), price_moved(job)
    given["changes"] = mark_of(at(tables(given["revision"]), ("change",)) or [])
    used = day.plan_in_use(job)
    if used is not None:
        given.update(_step(request, job, *used, given["revision"].text))
    return page(request, "work", given)


def _unsigned(revision: Revision, job: KeptJob) -> list[str]:
    """Why changed work does not go on yet."""
    return open_changes(job, at(tables(revision), ("change",)))


def _was_unsigned(job: KeptJob, then: datetime) -> bool:
    """Whether a step done then was done before its change order was signed: changed work waited then, or does now."""
    return bool(_unsigned(job.latest, job)) or was_open(job, then, lambda text: at(read_document(text), ("change",)))


def _step(request: HttpRequest, job: KeptJob, answer: Answer, title: str, text: str) -> dict[str, Any]:
    worked = read(answer.text)
    plan = worked.plan(title)
    done = day.ticks(answer)
    following = done.next_of([step.n for step in plan.steps])
    step = _step_of(plan, request.GET.get("step", "")) or next((s for s in plan.steps if s.n == following), None)
    found: dict[str, Any] = {
        "answer": answer, "plan": plan, "step": step, "done": done.done, "last": max(done.done, default=None),
        "early": day.before_signed(answer),
        "after": _after(plan, step), "following": following, "ahead": step is not None and step.n != following,
        "supports": [s.id for s in worked.hold.supports], "pieces": [p.id for p in worked.weigh.pieces],
        "views": _wanted(job, step, following), "after_view": _after_view(step),
        "outdated": answer.document != fingerprint(text), "cautions": cautions_for(*_hazards(step)) if step else (),
    }  # fmt: skip
    if step is not None:
        found["strip"] = drawings.step_strip(worked.scene, plan, step.n, worked.hold, units_of(job), is_night(request))
    return found


def _wanted(job: KeptJob, step: CutStep | None, following: int | None) -> list[ViewState]:
    """Views a step waits for; of a step further ahead only its own."""
    found = missing_for(job, step) if step is not None else []
    return [s for s in found if step is not None and (step.n == following or s.view.step == step.n)]


def _after_view(step: CutStep | None) -> str:
    """The view a photograph sent with the tick fills."""
    return after_cut(step.piece) if step is not None and step.action == "cut" else ""


def _after(plan: Plan, step: CutStep | None) -> int | None:
    """Number of the step after this one; the last is its own."""
    later = [s.n for s in plan.steps if step is not None and s.n > step.n]
    return later[0] if later else step.n if step is not None else None


def _step_of(plan: Plan, number: str) -> CutStep | None:
    """The step of this number, to look ahead or back."""
    return next((s for s in plan.steps if str(s.n) == number), None)


def _hazards(step: CutStep) -> tuple[str, ...]:
    """Where the cautions of a step stand."""
    if step.action != "cut":
        return ("prop",)
    return ("stored energy", "cut") if step.bind is not None and step.bind.spring_pole else ("cut",)


def _in_use(job: KeptJob) -> tuple[Answer, Plan] | None:
    used = day.plan_in_use(job)
    return (used[0], read(used[0].text).plan(used[1])) if used else None


def _meant(request: HttpRequest, job: KeptJob) -> tuple[Answer, Plan, bool] | None:
    """The plan a form was made for, and whether it is still the one in use."""
    used = _in_use(job)
    asked, title = whole_number(request.POST.get("answer")), request.POST.get("plan", "")
    if used is None or asked is None or (asked == used[0].pk and title == used[1].title):
        return (*used, True) if used else None
    answer = job.answers.filter(pk=asked).first()
    return (answer, read(answer.text).plan(title), False) if answer else None


@require_POST
def tick(request: HttpRequest, key: str) -> HttpResponse:
    """A step is done, or was ticked by mistake; a second tap changes nothing.

    Not while the work is stopped, unless the step was done and kept on a tablet without signal: that is a fact.
    """
    job = job_of(key)
    meant, late = _meant(request, job), made_at(request)
    step = _step_of(meant[1], request.POST.get("step", "")) if meant else None
    if meant is None or step is None:
        return _not_ticked(request, ["There is no such step in the plan, so nothing was ticked."])
    if is_stopped(job) is not None and late is None:
        return _not_ticked(request, [f"Work is stopped, so step {step.n} was not ticked."])
    unsigned = _unsigned(job.latest, job) if late is None and "undo" not in request.POST else []
    if unsigned:
        waits = f"Step {step.n} was not ticked: changed work waits for its change order."
        return _not_ticked(request, [waits, *unsigned])
    wanted = missing_for(job, step) if late is None and meant[2] and "undo" not in request.POST else []
    if wanted:
        waits = f"Step {step.n} was not ticked: photographs come first, or why they are done without."
        return _not_ticked(request, [waits, *(s.view.words + ": missing." for s in wanted)])
    answer, _, current = meant
    done = day.ticks(answer).done
    said = _words(step) + ("" if current else ", of a plan that is no longer in use")
    if late is not None and is_stopped(job) is not None:
        said += ", done without signal; a stop stands here"
    if late is not None and "undo" not in request.POST and _was_unsigned(job, late):
        said += f", {day.BEFORE_SIGNED}"
    if ("undo" in request.POST) == (step.n in done):
        kind = "unticked" if "undo" in request.POST else "ticked"
        day.write(job, kind, who(request), said, step.piece, answer, step.n, late)
        return _with_photos(request, job, step)
    answered = _with_photos(request, job, step)
    by = done[step.n].by if step.n in done else ""
    known = f"Step {step.n} was ticked already{f' by {by}' if by else ''}." if step.n in done else ""
    return with_words(answered, [known, *getattr(answered, "said", ())] if known else getattr(answered, "said", ()))


def _not_ticked(request: HttpRequest, said: list[str]) -> HttpResponse:
    return refusal(request, 409, "Not ticked", said)


def _with_photos(request: HttpRequest, job: KeptJob, step: CutStep) -> HttpResponse:
    """Photographs sent with a tick. The tick stands whatever becomes of them; a refusal is told."""
    asked = {v.id for v in views_of_job(job)}
    view, refused = _after_view(step) if _after_view(step) in asked else "", []
    for file in request.FILES.getlist("file"):
        try:
            picture = looked_at(cast(BinaryIO, file.file), file.size)
            add_photo(
                job, data_folder(), picture, str(file.name), view, who(request), note=_words(step),
                made_at=made_at(request), stage=DURING,
            )  # fmt: skip
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
    kind = KINDS.get(request.POST.get("kind", ""), KINDS["other"])
    said = request.POST.get("said", "").strip()
    about = request.POST.get("about", "").strip()
    if said:
        used = _in_use(job)
        about_plan = used[0] if used else None
        day.write(job, "observed", who(request), f"{kind}: {said}", about, about_plan, None, made_at(request))
    return redirect("work", job.key)


@require_POST
def stop(request: HttpRequest, key: str) -> HttpResponse:
    """Stop work: one tap, nothing asked. One made without signal is written down even when a stop stands already."""
    job, late = job_of(key), made_at(request)
    if is_stopped(job) is None or late is not None:
        day.write(job, "stopped", who(request), made_at=late)
    return redirect("stopped", job.key)


@require_GET
def stopped(request: HttpRequest, key: str) -> HttpResponse:
    """The stop, in the largest type there is."""
    return page(request, "stopped", facts(job_of(key), "stopped"))


@require_POST
def go_on(request: HttpRequest, key: str) -> HttpResponse:
    """Work goes on: who says so and what was changed is written down.

    Said on a tablet without signal, it lifts only the stops that tablet knew of.
    """
    job, late = job_of(key), made_at(request)
    said = request.POST.get("said", "").strip()
    known = whole_number(request.POST.get("stop")) or 0
    unknown = [s for s in day.standing_stops(job) if s.pk > known and not day.is_before(s, late)] if late else []
    if unknown:
        told = f"went on without signal, not knowing of the stop at {unknown[-1].at:%H:%M} UTC, which stands"
        day.write(job, "observed", who(request), f"{told}: {said}" if said else told, made_at=late)
        words = "Somebody else has stopped the work, and this tablet did not know: the stop stands."
        return with_words(redirect("stopped", job.key), [words])
    if is_stopped(job) is not None or late is not None:
        day.write(job, "went on", who(request), said, made_at=late)
    return redirect("work", job.key)
