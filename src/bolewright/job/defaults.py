"""Values the document itself fills in when they are left out, and why those."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bolewright.job.model import Job
from bolewright.job.quantity import Quantity

COMMON_PRACTICE = "common practice"


@dataclass(frozen=True)
class Filled:
    """A value that was not given: where, what stands instead, why, and how far it can be relied on."""

    path: str
    value: Quantity | str
    why: str
    status: str


_WHY = {
    "handling.hand": "what two people carry in one go",
    "handling.drop": "a log that a prepared bed of brush takes",
    "handling.drop_height": "a fall from a single-storey roof edge",
    "handling.roll": "what two people with bars keep in hand",
    "handling.line": "a light lowering line with one turn-off point",
    "limits.share": "nine samples in ten, the tenth is watched for on site",
    "limits.floor": "below this share of the weight a rise is lost in what was measured",
    "limits.movement": "what roof and props follow without being hit",
}


def filled_in(job: Job) -> tuple[Filled, ...]:
    """Every value the document filled in by itself. None of these has a published source."""
    return (*_from_tables(job), *_from_limbs(job))


def _from_tables(job: Job) -> Iterator[Filled]:
    for path, why in _WHY.items():
        table, field = path.split(".")
        holder = getattr(job, table)
        if field not in holder.model_fields_set:
            yield Filled(path, getattr(holder, field), why, COMMON_PRACTICE)


def _from_limbs(job: Job) -> Iterator[Filled]:
    bare = [limb.id for limb in job.tree.limb if "foliage" not in limb.model_fields_set]
    if bare:
        yield Filled(
            "tree.limb[*].foliage", "bare", f"nothing was said about leaves on {listed(bare)}", COMMON_PRACTICE
        )
    for n, building in enumerate(job.building):
        if building.ridge is not None and "ridge_runs" not in building.model_fields_set:
            why = f"the direction of the ridge of {building.id} was not given"
            yield Filled(f"building[{n}].ridge_runs", building.ridge_runs, why, COMMON_PRACTICE)


def listed(names: list[str], most: int = 8) -> str:
    """Names in a row, cut off after a few."""
    return ", ".join(names[:most]) + (f" and {len(names) - most} more" if len(names) > most else "")
