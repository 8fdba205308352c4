"""What is wrong with a job: each fault with the path of the value and one plain sentence; all of them together."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Fault:
    """One fault. `path` names the value (`tree.limb["L3"].angle`); it is empty when the whole file is at fault."""

    path: str
    sentence: str

    def __post_init__(self) -> None:
        object.__setattr__(self, "path", printable(self.path))
        object.__setattr__(self, "sentence", printable(self.sentence))

    def __str__(self) -> str:
        return f"{self.path}: {self.sentence}" if self.path else self.sentence


class JobFaults(Exception):
    """A job that cannot be used, with every fault found in it."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults: tuple[Fault, ...] = tuple(dict.fromkeys(faults))
        super().__init__("\n".join(str(fault) for fault in self.faults))


def printable(text: str) -> str:
    """The text with what could upset a terminal or a file put as "?"."""
    return "".join(c if c.isprintable() else "?" for c in text)


def shown(value: object) -> str:
    """A value as it may be quoted in a sentence: short, text in quotes."""
    if isinstance(value, str):
        return f'"{value[:40]}{"..." if len(value) > 40 else ""}"'
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float) and -1e15 < value < 1e15:
        return repr(value)
    return "this"


def entry(table: str, index: int, ids: Sequence[Any]) -> str:
    """The path of one table in a list: by its id where that is its alone, else by its number, counted from 0."""
    name = ids[index]
    if isinstance(name, str) and 0 < len(name) <= 40 and ids.count(name) == 1:
        return f'{table}["{name}"]'
    return f"{table}[{index}]"


def ordinal(index: int) -> str:
    """The place in a list in words, counted from 0: "1st", "2nd"."""
    n = index + 1
    ending = "th" if 10 <= n % 100 <= 20 else {1: "st", 2: "nd", 3: "rd"}.get(n % 10, "th")
    return f"{n}{ending}"
