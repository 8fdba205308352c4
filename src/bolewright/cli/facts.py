"""What the commands need to know of a job besides its answer: its title, its units, the hazards of its site."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Literal

from bolewright.cli.options import UnitSystem

if TYPE_CHECKING:
    from bolewright.job.model import Job

METRIC = re.compile(r"[0-9.]\s*(mm|cm|m)\b")
UTILITIES = {"power": "power", "telephone": "power", "gas": "gas", "water": "water"}


def title_of(job: Job) -> str:
    """The job's title."""
    return job.job.title


def units_of(job: Job, asked: UnitSystem | None) -> Literal["us", "metric"]:
    """The units asked for; else those the stem was measured in."""
    if asked is not None:
        return "metric" if asked is UnitSystem.METRIC else "us"
    return "metric" if any(METRIC.search(str(station.diameter)) for station in job.tree.stem) else "us"


def hazards_of(job: Job) -> tuple[str, ...]:
    """The places of the cautions this site calls for, most deadly first."""
    off = {u.kind for u in job.job.utilities if u.state == "off"}
    near = [UTILITIES[u.kind] for u in job.job.utilities if u.kind in UTILITIES and u.kind not in off]
    found = sorted(set(near), key=("power", "gas", "water").index)
    found += [] if job.job.people_out else ["people"]
    found += ["root plate"] if job.tree.attached == "root plate" else []
    found += ["stored energy"] if job.tree.attached == "hinge" else []
    found += ["roof"] if any(support.on == "roof" for support in job.support) else []
    found += ["building"] if job.building else []
    return tuple(found)
