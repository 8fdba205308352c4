"""The pages of a job in the order of the day."""

from __future__ import annotations

from dataclasses import dataclass

from django.urls import reverse


@dataclass(frozen=True)
class Stage:
    """One page: its address name and the word on it."""

    name: str
    word: str


STAGES = (
    Stage("call", "Call"),
    Stage("photos", "Photos"),
    Stage("measure", "Measure"),
    Stage("holding", "Holding"),
    Stage("cuts", "Cuts"),
    Stage("work", "Work"),
    Stage("out", "Out"),
    Stage("papers", "Papers"),
)


STANDING = (
    Stage("call", "Call"),
    Stage("size", "Measure"),
    Stage("seen", "Look"),
    Stage("tests", "Test"),
    Stage("wind", "Wind"),
    Stage("judge", "Judge"),
    Stage("photos", "Photos"),
    Stage("papers", "Papers"),
)
FAILED = Stage("lookback", "Look back")


def stages(key: str, here: str, standing: bool = False, failed: bool = False) -> list[dict[str, object]]:
    """Links to every page of a job, of one lying or one standing; the one we are on marked."""
    pages = (*(STANDING if standing else STAGES), *((FAILED,) if failed else ()))
    return [{"word": s.word, "url": reverse(s.name, args=[key]), "here": s.name == here, "n": n + 1}
            for n, s in enumerate(pages)]  # fmt: skip
