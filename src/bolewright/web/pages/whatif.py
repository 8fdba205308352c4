"""What if: one change tried beside the job as it is, then kept as a new revision or dropped."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from bolewright import drawings
from bolewright.core.base.errors import BolewrightError
from bolewright.job.draft import draft
from bolewright.job.model import Job
from bolewright.planning.order.whatif import WhatIf, what_if
from bolewright.planning.scene import scene
from bolewright.store.edits import applied
from bolewright.store.models import KeptJob
from bolewright.store.revisions import save, tables
from bolewright.web.changes import LINE_KINDS, Change, NotWhole, change_of
from bolewright.web.everywhere import is_night, who
from bolewright.web.look import Held, draft_of, held, missing_for
from bolewright.web.pages.common import facts, job_of, page, units_of

MEANWHILE = "The job was changed meanwhile, so nothing was kept: this is the same change beside the job as it is now."


@require_http_methods(["GET", "POST"])
def what_if_page(request: HttpRequest, key: str) -> HttpResponse:
    """Look at a change (GET), or keep it (POST)."""
    job = job_of(key)
    given = facts(job, "cuts")
    text = given["revision"].text
    found = held(text)
    gaps = [g for g in missing_for(text, "cuts") if g.needed]
    given.update(found=found, needed=gaps, asked=request.GET, kinds=LINE_KINDS)
    if found.job is None or found.model is None:
        return page(request, "whatif", given)
    given.update(_choices(request, job, found))
    asked = request.POST if request.method == "POST" else request.GET
    if "what" in asked:
        try:
            change = change_of(asked.dict(), tables(given["revision"]), found.model.body, units_of(job))
            after = _job_after(given["revision"], change)
            seen = _seen(text, str(change.edits), found.job, after)  # also before it is kept: the engine may refuse it
            number = given["revision"].number
            if request.method == "POST" and asked.get("base") == str(number):
                return _kept(request, job, change, number)
            if request.method == "POST":
                given["why"] = [MEANWHILE]
            given.update(change=change, seen=seen)
        except (NotWhole, BolewrightError) as why:
            given["why"] = [getattr(why, "sentence", str(why))]
    given["asked"] = {k: v for k, v in asked.items() if k not in ("base", "csrfmiddlewaretoken")}
    return page(request, "whatif", given, 422 if request.method == "POST" else 200)


def _choices(request: HttpRequest, job: KeptJob, found: Held) -> dict[str, Any]:
    """What can be chosen: cuts with their reach, pieces, limbs; and the drawing."""
    assert found.job is not None
    model = found.model
    on = [p for p, left in zip(model.body.pieces, model.left, strict=True) if left]
    cuts = [p for p in on if p.start > model.body.assembly.stub_of(p.member) + 1e-6]
    per = 0.3048 if units_of(job) == "us" else 1.0
    chosen = next((p for p in cuts if p.id == request.GET.get("piece")), cuts[0] if cuts else None)
    reach = None
    if chosen is not None:
        ends = [p.start for p in on if p.member == chosen.member and p.start < chosen.start] or [0.0]
        reach = {k: f"{v / per:.2f}" for k, v in (("low", max(ends)), ("here", chosen.start), ("high", chosen.end))}
    shape = scene(found.job, None, model)
    return {
        "cuts": cuts, "chosen": chosen, "reach": reach, "on": on, "limbs": [limb.id for limb in found.job.tree.limb],
        "drawn": drawings.elevation(shape, found.hold, None, units_of(job), is_night(request)),
    }  # fmt: skip


def _job_after(revision: Any, change: Change) -> Job:
    """The job with the change. Raises NotWhole with the first fault the change brings in."""
    before = {str(fault) for fault in draft_of(revision.text).faults}
    after = draft(applied(tables(revision), change.edits))
    new = [fault for fault in after.faults if str(fault) not in before]
    if new or after.job is None:
        raise NotWhole(new[0].sentence if new else "The job cannot be read with this change.")
    return after.job


_known: dict[tuple[str, str], WhatIf] = {}


def _seen(text: str, edits: str, before: Job, after: Job) -> WhatIf:
    """Worked out once for a document and a change; a few are remembered."""
    if (text, edits) not in _known:
        while len(_known) > 7:
            _known.pop(next(iter(_known)))
        _known[text, edits] = what_if(before, after)
    return _known[text, edits]


def _kept(request: HttpRequest, job: KeptJob, change: Change, number: int) -> HttpResponse:
    """The change as a new revision, made on the one it was told for."""
    words = f"what if, kept: {change.words}"
    saved = save(job, number, list(change.edits), who(request), words)
    if saved.aside is not None:
        return redirect("conflict", job.key, saved.aside.pk)
    return redirect("cuts", job.key)
