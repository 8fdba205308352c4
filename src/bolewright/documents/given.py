"""Everything a paper may be made from. What is None was not worked out or not kept; papers say so and go on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

from bolewright.drawings.photo_marks import PhotoMark
from bolewright.drawings.units import Units
from bolewright.job.model import Job
from bolewright.planning.answers import Answers
from bolewright.planning.haul.price import Price
from bolewright.planning.results import Plan


@dataclass(frozen=True)
class PhotoRow:
    """One photograph with what is known about it; `thumb` is a small JPEG, None without one."""

    number: int
    name: str
    sha256: str
    size: int  # bytes of the original
    shows: str = ""
    stage: str = ""
    taken: str = ""
    received: str = ""
    by: str = ""
    facing: str = ""
    place: str = ""
    untouched: bool | None = None  # whether the original still has its hash; None when not looked at
    thumb: bytes | None = None
    thumb_size: tuple[int, int] = (400, 300)  # pixels
    drawn: tuple[PhotoMark, ...] = ()  # what somebody drew on a copy
    link: str = ""  # where it can be looked at, "" on paper alone
    original: Path | None = None  # where the file is, None when it is not here


@dataclass(frozen=True)
class ViewRow:
    """A view that is asked for: filled, waived with a reason, or missing."""

    stage: str
    words: str
    state: str
    reason: str = ""


@dataclass(frozen=True)
class LogRow:
    """A line of the day's log as kept by the field sheet."""

    at: str
    kind: str
    said: str
    by: str = ""


@dataclass(frozen=True)
class Signature:
    """A signature as given on the screen. `strokes` is the path of an SVG 600 wide and 200 high, "" when typed."""

    by: str
    role: str
    statement: str
    when: str
    where: str
    device: str
    version: int
    shown: str  # SHA-256 of the contents as shown to the signer
    strokes: str = ""


@dataclass(frozen=True)
class Before:
    """What was agreed before the work changed: the price then, and which paper says so."""

    words: str
    price: Price | None


@dataclass(frozen=True, kw_only=True)
class Given(Answers):
    """A job with whatever answers and records there are: the answers, and what is kept beside them."""

    job: Job
    units: Units = "us"
    day: date | None = None
    revision: str = ""
    photos: tuple[PhotoRow, ...] | None = None
    views: tuple[ViewRow, ...] = ()
    log: tuple[LogRow, ...] = ()
    signed: Mapping[str, Signature] = field(default_factory=dict)  # newest signature by name of paper
    before: Before | None = None

    @classmethod
    def of(cls, job: Job, found: Answers, **more: Any) -> Given:
        """A job with its answers, and what else is kept with it."""
        return cls(**vars(found), job=job, **more)

    @property
    def plan(self) -> Plan | None:
        """The plan in use, None without an order."""
        return self.cuts.chosen if self.cuts is not None and self.cuts.status == "plan" else None
