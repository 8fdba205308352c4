"""From the plan in use with its ticks and readings to the same job as it stands now."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from bolewright.job.model import STEM, Done
from bolewright.job.quantity import BadQuantity, Dimension, quantity
from bolewright.job.shape import choices, slots
from bolewright.planning.results import CutStep, PieceWeight, Plan, WeighResult
from bolewright.store.edits import Edit
from bolewright.store.models import Answer, LogEntry

FEELS = ("loose", "snug", "hard")
# What can be seen, how it is called on the sheet, and which field of a reading it fills.
SEEN = (
    ("feel", "How hard it bears: loose, snug or hard", "feel", None),
    ("gauge", "Jack, line or crane reading", "force", Dimension.FORCE),
    ("settled", "Sank since the mark", "settled", Dimension.LENGTH),
    ("rose", "Rose since the mark", "settled", Dimension.LENGTH),
    ("weighed", "Weighed piece", "mass", Dimension.MASS),
    ("other", "Anything else", "", None),
)
HOW = {str(word) for word in choices(slots(Done)["how"].hint)}
EXAMPLES = {"feel": '"snug"', "force": '"1,200 lb"', "settled": '"3/8 in"', "mass": '"310 lb"'}


@dataclass(frozen=True)
class Told:
    """One observation: when it counts (steps done by then), and the reading it makes; `why_not` when it makes none."""

    entry: LogEntry
    after: int
    reading: dict[str, Any] | None
    why_not: str


@dataclass(frozen=True)
class Onward:
    """What is done and read since the plan in use was worked out. done, readings: rows for the job document."""

    done: tuple[dict[str, Any], ...]
    told: tuple[Told, ...]

    @property
    def readings(self) -> list[dict[str, Any]]:
        """The rows that count."""
        return [t.reading for t in self.told if t.reading is not None]

    @property
    def anything(self) -> bool:
        """Whether the plan would be another from here."""
        return bool(self.done or self.readings)


def reading_of(
    kind: str, on: str, value: str, places: tuple[str, ...], pieces: tuple[str, ...]
) -> dict[str, Any] | str:
    """A row of readings, or the sentence that says why this counts as a remark only."""
    field, dimension = next(((f, d) for name, _, f, d in SEEN if name == kind), ("", None))
    if not field:
        return "kept as a remark"
    there = pieces if field == "mass" else places
    if on not in there:
        return f"kept as a remark: say where, one of {', '.join(there)}"
    text = value.strip()
    if dimension is None and text.lower() not in FEELS:
        return "kept as a remark: a feel is loose, snug or hard"
    if dimension is not None:
        try:
            known = quantity(text, dimension)
        except BadQuantity:
            return f"kept as a remark: write the number with its unit, such as {EXAMPLES[field]}"
        if known.low <= 0.0:
            return "kept as a remark: it has to be more than nothing"
    row: dict[str, Any] = {"on": on, field: text if dimension is not None else text.lower()}
    return {**row, "rose": True} if kind == "rose" else row


def onward(answer: Answer, plan: Plan, weighed: WeighResult, places: tuple[str, ...], before: int) -> Onward:
    """What is done and read under this answer. before: steps that the worked document lists as done already."""
    steps = {step.n: step for step in plan.steps}
    props = tuple(p.id for p in plan.places)
    pieces = tuple(p.id for p in weighed.pieces)
    done: dict[int, CutStep] = {}
    told = []
    log = answer.log.filter(kind__in=("ticked", "unticked", "observed"))
    for entry in sorted(log, key=lambda e: (getattr(e, "made_at", None) or e.at, e.pk)):
        if entry.kind == "ticked" and entry.step in steps:
            done[entry.step] = steps[entry.step]
        elif entry.kind == "unticked" and entry.step is not None:
            done.pop(entry.step, None)
        elif entry.kind == "observed":
            told.append(_told(entry, before + len(done), (*places, *props), pieces))
    rows = tuple(row for n in sorted(done) for row in _done(done[n], plan, weighed))
    return Onward(rows, tuple(told))


def _told(entry: LogEntry, after: int, places: tuple[str, ...], pieces: tuple[str, ...]) -> Told:
    label, _, value = entry.said.partition(": ")
    kind = next((name for name, words, _, _ in SEEN if words == label), "other")
    row = reading_of(kind, entry.about, value, places, pieces)
    if isinstance(row, str):
        return Told(entry, after, None, row)
    return Told(entry, after, {**row, "after": after, "said": entry.said}, "")


def _done(step: CutStep, plan: Plan, weighed: WeighResult) -> Iterator[dict[str, Any]]:
    """The row of a step that is done; none for bringing down what is left, after which nothing is."""
    at = f"{step.at_m:.4f} m"
    if step.action == "place":
        place = next(p for p in plan.places if p.id == step.piece)
        row = {"what": "prop", "id": place.id, "at": at, "limit": f"{place.capacity_N:.0f} N"}
        yield {**row, "jacked": f"{place.jacked_N:.0f} N"} if place.jacked_N > 0.0 else row
    elif step.action == "cut":
        beyond = _beyond(step, weighed)
        off = "tip side" if beyond.id in step.takes else "butt side"
        row = {"what": "cut", "member": step.member, "at": at, "off": off}
        yield {**row, "how": step.method} if step.method in HOW else row


def _beyond(step: CutStep, weighed: WeighResult) -> PieceWeight:
    """The piece that begins at the cut."""
    own = [p for p in weighed.pieces if p.member == step.member and not (p.member == STEM and p.start_m == 0.0)]
    return min(own, key=lambda p: abs(p.start_m - step.at_m))


def edits_of(found: Onward, weighed: WeighResult, document: dict[str, Any]) -> list[Edit]:
    """The changes of the document: the steps, the readings, and the cuts the plan was made of, so that pieces stay."""
    done = [*document.get("done", ()), *found.done]
    readings = [*document.get("reading", ()), *found.readings]
    given = {row.get("member", STEM) for row in document.get("cut", ())}
    first = {p.member: p.id for p in reversed(weighed.pieces)}  # the piece at the base of each member is no cut
    cuts = [
        {"member": p.member, "at": f"{p.start_m:.4f} m"}
        for p in weighed.pieces
        if p.member not in given and first[p.member] != p.id
    ]
    edits = [Edit(("done",), done), Edit(("reading",), readings)]
    return [*edits, Edit(("cut",), [*document.get("cut", ()), *cuts])] if cuts else edits
