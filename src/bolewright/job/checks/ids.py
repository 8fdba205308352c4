"""Names used twice, and names that mean something else."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from bolewright.job.checks.members import fault_in
from bolewright.job.faults import Fault, shown
from bolewright.job.model import STEM, Job

_STEM_PIECE = re.compile(r"[Ss][0-9]+")


def id_faults(job: Job) -> Iterator[Fault]:
    """Ids that are not alone among their kind: limbs; supports, lines and props; buildings and protected things."""
    limbs = (job.tree.limb if job.tree else ()) or ()
    yield from _twice([("tree.limb", limbs)])
    yield from _twice([("support", job.support or ()), ("line", job.line or ()), ("prop", job.prop or ())])
    yield from _twice([("building", job.building or ()), ("protect", job.protect or ())])
    ids = [limb.id for limb in limbs]
    for n, name in enumerate(ids):
        if name is not None and (name.lower() == STEM or _STEM_PIECE.fullmatch(name)):
            sentence = f"A limb cannot be called {shown(name)}: stem, S1, S2 ... name the stem and its pieces."
            yield fault_in("tree.limb", n, ids, "id", sentence)


def _twice(groups: list[tuple[str, tuple[Any, ...]]]) -> Iterator[Fault]:
    seen: set[str] = set()
    for table, items in groups:
        ids = [item.id for item in items]
        for n, name in enumerate(ids):
            if name is not None and name in seen:
                yield fault_in(table, n, ids, "id", f"The id {shown(name)} is used twice: give each its own.")
            if name is not None:
                seen.add(name)
