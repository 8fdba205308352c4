"""A plan for an 18-piece tree with 512 samples: seconds, and the most memory the process ever held.

Each run is a process of its own, so that the memory is that of one plan and nothing else; the start of Python and of
the libraries counts in the memory and not in the seconds. Products of matrices run in one thread, as every door of the
product has it; large runs of solves take two threads of their own.

    python -m benchmarks.plan
"""

from __future__ import annotations

import json
import os
import resource
import subprocess
import sys
import time
from typing import Any

from benchmarks.rig import Row, show

PIECES, SAMPLES, RUNS = 18, 512, 3


def job_tables() -> dict[str, Any]:
    """An invented maple of 17 m across a house: nine stem pieces and nine limbs, with a lowering line to work from."""
    limbs = [
        {
            "id": f"L{i}",
            "at": f"{at} m",
            "clock": clock,
            "angle": "60 deg",
            "length": f"{length} m",
            "diameter": f"{diameter} cm",
            "foliage": "leaf",
        }
        for i, (at, clock, length, diameter) in enumerate(
            (
                (4.1, 4.4, 3.2, 18), (4.6, 7.6, 3.0, 18), (7.0, 2, 3.0, 14), (7.3, 10, 3.0, 14), (9.2, 3, 2.6, 12),
                (9.6, 9, 2.6, 12), (11.6, 1, 2.4, 10), (13.2, 11, 2.2, 9), (13.6, 4, 2.0, 8),
            ),
            start=1,
        )
    ]  # fmt: skip
    supports = [
        {"id": "butt", "at": "0.5 m", "on": "ground", "width": "30 cm"},
        {"id": "crib", "at": "3.2 m", "on": "crib", "width": "30 cm"},
        {"id": "L1 down", "member": "L1", "at": "3 m", "on": "ground"},
        {"id": "L2 down", "member": "L2", "at": "2.8 m", "on": "ground"},
        {"id": "wall", "at": "8.4 m", "on": "wall"},
        {"id": "roof", "at": "12.2 m", "on": "roof"},
    ]
    return {
        "schema": 1,
        "job": {"title": "Eighteen pieces"},
        "tree": {
            "species": "red maple",
            "attached": "free",
            "stem": [
                {"at": "0 m", "diameter": "48 cm", "height": "0.4 m"},
                {"at": "17 m", "diameter": "12 cm", "height": "4.2 m"},
            ],
            "limb": limbs,
        },
        "support": supports,
        "building": [{"id": "house", "near": "8 m", "far": "20 m", "left": "6 m", "right": "6 m", "eave": "2.1 m"}],
        "cut": [{"at": f"{at} m"} for at in (2.0, 3.6, 5.6, 6.4, 8.0, 10.4, 12.6, 14.6)],
        "handling": {"line": "450 kg", "drop": "500 kg", "roll": "700 kg"},
        "limits": {"samples": SAMPLES, "movement": "15 cm", "floor": "15 %"},
    }


def plan_once() -> dict[str, float | str]:
    """One plan, measured from inside."""
    from bolewright.job.read import from_tables
    from bolewright.planning import cuts
    from bolewright.planning.holding.body import body_of

    job = from_tables(job_tables())
    start = time.perf_counter()
    result = cuts(job)
    took = time.perf_counter() - start
    return {
        "seconds": took,
        "megabytes": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0,  # kilobytes on Linux
        "pieces": len(body_of(job).pieces),
        "samples": result.samples,
        "states": result.states_seen,
        "status": result.status,
        "steps": len(result.chosen.steps),
    }


def rows() -> list[Row]:
    """The measured table, the quickest of a few runs."""
    command, environment = (
        [sys.executable, "-m", "benchmarks.plan", "once"],
        {**os.environ, "OPENBLAS_NUM_THREADS": "1"},
    )
    runs = [
        json.loads(subprocess.run(command, env=environment, capture_output=True, check=True).stdout)
        for _ in range(RUNS)
    ]
    best = min(runs, key=lambda r: r["seconds"])
    assert best["pieces"] == PIECES, best
    assert best["samples"] == SAMPLES, best
    return [
        Row(
            f"plan of {PIECES} pieces with {SAMPLES} samples ({best['status']}, {best['steps']} steps)",
            5.0,
            best["seconds"],
            "s",
            "less",
        ),
        Row("most memory held", 500.0, max(r["megabytes"] for r in runs), "MB", "less"),
        Row("states seen", None, best["states"], "", "less"),
    ]


if __name__ == "__main__":
    if sys.argv[1:] == ["once"]:
        print(json.dumps(plan_once()))
    else:
        show("Plan", rows())
