"""The job in the round: the file the 3D view shows, and the same in words for those who cannot or need not see it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from bolewright import drawings
from bolewright.drawings.moments import Moment, PieceSeen, moments, pieces_seen
from bolewright.drawings.solid import solid as solid_file
from bolewright.planning.results import HoldResult, Plan, WeighResult
from bolewright.planning.scene import scene
from bolewright.planning.shapes import Scene
from bolewright.store.models import KeptJob
from bolewright.store.results import read
from bolewright.web import runs
from bolewright.web.everywhere import is_night
from bolewright.web.look import held, missing_for
from bolewright.web.pages.common import facts, job_of, page, units_of
from bolewright.web.pages.cuts import first_cuts

BUNDLE = Path(__file__).resolve().parents[1] / "static" / "bolewright" / "solid" / "solid.js"


@dataclass(frozen=True)
class Seen:
    """What can be looked at: the tree as found, and a plan's steps where there is a plan."""

    scene: Scene
    weigh: WeighResult
    hold: HoldResult | None
    plan: Plan | None
    plans: tuple[Plan, ...]
    moments: tuple[Moment, ...]
    pieces: tuple[PieceSeen, ...]


@lru_cache(maxsize=8)
def seen(text: str, answer: str, title: str) -> Seen | None:
    """What there is to see in a document and the answer worked out from it ("" for none); None when nothing can be."""
    if answer:
        worked = read(answer)
        plans = (worked.cuts.chosen, *worked.cuts.alternatives)
        plan = worked.plan(title)
        pieces = pieces_seen(worked.weigh, worked.hold, worked.cuts.next_cuts)
        steps = moments(worked.scene, worked.hold, plan)
        return Seen(worked.scene, worked.weigh, worked.hold, plan, plans, steps, pieces)
    found = held(text)
    if found.job is None or found.weight is None or found.model is None:
        return None
    shape = scene(found.job, None, found.model)
    pieces = pieces_seen(found.weight, found.hold, first_cuts(text))
    return Seen(shape, found.weight, found.hold, None, (), moments(shape, found.hold, None), pieces)


def _seen(request: HttpRequest, job: KeptJob) -> Seen | None:
    revision = job.latest
    answer = runs.look(job, revision, revision.text).answer
    return seen(revision.text, answer.text if answer else "", request.GET.get("plan", ""))


@require_GET
def solid(request: HttpRequest, key: str) -> HttpResponse:
    """The page."""
    job = job_of(key)
    given = facts(job, "solid")
    found = _seen(request, job)
    gaps = missing_for(given["revision"].text, "hold")
    given.update(found=found, built=BUNDLE.exists(), needed=[g for g in gaps if g.needed])
    if found is not None:
        here = _asked(request, found)
        given.update(here=here, flat=_flat(found, here, request, job), at=request.GET.get("piece", ""))
    return page(request, "solid", given)


def _asked(request: HttpRequest, found: Seen) -> Moment:
    """The moment asked for, the first when there is no such."""
    asked = request.GET.get("step", "0")
    return next((m for m in found.moments if str(m.n) == asked), found.moments[0])


def _flat(found: Seen, here: Moment, request: HttpRequest, job: KeptJob) -> str:
    """The same moment as a flat drawing."""
    if here.n and found.plan is not None:
        return drawings.step_strip(found.scene, found.plan, here.n, found.hold, units_of(job), is_night(request))
    return drawings.elevation(found.scene, found.hold, None, units_of(job), is_night(request))


@require_GET
def model(request: HttpRequest, key: str) -> HttpResponse:
    """The job as a glTF file, for the view and for any other program that reads it."""
    job = job_of(key)
    found = _seen(request, job)
    if found is None:
        raise Http404("There is nothing to see yet: go back and enter what the tree rests on.")
    answer = HttpResponse(solid_file(found.scene, found.moments, found.pieces, is_night(request)),
                          content_type="model/gltf-binary")  # fmt: skip
    answer["Cache-Control"] = "no-store"
    answer["Content-Disposition"] = f'inline; filename="{job.key}.glb"'
    return answer
