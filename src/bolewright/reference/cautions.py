"""The cautions the product carries, each shown where its hazard is."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from bolewright.core.base.sourced import Status

PLACES = (
    "cover", "crew", "power", "gas", "water", "people", "building", "cut", "stored energy", "roll", "root plate",
    "drop zone", "overhead", "roof", "prop", "rope", "crane", "sliding", "weather", "law", "insurer", "standing",
    "caller", "hand-over",
)  # fmt: skip


@dataclass(frozen=True)
class Caution:
    """One caution in our own words, the places it belongs to, and where it comes from."""

    id: str
    text: str
    places: tuple[str, ...]
    source: str
    status: Status


@cache
def all_cautions() -> tuple[Caution, ...]:
    """Every caution, in the order they are to be read."""
    text = files("bolewright.reference").joinpath("cautions.toml").read_text(encoding="utf-8")
    return tuple(
        Caution(row["id"], row["text"], tuple(row["places"]), row["source"], Status(row["status"]))
        for row in tomllib.loads(text)["caution"]
    )


def cautions_for(*places: str) -> tuple[Caution, ...]:
    """The cautions of these places, each once, in the order asked for; an unknown place raises ValueError."""
    unknown = sorted(set(places) - set(PLACES))
    if unknown:
        raise ValueError(f"no such place for a caution: {', '.join(unknown)}")
    found = {caution.id: caution for place in places for caution in all_cautions() if place in caution.places}
    return tuple(found.values())
