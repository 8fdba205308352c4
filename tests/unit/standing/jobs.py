"""A standing tree as a job, to be changed by the tests."""

from __future__ import annotations

import copy
from typing import Any

from bolewright.job.model import Job
from bolewright.job.read import from_tables

PLAIN: dict[str, Any] = {
    "schema": 1,
    "job": {"title": "Oak by the path"},
    "tree": {"species": "northern red oak", "attached": "standing", "dbh": "60 cm"},
    "standing": {
        "height": "18 m",
        "crown_width": "10 m",
        "crown_base": "5 m",
        "terrain": "open",
        "design_gust": "30 m/s",
    },
    "limits": {"samples": 128},
}


def job(**changes: Any) -> Job:
    """The plain tree with tables changed or added; a table given is laid over the plain one."""
    raw = copy.deepcopy(PLAIN)
    for key, value in changes.items():
        raw[key] = {**raw.get(key, {}), **value} if isinstance(value, dict) else value
    return from_tables(raw)


def drilled(height: str, shells: dict[str, str], **more: Any) -> dict[str, Any]:
    """A drilling test at one height."""
    return {"kind": "drilling", "height": height, "shells": shells, **more}
