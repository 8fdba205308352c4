"""Everything a job answers for its papers in one go; what it cannot answer is left out, with the reason said."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass, field
from typing import TypeVar

from bolewright.core.base.errors import BolewrightError
from bolewright.job.model import Job
from bolewright.job.problems import Question, missing
from bolewright.planning.haul.daywork import DayPlan, day_plan
from bolewright.planning.haul.out import out
from bolewright.planning.haul.price import Price, Way, price, priced_ways
from bolewright.planning.haul.results import OutResult
from bolewright.planning.holding.hold import hold
from bolewright.planning.holding.model import model_of
from bolewright.planning.order.cuts import cuts
from bolewright.planning.results import CutsResult, HoldResult, WeighResult
from bolewright.planning.scene import scene
from bolewright.planning.shapes import Scene
from bolewright.planning.weigh import weigh

ALL = ("weigh", "hold", "cuts", "out")
NO_WAY_OUT = (
    "The way out for the wood is not entered yet: enter one stretch of it, with surface and length, in [access]."
)
Report = Callable[[str, float], None]
T = TypeVar("T")


@dataclass(frozen=True)
class Answers:
    """What was asked for and could be answered; `why_not` has a sentence for the rest, by the name of the question."""

    weigh: WeighResult | None = None
    hold: HoldResult | None = None
    cuts: CutsResult | None = None
    scene: Scene | None = None
    out: OutResult | None = None
    price: Price | None = None
    ways: tuple[Way, ...] = ()
    day_plan: DayPlan | None = None
    why_not: dict[str, str] = field(default_factory=dict)


def answers(job: Job, asked: Collection[str] = ALL, report: Report = lambda _words, _share: None) -> Answers:
    """The answers asked for ("weigh", "hold", "cuts", "out"; each brings those it stands on)."""
    why: dict[str, str] = {}
    weighed = _tried(job, "weigh", lambda: weigh(job), why) if asked else None
    held = cut = None
    if weighed is not None and {"hold", "cuts", "out"} & set(asked):
        held = _tried(job, "hold", lambda: hold(job), why)
    if held is not None and {"cuts", "out"} & set(asked):
        cut = _tried(job, "cuts", lambda: cuts(job, report, model_of(job)), why)
    return with_out(job, Answers(weighed, held, cut, why_not=why), "out" in asked)


def with_out(job: Job, found: Answers, asked: bool = True) -> Answers:
    """The same with the drawing, and with the way out, hours and price where they are asked for."""
    drawn = scene(job, found.cuts) if found.hold is not None else None
    why = dict(found.why_not)
    got_out = None
    if asked and (job.access is None or not job.access.leg):
        why["out"] = NO_WAY_OUT
    elif asked and found.weigh is not None:
        got_out = _tried(job, "weigh", lambda: out(job, found.cuts, found.weigh), why, "out")
    if got_out is None:
        return Answers(found.weigh, found.hold, found.cuts, drawn, why_not=why)
    paid = job.rates.crew_hour is not None
    ways = priced_ways(job, found.cuts) if paid and found.cuts is not None else ()
    return Answers(
        found.weigh, found.hold, found.cuts, drawn, got_out, price(job, got_out), ways, day_plan(job, got_out), why
    )


def _tried(job: Job, question: Question, ask: Callable[[], T], why: dict[str, str], name: str = "") -> T | None:
    """The answer, or None with the reason written down."""
    needed = [gap.sentence for gap in missing(job, question) if gap.needed]
    if needed:
        why[name or question] = " ".join(needed)
        return None
    try:
        return ask()
    except BolewrightError as error:
        why[name or question] = error.sentence
        return None
