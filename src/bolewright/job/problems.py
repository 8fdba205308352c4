"""What is missing to answer a question, and what is filled in for it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, Literal

from bolewright.job.defaults import filled_in, listed
from bolewright.job.faults import Fault, JobFaults
from bolewright.job.gaps import Missing as Missing
from bolewright.job.gaps import standing_gaps
from bolewright.job.model import Job, Support

Question = Literal["weigh", "hold", "cuts", "stand"]
HIGH = ("roof", "wall", "fence", "tree")  # a support on one of these cannot be at ground level


_SUPPORT_FIELDS = {
    "stiffness": "The stiffness at {} is filled in from what it rests on, with a wide spread.",
    "friction": "The friction at {} is filled in from what it rests on, low where sliding is judged.",
    "feel": "Nobody has felt how hard the wood bears at {}, so the sharing of the load stays wide.",
}


def missing(job: Job, question: Question) -> list[Missing]:
    """What is missing to answer a question; what is needed comes first."""
    parts: dict[str, tuple[Callable[[Job], Iterator[Missing]], ...]] = {
        "weigh": (_weight,),
        "hold": (_weight, _rest),
        "cuts": (_weight, _rest, _work),
        "stand": (standing_gaps,),
    }
    if question not in parts:
        raise ValueError(f"there is no question {question!r}")
    found = [item for part in parts[question] for item in part(job)]
    return sorted(found, key=lambda item: not item.needed)


def all_missing(job: Job) -> dict[str, list[Missing]]:
    """What is still missing to answer each question that can be asked of this tree."""
    lying: tuple[Question, ...] = () if job.tree.attached == "standing" and job.standing else ("weigh", "hold", "cuts")
    asked: tuple[Question, ...] = (*lying, "stand") if job.standing is not None else lying
    return {question: missing(job, question) for question in asked}


def answerable(job: Job, question: Question) -> Job:
    """The same job. Raises JobFaults with all that is needed when it cannot answer the question at all."""
    needed = [gap for gap in missing(job, question) if gap.needed]
    if needed:
        raise JobFaults(Fault(gap.path, gap.sentence) for gap in needed)
    return job


def _needed(path: str, sentence: str) -> Missing:
    return Missing(path, sentence, needed=True)


def _filled(path: str, sentence: str) -> Missing:
    return Missing(path, sentence, needed=False)


def _weight(job: Job) -> Iterator[Missing]:
    """For the weight: size, wood, crown, decay, soil."""
    tree = job.tree
    if len(tree.stem) < 2:
        yield _needed("tree.stem", "The stem needs two stations at least, one at the butt and one at the far end.")
    if tree.density is None:
        yield _filled(
            "tree.density", f"The green density is taken from the species table for {tree.species}, with its spread."
        )
    if not tree.limb:
        yield _filled("tree.limb", "No limbs are given: only the stem is weighed, and no crown is added.")
    without_tip = [limb.id for limb in tree.limb if limb.tip_diameter is None]
    if without_tip:
        sentence = f"The tip diameter of {listed(without_tip)} is filled in from length and base diameter."
        yield _filled("tree.limb[*].tip_diameter", sentence)
    if not tree.decay:
        yield _filled(
            "tree.decay",
            "No decay is given: the wood is taken as sound, which makes it heavier and stronger.",
        )
    if tree.root_plate is not None and tree.root_plate.soil is None:
        yield _filled(
            "tree.root_plate.soil",
            "The soil in the root plate is not given: its weight is filled in with a wide spread.",
        )
    for filled in filled_in(job):
        if filled.path.startswith("tree."):
            yield _filled(filled.path, f'"{filled.value}" is filled in: {filled.why}.')


def _rest(job: Job) -> Iterator[Missing]:
    """For what holds it: supports with their stiffness and friction, and how the stem lies."""
    tree = job.tree
    if not job.support and not job.line and tree.attached in ("free", "hinge"):
        yield _needed(
            "support", "Nothing is given for the tree to rest on: write a [[support]] for every place it touches."
        )
    yield from _heights(job)
    if tree.attached == "hinge" and (tree.hinge is None or tree.hinge.share is None):
        yield _filled(
            "tree.hinge.share", "How much of the section still holds is not given: it is filled in with a wide spread."
        )
    for field, sentence in _SUPPORT_FIELDS.items():
        without = [support.id for support in job.support if getattr(support, field) is None]
        if without:
            yield _filled(f"support[*].{field}", sentence.format(listed(without)))
    on_roof = [support.id for support in job.support if support.on in ("roof", "wall")]
    if on_roof and not job.building:
        yield _filled("building", f"No building is given: at {listed(on_roof)} the roof is taken to push straight up.")
    if job.ground.slope is None:
        yield _filled("ground.slope", "The ground is taken as level.")


def _heights(job: Job) -> Iterator[Missing]:
    """How high the stem lies, from stations; without any it would lie level on the ground."""
    measured = [station for station in job.tree.stem if station.height is not None]
    high = [support.id for support in job.support if _carries_stem_high(support)]
    if not measured and high:
        sentence = f"The stem rests high at {listed(high)}: give the height of its underside at two stations or more."
        yield _needed("tree.stem[*].height", sentence)
    elif not measured:
        yield _filled("tree.stem[*].height", "No heights are given: the stem is taken to lie level on the ground.")
    elif len(measured) < len(job.tree.stem):
        yield _filled(
            "tree.stem[*].height", "Heights not measured are filled in on a straight line between those that are."
        )


def _carries_stem_high(support: Support) -> bool:
    return support.member == "stem" and support.on in HIGH


def _work(job: Job) -> Iterator[Missing]:
    """For the cuts: what may be handled, what is to hand, what is in the way, and who is in danger."""
    if not job.truck:
        yield _filled("truck", "No timber is on the truck: props are planned from round wood of this tree only.")
    if job.handling.crane is None:
        yield _filled("handling.crane", "No crane is given: nothing is planned with one but as an alternative.")
    if not job.protect:
        yield _filled("protect", "Nothing to protect is given: only the buildings are kept out of the drop zone.")
    if job.ground.bearing is None:
        yield _filled("ground.bearing", "What the ground carries under a prop is filled in low for its surface.")
    if job.limits.building is None:
        yield _filled(
            "limits.building", "No limit for the building is given: it may carry what it carries now and a little more."
        )
    if job.job.people_out is not True:
        yield _filled("job.people_out", "Nobody has written down that everyone is out of the building.")
    if not job.job.utilities:
        yield _filled("job.utilities", "Power, gas and water are not described: treat every line as live.")
    for filled in filled_in(job):
        if not filled.path.startswith("tree."):
            yield _filled(filled.path, f'"{filled.value}" is filled in: {filled.why}.')


def as_rows(items: list[Missing]) -> list[dict[str, Any]]:
    """The items for machine-readable output."""
    return [{"path": item.path, "sentence": item.sentence, "needed": item.needed} for item in items]
