"""Getting the wood out over the lawn: the way, boards, trips, hours and loads."""

from __future__ import annotations

from functools import lru_cache

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from bolewright.core.base.errors import BolewrightError
from bolewright.drawings.day_chart import day_chart
from bolewright.drawings.units import Units
from bolewright.drawings.way_out import way_out
from bolewright.planning.haul.daywork import day_plan
from bolewright.planning.haul.out import out as worked_out
from bolewright.planning.haul.price import Price, Way, price, priced_ways
from bolewright.planning.haul.results import OutResult
from bolewright.planning.scene import geometry
from bolewright.reference.cautions import cautions_for
from bolewright.store.edits import at
from bolewright.store.results import read
from bolewright.store.revisions import tables
from bolewright.web import runs
from bolewright.web.everywhere import is_night
from bolewright.web.fields import out_sections
from bolewright.web.look import held
from bolewright.web.pages.common import facts, job_of, page
from bolewright.web.pages.entry import sections_of

NO_WAY = "Say how the wood gets out: enter one stretch of the way at least, with its surface and length."
NOT_USABLE = "The way out that is entered cannot be used yet: mend what is named below."
NO_WEIGHT = "The wood has to be weighed first: enter the tree on the page Measure."


@require_GET
def out(request: HttpRequest, key: str) -> HttpResponse:
    """What is entered for the way out, and what follows from it."""
    job = job_of(key)
    given = facts(job, "out")
    revision = given["revision"]
    run = runs.look(job, revision, revision.text)
    result, why = _answer(revision.text, run.answer.text if run.answer else "")
    if not at(tables(revision), ("access", "leg")):
        result, why = None, NO_WAY
    answer = run.answer.text if run.answer else ""
    night = is_night(request)
    given["drawings"] = _drawings(revision.text, answer, given["units"], night) if result else ()
    given.update(sections=sections_of(job, out_sections()), result=result, why=why, planned=run.answer is not None)
    given["price"], given["ways"] = _priced(revision.text, answer) if result else (None, ())
    given["cautions"] = cautions_for("crew")[:3]
    return page(request, "out", given)


@lru_cache(maxsize=8)
def _drawings(text: str, answer: str, units: Units, night: bool) -> tuple[str, ...]:
    """The way out on the site plan, and the day as bars."""
    found = held(text)
    result, _ = _answer(text, answer)
    if found.job is None or result is None:
        return ()
    try:
        return (
            way_out(geometry(found.job), result, units, night),
            day_chart("The day", day_plan(found.job, result), result, night),
        )
    except BolewrightError:
        return ()


@lru_cache(maxsize=8)
def _priced(text: str, answer: str) -> tuple[Price | None, tuple[Way, ...]]:
    """The price, and every way of doing it that was found priced beside the others; None without a crew rate."""
    found = held(text)
    result, _ = _answer(text, answer)
    if found.job is None or result is None:
        return None, ()
    try:
        priced = price(found.job, result)
        return priced, priced_ways(found.job, read(answer).cuts) if answer and priced is not None else ()
    except BolewrightError:
        return None, ()


@lru_cache(maxsize=8)
def _answer(text: str, answer: str) -> tuple[OutResult | None, str]:
    """The answer, with the pieces of the cut order where there is one; or why there is none."""
    found = held(text)
    if found.job is None or found.weight is None:
        return None, NO_WEIGHT
    if found.job.access is None or not found.job.access.leg:
        return None, NOT_USABLE
    try:
        return worked_out(found.job, read(answer).cuts if answer else None, found.weight), ""
    except BolewrightError as error:
        return None, error.sentence
