"""Every paper there is, in the order of the job; all that can be made from what is given, and why the others cannot."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from bolewright.documents import (
    authorisation,
    call_sheet,
    change_order,
    completion,
    daily_log,
    estimate,
    hazard_analysis,
    insurer_pack,
    invoice,
    lift_plan,
    photo_log,
    work_order,
)
from bolewright.documents.briefing import printed_briefing
from bolewright.documents.given import Given
from bolewright.documents.insurer_pack.bundle import Pack, pack
from bolewright.documents.paper import Paper, printed
from bolewright.documents.press import Printed


def _no_order(given: Given) -> list[str]:
    if given.cuts is None:
        return [given.why_not.get("cuts", "There is no order of cuts for the job as it is now.")]
    return []


def _briefing(given: Given) -> Printed:
    assert given.weigh is not None
    assert given.hold is not None
    assert given.cuts is not None
    assert given.scene is not None
    return printed_briefing(given.job, given.weigh, given.hold, given.cuts, given.scene, given.units, given.day)


BRIEFING = Paper(
    name="briefing",
    title="Briefing",
    folder="briefing",
    whom="For the crew, before the first cut.",
    why="what holds the tree up, a card for every step, names of all who read it",
    lacking=_no_order,
    sections=lambda given: [],
    uses=("weigh", "hold", "cuts"),
    prints=_briefing,
)
PAPERS: tuple[Paper, ...] = (
    call_sheet.PAPER,
    authorisation.PAPER,
    estimate.PAPER,
    work_order.PAPER,
    BRIEFING,
    hazard_analysis.PAPER,
    lift_plan.PAPER,
    change_order.PAPER,
    daily_log.PAPER,
    photo_log.PAPER,
    completion.PAPER,
    invoice.PAPER,
    insurer_pack.PAPER,
)
PACK = insurer_pack.PAPER.name
Report = Callable[[str, float], None]


@dataclass(frozen=True)
class NotMade:
    """A paper that was not made, with a sentence for everything it lacks."""

    name: str
    title: str
    reasons: tuple[str, ...]


@dataclass
class Made:
    """Files by name, and the papers that could not be made."""

    files: dict[str, bytes | Pack] = field(default_factory=dict)
    titles: dict[str, str] = field(default_factory=dict)  # title by name of file
    not_made: list[NotMade] = field(default_factory=list)


def paper_named(name: str) -> Paper | None:
    """The paper of a name, None when there is none."""
    return next((paper for paper in PAPERS if paper.name == name), None)


def make(given: Given, only: Sequence[str] = (), report: Report = lambda _words, _share: None) -> Made:
    """The papers asked for, all of them without `only`. The pack's zip holds the papers made beside it."""
    made, papers = Made(), dict[str, bytes]()
    wanted = [paper for paper in PAPERS if not only or paper.name in only]
    for k, paper in enumerate(wanted):
        report(f"printing: {paper.title.lower()}", k / len(wanted))
        reasons = paper.lacking(given)
        if reasons:
            made.not_made.append(NotMade(paper.name, paper.title, tuple(reasons)))
            continue
        papers[f"{paper.name}.pdf"] = made.files[f"{paper.name}.pdf"] = printed(paper, given).pdf
        made.titles[f"{paper.name}.pdf"] = paper.title
    if f"{PACK}.pdf" in made.files:
        report("packing", 0.99)
        made.files[f"{PACK}.zip"] = pack(papers, given)
        made.titles[f"{PACK}.zip"] = "Insurer's pack with all papers, data and photographs"
    return made
