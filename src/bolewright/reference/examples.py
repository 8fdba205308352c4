"""The example jobs shipped with the package."""

from __future__ import annotations

from pathlib import Path

PACKAGE = Path(__file__).resolve().parent.parent
PLACES = (PACKAGE / "examples", PACKAGE.parent.parent / "examples")  # installed; in a checkout


def examples() -> dict[str, Path]:
    """Name and file of every shipped example of a tree down, in the order of their names."""
    return _in("")


def standing_examples() -> dict[str, Path]:
    """Name and file of every shipped example of a standing tree, in the order of their names."""
    return _in("standing")


def _in(below: str) -> dict[str, Path]:
    folder = next((place / below for place in PLACES if any((place / below).glob("*.toml"))), None)
    return {path.stem: path for path in sorted(folder.glob("*.toml"))} if folder else {}
