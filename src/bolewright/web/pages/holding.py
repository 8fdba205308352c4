"""What holds the tree up, with all samples."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from bolewright import drawings
from bolewright.planning.scene import scene
from bolewright.reference.cautions import cautions_for
from bolewright.web.everywhere import is_night
from bolewright.web.look import held, missing_for
from bolewright.web.pages.common import facts, job_of, page, units_of


@require_GET
def holding(request: HttpRequest, key: str) -> HttpResponse:
    """Forces, roles, margins."""
    job = job_of(key)
    given = facts(job, "holding")
    text = given["revision"].text
    found = held(text)
    gaps = missing_for(text, "hold")
    given.update(found=found, needed=[g for g in gaps if g.needed], filled=[g for g in gaps if not g.needed])
    given["cautions"] = cautions_for("people", "stored energy", "roll")[:4]
    if found.hold is not None and found.job is not None:
        shape = scene(found.job, None, found.model)
        given["elevation"] = drawings.elevation(shape, found.hold, None, units_of(job), is_night(request))
        given["plan"] = drawings.plan_view(shape, None, None, found.hold, units_of(job), is_night(request))
    return page(request, "holding", given)
