"""The version of a job document, and the steps that lift an older one to the newest."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from bolewright.job.faults import Fault, JobFaults, shown

NEWEST = 1

Step = Callable[[dict[str, Any]], dict[str, Any]]
STEPS: dict[int, Step] = {}  # from that version to the next; none yet, version 1 is the first


def migrate(raw: dict[str, Any], steps: dict[int, Step] | None = None, newest: int = NEWEST) -> dict[str, Any]:
    """The document in the newest version. A version that is missing or no number is left for the models to refuse.

    Raises JobFaults for a version newer than this program knows, or older than it can lift.
    """
    version = raw.get("schema")
    if isinstance(version, bool) or not isinstance(version, int):
        return raw
    if version > newest:
        raise JobFaults([Fault("schema", f"This job is written in schema {shown(version)}, this program reads schema "
                                         f"{newest}: bring the program up to date.")])  # fmt: skip
    chain = STEPS if steps is None else steps
    while version < newest:
        if version not in chain:
            raise JobFaults([Fault("schema", f"There is no schema {shown(version)}: write schema = {newest}.")])
        raw = {**chain[version](raw), "schema": version + 1}
        version += 1
    return raw
