"""What a saved job says now: the draft, and the answers to it, kept for as long as the document stays the same."""

from __future__ import annotations

import time
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from bolewright.core.base.errors import BolewrightError
from bolewright.drawings.sketch import sketch
from bolewright.drawings.units import Units
from bolewright.job.draft import Draft, draft
from bolewright.job.faults import JobFaults
from bolewright.job.model import Job
from bolewright.job.problems import Missing, Question, missing
from bolewright.job.read import loads
from bolewright.planning.holding.hold import hold
from bolewright.planning.live import Quick, quick
from bolewright.planning.results import HoldResult, WeighResult
from bolewright.planning.scene import geometry
from bolewright.planning.weigh import weigh
from bolewright.store.revisions import read_document

LIVE_SAMPLES = 48  # fewer than the full answer, so that a drawing stands within 150 ms


@dataclass(frozen=True)
class Live:
    """What stands beside the tape after an entry. `why` says why there is no answer."""

    quick: Quick | None
    weight: WeighResult | None
    drawing: str
    why: tuple[str, ...]
    needed: tuple[Missing, ...]
    filled: tuple[Missing, ...]
    milliseconds: float


@lru_cache(maxsize=64)
def draft_of(text: str) -> Draft:
    """The draft in a document."""
    return draft(read_document(text))


def missing_for(text: str, question: Question) -> tuple[Missing, ...]:
    """What is missing to answer a question, what is needed first."""
    job = draft_of(text).job
    return tuple(missing(job, question)) if job is not None else ()


@lru_cache(maxsize=64)
def live(text: str, units: Units, night: bool) -> Live:
    """The quick answer to a document as far as it can be used."""
    start = time.perf_counter()
    job = draft_of(text).job
    if job is None:
        return Live(None, None, "", (), (), (), 0.0)
    gaps = missing_for(text, "hold")
    needed, filled = (tuple(g for g in gaps if g.needed is wanted) for wanted in (True, False))
    weight, found, drawing, why = None, None, "", list[str]()
    try:
        if needed:
            weight = _weight(job)
            drawing = sketch(geometry(job), (), units, night) if len(job.tree.stem) >= 2 else ""
        else:
            found = quick(job, LIVE_SAMPLES)
            drawing = sketch(found.scene, found.supports, units, night)
    except BolewrightError as error:
        why.append(error.sentence)
    spent = (time.perf_counter() - start) * 1000.0
    return Live(found, weight, drawing, tuple(why), needed, filled, spent)


def _weight(job: Job) -> WeighResult | None:
    return weigh(job) if len(job.tree.stem) >= 2 else None


@dataclass(frozen=True)
class Held:
    """The full answer to what holds it, with the drawings' scene; `why` says why there is none."""

    job: Job | None
    weight: WeighResult | None
    hold: HoldResult | None
    model: Any
    why: tuple[str, ...]


@lru_cache(maxsize=8)
def held(text: str) -> Held:
    """Weight and what holds it, with all samples."""
    from bolewright.planning.holding.model import model_of

    job = draft_of(text).job
    if job is None:
        return Held(None, None, None, None, ())
    try:
        weight = _weight(job)
    except BolewrightError as error:
        return Held(job, None, None, None, (error.sentence,))
    if any(gap.needed for gap in missing_for(text, "hold")):
        return Held(job, weight, None, None, ())
    try:
        model = model_of(job)
        return Held(job, weight, hold(job, model), model, ())
    except BolewrightError as error:
        return Held(job, weight, None, None, (error.sentence,))


def whole_job(text: str) -> Job | None:
    """The job when the whole document can be used, None while anything is left out of it."""
    try:
        return loads(text)
    except JobFaults:
        return None
