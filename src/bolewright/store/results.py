"""Results in full as JSON that reads back as the same results. No database here: a worker writes them too."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from functools import cache, lru_cache

from pydantic import TypeAdapter

import bolewright
from bolewright.planning.results import CutsResult, HoldResult, Plan, WeighResult
from bolewright.planning.shapes import Scene


@dataclass(frozen=True)
class Worked:
    """Everything papers and pages place, worked out from one document."""

    weigh: WeighResult
    hold: HoldResult
    cuts: CutsResult
    scene: Scene

    def plan(self, title: str = "") -> Plan:
        """The plan of this title; the chosen one when there is none of that title."""
        plans = (self.cuts.chosen, *self.cuts.alternatives)
        return next((p for p in plans if p.title == title), self.cuts.chosen)


@cache
def _adapter() -> TypeAdapter[Worked]:
    return TypeAdapter(Worked)


def written(worked: Worked) -> str:
    """The results as JSON; what has no bound is written Infinity."""
    return json.dumps(_adapter().dump_python(worked), ensure_ascii=False)


@lru_cache(maxsize=8)
def read(text: str) -> Worked:
    """The results in a kept answer."""
    return _adapter().validate_python(json.loads(text))


def fingerprint(document: str) -> str:
    """What tells one document from another."""
    return hashlib.sha256(document.encode("utf-8")).hexdigest()


def engine() -> str:
    """Which mathematics answered."""
    return f"bolewright {bolewright.__version__}"
