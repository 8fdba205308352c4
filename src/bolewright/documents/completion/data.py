"""What stands in completion and hand-over."""

from __future__ import annotations

from bolewright.documents.call_sheet.data import STATES
from bolewright.documents.common import caution_block, certificates, parties
from bolewright.documents.given import Given
from bolewright.documents.parts import Section, beside, entered, facts, points, section, sign, table, words
from bolewright.job.paperwork import HandOver

STATEMENT = (
    "I was shown the place. I have read what was done, what was not, and what is still not made good. I know who has "
    "to look before anyone goes in."
)

NO_PHOTOS = "No photographs were kept with this job."


def lacking(given: Given) -> list[str]:
    """What was done: nobody is handed a paper that says nothing."""
    over = given.job.hand_over
    return [] if over is not None and over.done else ["Enter what was done: done in [hand_over]."]


def sections(given: Given) -> list[Section]:
    """What is still dangerous first; then what was done, not done, left, damaged; photographs; names."""
    over = given.job.hand_over or HandOver()
    found = [
        _keep_out(given, over),
        section(
            "Where",
            parties(given, ("Handed over", over.at), ("To", over.to)),
            certificates(given),
            plain="Who was shown what, and when.",
        ),
        _work(over),
        _damage(given, over),
        section("Photographs", _views(given), plain="The same places as before.", held=True) if given.views else None,
        section("Handed over", sign((("Customer", over.to), ("Company", given.job.job.lead)), STATEMENT)),
    ]
    return [part for part in found if part is not None]


def _keep_out(given: Given, over: HandOver) -> Section:
    return section(
        "Keep out until somebody has looked",
        *_danger(given, over),
        plain="The tree is off. That does not make the building sound again. What stands here keeps everybody out "
        "until the trade named has seen to it.",
        wide=True,
    )


def _work(over: HandOver) -> Section:
    """Done, agreed and not done, left: beside each other."""
    nothing = "nothing was entered"
    return section(
        "What was done, and what was not",
        beside(
            (words("Done:", strong=True), points(over.done)),
            (words("Agreed and not done:", strong=True), points(over.not_done, nothing)),
            (words("Left by agreement:", strong=True), points(over.left, nothing)),
        ),
        facts(("Opening covered", over.cover)),
        plain="Covering keeps water out for a while. It is no repair. What was not done is written down so that nobody "
        "waits for it.",
        wide=True,
    )


def _damage(given: Given, over: HandOver) -> Section:
    return section(
        "Damage",
        facts(("Before the crew", over.before), ("By the crew", over.ours)),
        None if given.views else words(_kept(given)),
        plain="What the tree had done, and what we did beyond it. Look now, and say so now.",
    )


def _danger(given: Given, over: HandOver) -> list[dict[str, object]]:
    """What was entered as not made good, services not back, and the cautions of going in again."""
    job = given.job
    services = [[line.kind, STATES[line.state], entered(line.distance)] for line in job.job.utilities]
    places = ("building",) if job.building or any(s.on in ("roof", "wall") for s in job.support) else ()
    roots = ("root plate",) if job.tree.attached == "root plate" else ()
    return [
        words("Still not made good, as entered:", strong=True),
        points(over.danger, "nothing was entered here: that is not a finding that all is well"),
        caution_block(*places, "hand-over", *roots),
        table(
            (1, 2, 1.4),
            ("Service", "State as entered", "Distance to the work"),
            services,
            empty="The state of power, gas and water was not entered: ask each company.",
        ),
    ]


def _kept(given: Given) -> str:
    """How many photographs there are where no list of views was kept."""
    count = len(given.photos or ())
    if not count:
        return NO_PHOTOS
    return f"{count} photograph{'' if count == 1 else 's'}: see the photo log."


def _views(given: Given) -> dict[str, object]:
    after = [
        [view.words, view.state + (f": {view.reason}" if view.reason else "")]
        for view in given.views
        if view.stage == "after"
    ]
    return table((3, 1.2), ("View after the work", ""), after, empty="No view of after the work is asked for.")
