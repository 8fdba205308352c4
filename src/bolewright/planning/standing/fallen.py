"""The record of a standing tree that failed, as the job of a tree that lies: what is carried over, what to ask."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from bolewright.core.base.errors import NotEnoughKnown
from bolewright.job.failure import Failure
from bolewright.job.model import Job
from bolewright.planning.standing.lying import lying_limb, lying_stem

NOTE = "Sizes carried over from the record of the standing tree; nothing here was measured on the tree as it lies."
ATTACHED = {"roots": "root plate", "stem": "hinge", "union": "hinge", "branch": "hinge"}


@dataclass(frozen=True)
class Ask:
    """Something that has to be measured or found out anew."""

    path: str
    sentence: str
    needed: bool


@dataclass(frozen=True)
class Fallen:
    """Tables of a job document for the tree as it lies (not yet a whole job), what was carried over, what to ask."""

    tables: dict[str, Any]
    carried: tuple[str, ...]
    asks: tuple[Ask, ...]


def fallen(job: Job) -> Fallen:
    """The job of a tree that lies, from its standing record with [failure].

    Raises NotEnoughKnown without [failure], without a limb's id where a limb broke, or without the height of a break.
    """
    failure = job.failure
    if failure is None:
        raise NotEnoughKnown(
            'Write [failure] with kind = "roots" or "stem" first: what gave way decides what lies there.', "failure"
        )
    tree, carried = lying_limb(job, failure) if failure.kind in ("union", "branch") else lying_stem(job, failure)
    tree["attached"] = ATTACHED[failure.kind]
    if failure.fell_towards is not None:
        tree["bearing"] = f"{math.degrees(failure.fell_towards.likely) % 360.0:.1f} deg"
    tables = {"schema": 1, "job": _facts(job), "tree": tree, **_evidence(job)}
    return Fallen(tables, tuple(carried), tuple(_asks(job, failure, tree)))


def _facts(job: Job) -> dict[str, Any]:
    """Place and people; not the day, the crew or that everyone is out: those are of another day."""
    kept = job.job.model_dump(by_alias=True, exclude_unset=True, exclude_none=True)
    for name in ("date", "lead", "crew", "people_out"):
        kept.pop(name, None)
    kept["title"] = f"Down: {job.job.title}"[:300]
    kept["notes"] = "\n".join(part for part in (job.job.notes, NOTE) if part)[:10_000]
    kept["utilities"] = [{**utility, "state": "unknown"} for utility in kept.pop("utilities", ())]
    return {name: value for name, value in kept.items() if value != []}


def _evidence(job: Job) -> dict[str, Any]:
    """Inspection and failure as written: this year's inspection is the evidence now."""
    kept = {"inspection": job.inspection, "failure": job.failure}
    found = {
        name: table.model_dump(by_alias=True, exclude_unset=True, exclude_none=True, mode="json")
        for name, table in kept.items()
        if table is not None
    }
    if "inspection" in found:
        found["inspection"].pop("union", None)  # speaks of limbs by id; those on the part still standing are not here
    if "failure" in found:
        found["failure"].pop("limb", None)
    return found


def _missing_top(job: Job, failure: Failure) -> str | None:
    """A sentence where the stations carried over end well below the top of the tree."""
    if failure.kind not in ("roots", "stem") or job.standing is None or not job.tree.stem:
        return None
    last, top = job.tree.stem[-1].at, job.standing.height
    if last.likely >= 0.9 * top.likely:
        return None
    return (
        f'The stations end at "{last}" of a tree "{top}" tall: measure the stem on to its tip, or it weighs too little.'
    )


def _asks(job: Job, failure: Failure, tree: dict[str, Any]) -> Iterator[Ask]:
    """What has to be measured on the tree as it lies, what no answer comes without first."""
    if len(tree.get("stem", ())) < 2:
        yield Ask("tree.stem", "Measure the stem anew: a diameter at the butt and at the far end at least.", True)
    elif (short := _missing_top(job, failure)) is not None:
        yield Ask("tree.stem", short, True)
    yield Ask("tree.stem[*].height", "Measure the height of the stem's underside at two stations or more.", True)
    yield Ask("support", "Write a [[support]] for every place the tree rests on.", True)
    if failure.kind == "roots" and "root_plate" not in tree:
        yield Ask("tree.root_plate", "Measure the root plate: across, thickness, soil in it.", True)
    if failure.kind != "roots":
        sentence = 'Look at the break: fibre still joins it (hinge, with its share), or write attached = "free".'
        yield Ask("tree.attached", sentence, True)
    if failure.fell_towards is None:
        yield Ask("tree.bearing", "Take the compass direction from butt to tip as it lies.", False)
    yield Ask(
        "tree.limb", "Look which limbs broke off or were driven in, and whether it rolled: turn the clocks.", False
    )
    if tree.get("decay"):
        sentence = "Decay is carried over from tests of the standing tree: measure it again where the wood is open."
        yield Ask("tree.decay", sentence, False)
    yield Ask(
        "job.utilities", "Ask the utilities anew: every line is unknown until its owner has said it is off.", False
    )
    yield Ask("job.people_out", "Make sure everyone is out, and write it down.", False)
    for target in job.target:
        yield Ask("building", f"Was {target.what} hit? Write it as a [[building]] or under [[protect]].", False)
