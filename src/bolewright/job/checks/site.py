"""Buildings and things to protect: sides the right way round, roof above its eave."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from bolewright.job.checks.members import SLACK, fault_in
from bolewright.job.faults import Fault
from bolewright.job.model import Job


def site_faults(job: Job) -> Iterator[Fault]:
    """Every fault of the place."""
    for table, items in (("building", job.building), ("protect", job.protect)):
        ids = [item.id for item in items or ()]
        for n, item in enumerate(items or ()):
            for field, sentence in (*_sides(item), *(_roof(item) if table == "building" else ())):
                yield fault_in(table, n, ids, field, sentence)


def _sides(item: Any) -> Iterator[tuple[str, str]]:
    """Near before far, and left and right with something between them."""
    if item.near is not None and item.far is not None and item.near.likely >= item.far.likely - SLACK:
        yield "far", f'The far side ("{item.far}") has to be farther from the butt than the near side ("{item.near}").'
    if item.left is not None and item.right is not None and item.left.likely + item.right.likely <= SLACK:
        sides = f'left = "{item.left}" and right = "{item.right}"'
        yield (
            "right",
            (
                f"There is nothing between {sides}: both are counted from the butt line to their own side, "
                "with a minus when the edge lies on the other side."
            ),
        )


def _roof(building: Any) -> Iterator[tuple[str, str]]:
    if (
        building.ridge is not None
        and building.eave is not None
        and building.ridge.likely < building.eave.likely - SLACK
    ):
        yield "ridge", f'The ridge ("{building.ridge}") is lower than the eave ("{building.eave}"): change them round.'
    sides = (building.near, building.far, building.left, building.right)
    if building.overhang is None or any(side is None for side in sides):
        return
    narrow = min(building.far.likely - building.near.likely, building.left.likely + building.right.likely)
    if narrow > SLACK and 2 * building.overhang.likely >= narrow - SLACK:
        yield "overhang", f'Eaves that stand out "{building.overhang}" on both sides leave no walls between them.'
