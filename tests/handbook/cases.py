"""Published cases read from a table, and what may be asked of each by how well it stands.

CONFIRMED, EQ-CONFIRMED and DERIVED rows fail a test; REGRESSION rows warn; rows recalled from memory (MEMORY) are
held to a factor of two only, so that a slip of a unit is found and nothing more is claimed.
"""

from __future__ import annotations

import csv
import json
import warnings
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

DATA = Path(__file__).parent / "data"
BINDING = ("CONFIRMED", "EQ-CONFIRMED", "DERIVED")
Model = Callable[[dict[str, Any], str], float]


@dataclass(frozen=True)
class Case:
    """One published number: what to work out from what, and what is printed."""

    id: str
    model: str
    inputs: dict[str, Any]
    quantity: str
    expected: float
    units: str
    rel_tol: float
    status: str
    source: str

    def __str__(self) -> str:
        return f"{self.id}-{self.quantity}"


def cases(table: str) -> list[Case]:
    """Every row of a table in tests/handbook/data."""
    with (DATA / table).open(encoding="utf-8", newline="") as opened:
        return [
            Case(
                row["case_id"], row["model"], json.loads(row["inputs_json"]), row["quantity"], float(row["expected"]),
                row["units"], float(row["rel_tol"]), row["status"], row["source"],
            )
            for row in csv.DictReader(opened)
        ]  # fmt: skip


def of_models(table: str, models: Iterable[str]) -> list[Case]:
    """The rows of a table whose model is among these."""
    wanted = set(models)
    return [case for case in cases(table) if case.model in wanted]


def judge(case: Case, models: Mapping[str, Model], absolute: float = 1e-9) -> None:
    """Work the case out and hold it to what its status allows."""
    got = models[case.model](case.inputs, case.quantity)
    off = abs(got - case.expected)
    near = off <= max(case.rel_tol * abs(case.expected), absolute)
    said = f"{case.id} {case.quantity}: {got} worked out, {case.expected} {case.units} in {case.source}"
    if case.status in BINDING:
        assert near, said
    elif case.status == "REGRESSION":
        if not near:
            warnings.warn(said, stacklevel=2)
    else:
        assert case.status == "MEMORY", case.status
        assert case.expected / 2.0 <= got <= case.expected * 2.0, said
