"""The invented jobs, drawn once for all tests of the drawings."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent / "fixtures"))

from invented_jobs import JOBS, Job, bind

from bolewright.drawings import elevation, load_chart, plan_view, section_view, step_strips


@pytest.fixture(scope="session")
def jobs() -> dict[str, Job]:
    """The three invented jobs."""
    return {name: make() for name, make in JOBS.items()}


@pytest.fixture(scope="session")
def sheets(jobs: dict[str, Job]) -> dict[str, str]:
    """Every kind of drawing of every job, by name."""
    drawn: dict[str, str] = {}
    for name, job in jobs.items():
        drawn[f"{name} hold"] = elevation(job.scene, job.hold)
        drawn[f"{name} bare"] = elevation(job.scene, units="metric")
        drawn[f"{name} plan"] = elevation(job.scene, job.hold, job.plan, units="metric")
        drawn[f"{name} night"] = elevation(job.scene, job.hold, job.plan, night=True)
        drawn[f"{name} above"] = plan_view(job.scene, job.plan, hold=job.hold)
        drawn[f"{name} above step 3"] = plan_view(job.scene, job.plan, 3, units="metric")
        drawn[f"{name} chart"] = load_chart(job.plan)
        for n, strip in enumerate(step_strips(job.scene, job.plan, job.hold), 1):
            drawn[f"{name} strip {n}"] = strip
    shell = [(12.0, 0.12), (3.0, 0.08), (6.0, 0.16), (9.0, 0.2)]
    drawn["section"] = section_view(0.66, shell, bind(), title="Cut 9: stem 3 at 28 ft")
    drawn["section side"] = section_view(0.3, (), bind(4.5, "side bind", 4.5, 10.5), units="metric", night=True)
    return drawn
