"""The example jobs shipped with the package."""

from __future__ import annotations

from pathlib import Path

PACKAGE = Path(__file__).resolve().parent.parent
PLACES = (PACKAGE / "examples", PACKAGE.parent.parent / "examples")  # installed; in a checkout


def examples() -> dict[str, Path]:
    """Name and file of every shipped example job, in the order of their names."""
    folder = next((place for place in PLACES if place.is_dir() and any(place.glob("*.toml"))), None)
    return {path.stem: path for path in sorted(folder.glob("*.toml"))} if folder else {}
