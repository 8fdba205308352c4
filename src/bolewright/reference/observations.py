"""What an inspection offers to look for, by group."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files

GROUPS = ("roots", "stem", "branches", "crown", "site", "targets", "loads")


@cache
def offered() -> dict[str, tuple[str, ...]]:
    """The things to look for in each group, in the order they are met on the tree."""
    text = files("bolewright.reference").joinpath("observations.toml").read_text(encoding="utf-8")
    read = tomllib.loads(text)
    return {group: (*read[group]["offer"], *read[group]["memory"]) for group in GROUPS}
