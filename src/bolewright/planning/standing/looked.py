"""What was looked for, tested and found after a failure: frozen results of `stand`, as written or read off.

Units and directions as in `results`.
"""

from __future__ import annotations

from dataclasses import dataclass

from bolewright.core.base.range import Range


@dataclass(frozen=True)
class TraceRun:
    """A run of steady resistance along a trace."""

    start_m: float
    end_m: float
    mean: float
    sound: bool


@dataclass(frozen=True)
class TraceRead:
    """A drilling-resistance trace as read; resistance in its own unit."""

    points: tuple[tuple[float, float], ...]  # depth from the bark [m], resistance
    runs: tuple[TraceRun, ...]
    reference: float  # mean of the sound outer wood
    falls: Range  # share of it below which a run is decayed: the likely one and those tried for the range
    shell_m: Range
    met_decay: bool
    drilled_m: float


@dataclass(frozen=True)
class ReadTest:
    """A test and what was read from it."""

    id: str
    kind: str
    height_m: float | None
    side_deg: float | None
    words: str
    shell_m: Range | None
    photo: tuple[str, ...]
    trace: TraceRead | None = None  # of a drilling with a trace


@dataclass(frozen=True)
class Looked:
    """What was looked for in one group."""

    group: str
    seen: tuple[str, ...]
    not_seen: tuple[str, ...]
    could_not_see: tuple[str, ...]
    not_recorded: tuple[str, ...]  # offered, and not written down either way


@dataclass(frozen=True)
class WouldHaveShown:
    """What drill holes at the break, made before, would have shown."""

    sides_deg: tuple[float, ...]
    depths_m: tuple[float, ...]
    loss: float
    thinnest_share: float
    over_shell_rule: bool
    over_loss_rule: bool


@dataclass(frozen=True)
class Exhibited:
    """One piece of evidence, as written."""

    what: str
    kind: str
    kept: str
    note: str
    photo: tuple[str, ...]


@dataclass(frozen=True)
class LookBack:
    """After a failure: measurement and opinion kept apart."""

    kind: str
    height_m: float | None
    needed_m_s: Range  # gust that the measured section or roots needed
    needed_sound_m_s: Range  # the same if sound
    limb: str  # id of the limb that gave way; "" where none was named
    roots_lost: float | None  # share of the root section that was rotten or cut before, as measured root by root
    recorded_m_s: float | None
    answer: str
    loss_of_strength: float | None
    would_have_shown: tuple[WouldHaveShown, ...]
    words: str
    station: str
    evidence: tuple[str, ...]
    opinion: str
    exhibits: tuple[Exhibited, ...] = ()
    photo: tuple[str, ...] = ()  # of the break
