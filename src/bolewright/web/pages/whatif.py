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
from bolewright.planning.holding.body import body_of
from bolewright.planning.order.movable import MovableCut, movable_cuts
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
    asked = request.POST if request.method == "POST" else request.GET
    given.update(_choices(job, found, asked.get("piece", "")))
    place: float | None = None
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
            if asked["what"] == "cut":
                given["moved"], place = seen.of(asked.get("piece", "")), _start_of(after, asked.get("piece", ""))
        except (NotWhole, BolewrightError) as why:
            given["why"] = [getattr(why, "sentence", str(why))]
    given["drawn"] = _drawn(request, job, found, given, place)
    given["reach"] = _reach(given["chosen"], place, units_of(job))
    given["asked"] = {k: v for k, v in asked.items() if k not in ("base", "csrfmiddlewaretoken")}
    return page(request, "whatif", given, 422 if request.method == "POST" else 200)


def _choices(job: KeptJob, found: Held, piece: str) -> dict[str, Any]:
    """What can be chosen: cuts, pieces, limbs."""
    assert found.job is not None
    model = found.model
    on = [p for p, left in zip(model.body.pieces, model.left, strict=True) if left]
    cuts = movable_cuts(model)
    chosen = next((c for c in cuts if c.piece == piece), cuts[0] if cuts else None)
    return {"cuts": cuts, "chosen": chosen, "on": on, "limbs": [limb.id for limb in found.job.tree.limb]}


def _start_of(job: Job, piece: str) -> float | None:
    """Where the cut of a piece is in a job [m along its member]."""
    return next((p.start for p in body_of(job).pieces if p.id == piece), None)


def _reach(cut: MovableCut | None, tried: float | None, units: str) -> dict[str, str] | None:
    """How far the cut can be moved and where it stands, in the unit its field is headed by."""
    if cut is None:
        return None
    per = 0.3048 if units == "us" else 1.0
    places = {"low": cut.low, "here": cut.at if tried is None else tried, "high": cut.high}
    return {name: f"{metres / per:.2f}" for name, metres in places.items()}


def _drawn(request: HttpRequest, job: KeptJob, found: Held, given: dict[str, Any], place: float | None) -> str:
    """The drawing the cuts are dragged on; a cut that is tried elsewhere stands there."""
    assert found.job is not None
    shape, chosen = scene(found.job, None, found.model), given["chosen"]
    name = chosen.piece if chosen is not None else ""
    return drawings.trial(shape, found.hold, given["cuts"], name, place, units_of(job), is_night(request))


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
