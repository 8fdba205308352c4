"""What every benchmark shares: the clock, the machine in one line, and rows of target and measured value."""

from __future__ import annotations

import os
import platform
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Row:
    """One line of the table. better: "more" when the measured value should be at least the target, else "less"."""

    what: str
    target: float | None
    measured: float
    unit: str
    better: str = "more"

    @property
    def met(self) -> str:
        if self.target is None:
            return "for comparison"
        good = self.measured >= self.target if self.better == "more" else self.measured <= self.target
        return "met" if good else "NOT MET"


def best_of(times: int, work: Callable[[], object]) -> float:
    """Shortest of several runs [s], after one that does not count: what the machine can do when left alone."""
    work()
    return min(seconds(work) for _ in range(times))


def seconds(work: Callable[[], object]) -> float:
    """One run [s]."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def machine() -> str:
    """Processor, cores this process may use, how busy it is, and the Python."""
    name = platform.processor() or platform.machine()
    info = Path("/proc/cpuinfo")
    if info.exists():
        names = [
            line.split(":", 1)[1].strip() for line in info.read_text().splitlines() if line.startswith("model name")
        ]
        name = names[0] if names else name
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count()
    busy = f", load {os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else ""
    return f"{name}, {cores} cores{busy}, {platform.system()}, Python {platform.python_version()}"


def show(title: str, rows: list[Row]) -> None:
    """The table as Markdown, ready for the page of last measured values."""
    print(f"\n{title}\n{machine()}\n")
    print("| what | target | measured | |\n|---|---|---|---|")
    for row in rows:
        sign = "≥" if row.better == "more" else "≤"
        target = "" if row.target is None else f"{sign} {row.target:,.4g} {row.unit}"
        print(f"| {row.what} | {target} | {row.measured:,.4g} {row.unit} | {row.met} |")
