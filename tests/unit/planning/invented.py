"""Invented jobs for the tests of planning: plain logs whose answers the lever gives, and random trees."""

from __future__ import annotations

import copy
from typing import Any

import numpy as np

from bolewright.job.model import Job
from bolewright.job.read import from_tables

Tables = dict[str, Any]
DENSITY, DIAMETER, LENGTH = 900.0, 0.3, 10.0
PER_METRE = DENSITY * np.pi * DIAMETER**2 / 4 * 9.80665  # N/m of the log


def log(
    supports: list[Tables], cuts: list[float] | None = None, limbs: list[Tables] | None = None, **more: Any
) -> Tables:
    """A level log of 10 m and 0.3 m, its underside a metre up, on these supports."""
    tables = {
        "schema": 1,
        "job": {"title": "Log"},
        "tree": {
            "species": "red maple",
            "density": f"{DENSITY} kg/m3",
            "attached": "free",
            "stem": [{"at": f"{x} m", "diameter": f"{DIAMETER} m", "height": "1 m"} for x in (0, LENGTH)],
            "limb": limbs or [],
        },
        "support": supports,
        "cut": [{"at": f"{x} m"} for x in cuts or []],
        "limits": {"samples": 128},
    }
    return {**tables, **copy.deepcopy(more)}


def saddle(name: str, at: float, on: str, **more: Any) -> Tables:
    """A stiff support that holds the log at two points side by side, so that it cannot roll."""
    return {"id": name, "at": f"{at} m", "on": on, "width": "0.2 m", "stiffness": "20 kN/mm", **more}


def post(name: str, at: float, on: str, **more: Any) -> Tables:
    """A stiff support under the middle of the log."""
    return {"id": name, "at": f"{at} m", "on": on, "stiffness": "20 kN/mm", **more}


def job(tables: Tables) -> Job:
    return from_tables(tables)


def random_job(seed: int) -> Tables:
    """A tree of 6 to 16 m across a house, with limbs in every direction, supports, a line, and a crew's limits."""
    rng = np.random.default_rng(seed)
    length, butt = rng.uniform(6.0, 16.0), rng.uniform(0.25, 0.8)
    height = rng.uniform(0.0, 1.0)
    limbs = [
        {
            "id": f"L{i}",
            "at": f"{rng.uniform(0.2, 0.9) * length:.2f} m",
            "clock": round(float(rng.uniform(0.1, 12.0)), 1),
            "angle": f"{rng.uniform(35, 85):.0f} deg",
            "length": f"{rng.uniform(1.5, 4.0):.2f} m",
            "diameter": f"{rng.uniform(0.2, 0.45) * butt:.3f} m",
            "foliage": str(rng.choice(["leaf", "bare"])),
        }
        for i in range(1, int(rng.integers(1, 9)))
    ]
    supports = [saddle("butt", 0.4, "ground"), saddle("wall", float(rng.uniform(0.5, 0.8) * length), "wall")]
    if limbs and rng.random() < 0.5:
        supports.append(post("limb down", 1.2, "ground", member="L1"))
    plate: Tables = {}
    if rng.random() < 0.3:
        plate = {"attached": "root plate", "root_plate": {"diameter": "2 m", "thickness": "0.5 m"}}
    return {
        "schema": 1,
        "job": {"title": "Random"},
        "tree": {
            "species": "red maple",
            "attached": "free",
            "stem": [
                {"at": "0 m", "diameter": f"{butt:.3f} m", "height": f"{height:.2f} m"},
                {"at": f"{length:.3f} m", "diameter": f"{0.3 * butt:.3f} m", "height": f"{height + 2.5:.2f} m"},
            ],
            "limb": limbs,
            **plate,
        },
        "support": supports,
        "line": [
            {
                "id": "tie",
                "at": f"{0.3 * length:.2f} m",
                "kind": "tie-back",
                "anchor": {"forward": "2 m", "right": "5 m", "height": "0 m"},
            }
        ],
        "building": [
            {
                "id": "house",
                "near": f"{0.5 * length:.2f} m",
                "far": f"{length + 4:.2f} m",
                "left": "6 m",
                "right": "6 m",
                "eave": f"{height + 1.0:.2f} m",
            }
        ],
        "handling": {
            "hand": f"{rng.uniform(20, 60):.0f} kg",
            "drop": f"{rng.uniform(20, 400):.0f} kg",
            "roll": f"{rng.uniform(20, 500):.0f} kg",
            "line": f"{rng.uniform(20, 300):.0f} kg",
        },
        "limits": {"samples": 16},
    }
