"""The answer to a standing tree as saved, kept for as long as the document stays the same."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from bolewright.core.base.errors import BolewrightError
from bolewright.job.model import Job
from bolewright.job.problems import Missing
from bolewright.planning.standing.results import StandResult
from bolewright.planning.standing.seasons import with_seasons
from bolewright.planning.standing.stand import stand
from bolewright.web.look import draft_of, missing_for


@dataclass(frozen=True)
class Stood:
    """The answer; `needed` and `why` say why there is none."""

    job: Job | None
    result: StandResult | None
    needed: tuple[Missing, ...]
    why: tuple[str, ...]


@lru_cache(maxsize=16)
def stood_all_year(text: str) -> Stood:
    """The same with the answer of every season."""
    found = stood(text)
    if found.job is None or found.result is None:
        return found
    return replace(found, result=with_seasons(found.job, found.result))


@lru_cache(maxsize=16)
def stood(text: str) -> Stood:
    """How the tree of a document stands, with what of it can be used."""
    job = draft_of(text).job
    if job is None:
        return Stood(None, None, (), ())
    needed = tuple(gap for gap in missing_for(text, "stand") if gap.needed)
    if needed:
        return Stood(job, None, needed, ())
    try:
        return Stood(job, stand(job), (), ())
    except BolewrightError as error:
        return Stood(job, None, (), (error.sentence,))
